/**
 * Bounds on the settled solid fat of every blend in a space, for proofs.
 *
 * While each species crystallises alone (no lauric ones), the liquid L of a gram of fat is the largest root of
 * L = liquid + sum min(z, L/K), where z and liquid are linear in the shares. The right side less L is concave in all
 * of them together, so L is a concave function of the shares, min(z, L/K) is concave, and **solid fat is convex**, and
 * homogeneous: twice the fat, twice the solids. Hence
 * - above: the greatest solids lie at a corner of the bounds; with several oils in a place each species takes the
 *   most any of them brings and the liquid the least, which is still convex and never below the truth;
 * - below: the tangent at any blend lies under the solids of every other, of whatever oils; the least of a tangent
 *   over bounds and oils is found by filling up the softest first.
 * Own derivation; `tests/core/order/room/proof.test.ts` tries it on blends drawn from the space.
 */
import { constantsAt, frameOf } from "../../judge/frame.ts";
import { fatProfile } from "../../judge/profile.ts";
import type { Space } from "./space.ts";
import { cornersOf } from "./corners.ts";
import { type Brought, aboveIn, below } from "./solids-edges.ts";

export interface SolidsRange {
  /** No blend of the space has fewer or more settled solids [% by mass] */
  readonly least: number;
  readonly greatest: number;
}

/**
 * A function that bounds solids.
 * @param start shares to lay the first tangent at, one per slot, inside the bounds
 * @returns range at a temperature [C]; nothing for a space with lauric species, waxes, powders to choose, measured
 *   lots, unknown compositions or more than twelve slots
 */
export function solidsRanges(
  space: Space,
  start: ArrayLike<number>,
): ((celsius: number) => SolidsRange | undefined) | undefined {
  const { slots, ingredients, additives } = space;
  const used = [
    ...new Set([
      ...slots.flatMap(({ options }) => options),
      ...additives.map((each) => each.ingredient),
    ]),
  ];
  const isOpen = used.every((at) => {
    const { composition, solidFatCurve } = ingredients[at]!;
    return composition.kind !== "unknown" && composition.kind !== "wax" && !solidFatCurve;
  });
  const isPowder = (at: number) => ingredients[at]!.composition.kind === "undissolved";
  if (!isOpen || slots.some(({ options }) => options.some(isPowder))) return undefined;
  const corners = cornersOf(slots, space.total);
  if (!corners || corners.length === 0) return undefined;
  const profiles = used.map((at) => fatProfile(ingredients[at]!));
  const frame = frameOf(profiles);
  if (frame.lauricFrom < frame.species.length) return undefined;
  const fixed = additives.filter(({ ingredient }) => !isPowder(ingredient));
  const whole = fixed.reduce((sum, { share }) => sum + share, space.total);
  const molarMass = new Float64Array(frame.species.length);
  for (const [at, { species }] of profiles.entries()) {
    for (const [i, { gPerG, molesPerG }] of species.entries()) {
      molarMass[frame.places[at]![i]!] = gPerG / molesPerG;
    }
  }
  return (celsius) => {
    const { order, alone, k } = constantsAt(frame, "settled", celsius);
    const rank = new Int32Array(order.length);
    for (let at = 0; at < order.length; at++) rank[order[at]!] = at < alone ? at : -1;
    const mass = Float64Array.from({ length: alone }, (_, at) => molarMass[order[at]!]!);
    const brought: Brought[] = [];
    for (const [at, { species, liquid, inert }] of profiles.entries()) {
      const z = new Float64Array(alone);
      let outside = liquid.molesPerG + inert.molesPerG;
      for (const [i, { molesPerG }] of species.entries()) {
        const place = rank[frame.places[at]![i]!]!;
        if (place < 0) outside += molesPerG;
        else z[place]! += molesPerG;
      }
      brought[used[at]!] = { z, outside };
    }
    const melt = { k, mass, brought };
    const always = fixed.map(({ ingredient, share }) => ({ ingredient, part: share / whole }));
    return {
      greatest: Math.max(...corners.map(aboveIn(melt, space, always, whole))),
      least: below(melt, space, always, start, whole),
    };
  };
}
