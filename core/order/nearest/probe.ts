/**
 * Margins of very many blends of the same few ingredients, and nothing else about them.
 */
import type { Part } from "../../blend.ts";
import type { Ingredient } from "../../ingredient.ts";
import { compositionFindings } from "../../judge/composition.ts";
import { meltsOf } from "../base-melt.ts";
import { type JudgingGround, meltMargins } from "../rule-check.ts";

/** Margins in one order: firmness from below, from above, softens above; Infinity where nothing is ruled. */
export type Margins = readonly number[];

/** Margins of any parts, whatever they sum to; -Infinity where something is ruled and they cannot be judged. */
export type Probe = (parts: readonly Part[]) => Margins;

/** @param ingredients all that the parts may hold */
export function probeOf(ground: JudgingGround, ingredients: readonly Ingredient[]): Probe {
  const all = [...new Set(ingredients)];
  const numbers = new Map(all.map((ingredient, at) => [ingredient, at]));
  const isUnknown = all.map((each) => compositionFindings(each).length > 0);
  const makeMelt = meltsOf(all);
  const marginsOf = meltMargins(ground);
  const { firmness = [], softensAboveLeastCelsius: softens } = ground.rules;
  const firm = firmness.length > 0 ? -Infinity : Infinity;
  const unjudged = [firm, firm, softens === undefined ? Infinity : -Infinity];
  const shares = new Float64Array(all.length);
  return (parts) => {
    shares.fill(0);
    for (const { ingredient, share } of parts) {
      const at = numbers.get(ingredient)!;
      if (isUnknown[at]) return unjudged;
      shares[at]! += share;
    }
    const melt = makeMelt(shares);
    if (!melt) return unjudged;
    const { firmLow, firmHigh, softens: softensBy } = marginsOf(melt);
    return [firmLow, firmHigh, softensBy];
  };
}
