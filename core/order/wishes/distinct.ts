/**
 * Offers are worth choosing between only when they differ: by their oils, or by enough of the jar.
 */
import type { Part } from "../../blend.ts";
import type { Fit } from "./shift.ts";

/** Same ingredients are distinct from this share moved on [hundredths of a percent] */
export const DISTINCT_SHARE = 500;
/** With other ingredients so much must move at least, so that a trace of another oil makes no offer. */
const SWAPPED_SHARE = 100;

/** The best, each distinct from those before it. */
export function distinctBest(fits: readonly Fit[], most: number): Fit[] {
  const best: Fit[] = [];
  for (const fit of [...fits].sort((one, other) => one.score - other.score)) {
    if (best.length >= most) break;
    if (best.every((each) => areDistinct(each.parts, fit.parts))) best.push(fit);
  }
  return best;
}

/** Whether two blends are worth choosing between. */
export function areDistinct(one: readonly Part[], other: readonly Part[]): boolean {
  const left = new Map(one.map(({ ingredient, share }) => [ingredient.id, share]));
  let moved = 0;
  let isSame = one.length === other.length;
  for (const { ingredient, share } of other) {
    const before = left.get(ingredient.id);
    if (before === undefined) isSame = false;
    moved += Math.max(0, share - (before ?? 0));
  }
  return moved >= (isSame ? DISTINCT_SHARE : SWAPPED_SHARE);
}
