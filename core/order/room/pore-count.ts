/**
 * How much of what the bounds allow meets the pore rule: counted, not sampled, because the rule goes by what is
 * present and by nothing else.
 *
 * A choice meets the rule when every ingredient that stands against it is below the trace threshold (or absent). So
 * for each set of places that hold such an oil the lattice is counted again with their greatest shares cut.
 */
import type { Bound } from "../../compose/product.ts";
import type { Rules } from "../../judge/verdict.ts";
import { latticeOf } from "./lattice.ts";
import { standing } from "./referee.ts";
import type { Space } from "./space.ts";

/** More places than this with such oils and the sets are too many to count. */
const PLACES_MOST = 7;

/**
 * Part of the choices that meet the pore rule.
 * @returns 0 to 1; nothing when it cannot be counted (nothing to count, too many places, or a trace threshold that
 *   several places with one oil reach together)
 */
export function countPorePassing(space: Space, rules: Rules): number | undefined {
  const { slots, ingredients, additives, lattice, total } = space;
  if (lattice.count === 0 || space.combinations === 0) return undefined;
  const against = ingredients.map((each) => standing(each, rules) !== 0);
  const countsFrom = Math.max(1, rules.poreTraceBelowShare ?? 0);
  if (additives.some(({ ingredient, share }) => against[ingredient] && share >= countsFrom)) {
    return 0;
  }
  const isTwice = (at: number) =>
    slots.filter(({ options }) => options.includes(at)).length > 1 ||
    additives.some(({ ingredient }) => ingredient === at);
  if (countsFrom > 1 && against.some((stands, at) => stands && isTwice(at))) return undefined;
  const badPart = slots.map(
    ({ options }) => options.filter((at) => against[at]).length / options.length,
  );
  if (badPart.filter((part) => part > 0 && part < 1).length > PLACES_MOST) return undefined;
  let passing = 0;
  const walk = (at: number, weight: number, bounds: readonly Bound[]): void => {
    const slot = slots[at];
    if (!slot) {
      passing += weight * latticeOf(bounds, total).count;
      return;
    }
    const bad = badPart[at]!;
    if (bad < 1) walk(at + 1, weight * (1 - bad), [...bounds, slot]);
    const greatest = Math.min(slot.greatest, countsFrom - 1);
    if (bad > 0 && slot.least <= greatest) {
      walk(at + 1, weight * bad, [...bounds, { least: slot.least, greatest }]);
    }
  };
  walk(0, 1, []);
  return passing / lattice.count;
}
