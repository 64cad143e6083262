/**
 * A product's base and a choice, as the search sees them: slots with bounds and the ingredients that may stand in
 * them, what is wanted, and how much of an ingredient the rules let in at all.
 */
import { type Part, WHOLE } from "../../blend.ts";
import type { Base, Bound, Choice, Product } from "../../compose/product.ts";
import type { Ingredient } from "../../ingredient.ts";
import { compositionFindings } from "../../judge/composition.ts";
import { poreFindings } from "../../judge/pore-rating.ts";
import type { Rules } from "../../judge/verdict.ts";
import { weightOf } from "../../finding.ts";
import { type Aim, type Movable, sumOf } from "./aim.ts";

export interface Slot extends Bound {
  /** Ingredient of the butter, or id of the place. */
  readonly id: string;
  /** What may stand here: one butter, or the oils of the place. */
  readonly options: readonly Ingredient[];
  /** Shares that are as good as one another, where it is not the choice that is to be kept near to. */
  readonly wanted?: Bound;
}

export interface Scene {
  readonly slots: readonly Slot[];
  /** Parts that stay. */
  readonly fixed: readonly Part[];
  /** What the choice holds, by ingredient [hundredths of a percent] */
  readonly wanted: ReadonlyMap<string, number>;
  readonly rules: Rules;
}

/** One way to fill the slots, and the shares to be found for it. */
export interface Filling {
  /** In the order of the slots. */
  readonly ingredients: readonly Ingredient[];
  readonly aim: Aim;
  /** What the choice holds of ingredients that do not stand here [hundredths of a percent] */
  readonly gone: number;
}

/** The scene of a base. */
export function sceneOf(
  product: Product,
  base: Base,
  choice: Choice,
  ingredientOf: (id: string) => Ingredient | undefined,
): Scene {
  const known = (ids: readonly string[]) => ids.flatMap((id) => ingredientOf(id) ?? []);
  const allowedAt = (place: string) => product.places.find(({ id }) => id === place)?.allowed ?? [];
  const wanted = new Map<string, number>();
  for (const { ingredient, share } of [...choice.butters, ...choice.oils]) {
    wanted.set(ingredient, (wanted.get(ingredient) ?? 0) + share);
  }
  return {
    slots: [
      ...base.butters.map(({ ingredient: id, least, greatest }) => ({
        ...{ id, least, greatest },
        options: known([id]),
      })),
      ...base.oils.map(({ place: id, least, greatest }) => ({
        ...{ id, least, greatest },
        options: known(allowedAt(id)),
      })),
    ],
    fixed: product.additives.flatMap(({ ingredient, share }) =>
      known([ingredient]).map((each) => ({ ingredient: each, share })),
    ),
    wanted,
    rules: product.rules,
  };
}

const greatest = new WeakMap<Rules, Map<Ingredient, number>>();

/** Most that the rules let in of an ingredient, whatever else is in the blend [hundredths of a percent] */
export function greatestOf(ingredient: Ingredient, rules: Rules): number {
  let known = greatest.get(rules);
  if (!known) greatest.set(rules, (known = new Map()));
  let share = known.get(ingredient);
  if (share === undefined) known.set(ingredient, (share = workOutGreatest(ingredient, rules)));
  return share;
}

function workOutGreatest(ingredient: Ingredient, rules: Rules): number {
  if (compositionFindings(ingredient).length > 0) return 0;
  const weighs = poreFindings({ parts: [{ ingredient, share: WHOLE }] }, rules).map(weightOf);
  const counts = weighs.some((weight) => weight !== "tells");
  return counts ? Math.max(0, (rules.poreTraceBelowShare ?? 0) - 1) : WHOLE;
}

/** What is to be found when these ingredients fill the slots. An ingredient in two slots is one part of the blend. */
export function fillingOf(scene: Scene, ingredients: readonly Ingredient[]): Filling {
  const movable = new Map<string, Movable>();
  for (const [at, ingredient] of ingredients.entries()) {
    const slot = scene.slots[at]!;
    const before = movable.get(ingredient.id);
    const chosen = scene.wanted.get(ingredient.id) ?? 0;
    // What was chosen is told by ingredient; a range that a slot asks for adds to that of another slot.
    const wanted = slot.wanted
      ? plus(before?.wanted, slot.wanted)
      : { least: chosen, greatest: chosen };
    movable.set(ingredient.id, { ingredient, ...plus(before, slot), wanted });
  }
  for (const { ingredient, share } of scene.fixed) {
    const same = movable.get(ingredient.id);
    if (!same) continue;
    const own = { least: share, greatest: share };
    movable.set(ingredient.id, { ingredient, ...plus(same, own), wanted: plus(same.wanted, own) });
  }
  const capped = [...movable.values()].map((each) => ({
    ...each,
    greatest: Math.min(each.greatest, greatestOf(each.ingredient, scene.rules)),
  }));
  const fixed = scene.fixed.filter(({ ingredient }) => !movable.has(ingredient.id));
  let gone = 0;
  for (const [id, share] of scene.wanted) if (!movable.has(id)) gone += share;
  return { ingredients, aim: { movable: capped, fixed }, gone };
}

function plus(one: Bound | undefined, other: Bound): Bound {
  return {
    least: (one?.least ?? 0) + other.least,
    greatest: (one?.greatest ?? 0) + other.greatest,
  };
}

/**
 * The least that a filling can cost, no rule on the solids looked at: what must go and what must come.
 * @returns Infinity when the bounds and the rules on single ingredients leave no such blend
 */
export function leastCostOf({ aim, gone }: Filling): number {
  const target = sumOf(aim);
  let cost = gone;
  let least = 0;
  let greatest = 0;
  let from = 0;
  let to = 0;
  for (const each of aim.movable) {
    if (each.least > each.greatest) return Infinity;
    const inside = (share: number) => Math.min(each.greatest, Math.max(each.least, share));
    const low = inside(each.wanted.least);
    const high = inside(each.wanted.greatest);
    cost += Math.max(0, low - each.wanted.greatest, each.wanted.least - high);
    least += each.least;
    greatest += each.greatest;
    from += low;
    to += high;
  }
  if (least > target || greatest < target) return Infinity;
  return cost + Math.max(0, from - target, target - to);
}
