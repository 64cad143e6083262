/**
 * The pore ratings of a blend, one line per ingredient, for whoever wants to see what the highest was taken from.
 */
import type { Blend } from "../blend.ts";
import type { PoreRating } from "../ingredient.ts";
import { type PoreRules, gradeOf, isTrace } from "./pore-rating.ts";

export interface PoreLine {
  readonly ingredient: string;
  /** Mass fraction [hundredths of a percent] */
  readonly share: number;
  /** As published, whether it counts or not. */
  readonly rating: PoreRating;
  /** What the maker's rules make of it. */
  readonly counts: "yes" | "trace" | "unrated" | "too-poorly-known";
}

/**
 * List the ratings of a blend.
 * @returns in the order of the blend
 */
export function listPores(blend: Blend, rules: PoreRules = {}): PoreLine[] {
  return blend.parts.map((part) => ({
    ingredient: part.ingredient.id,
    share: part.share,
    rating: part.ingredient.poreRating,
    counts: countsAs(part, rules),
  }));
}

function countsAs(part: Blend["parts"][number], rules: PoreRules): PoreLine["counts"] {
  if (!part.ingredient.poreRating.rated) return "unrated";
  if (gradeOf(part, rules) === undefined) return "too-poorly-known";
  return isTrace(part, rules) ? "trace" : "yes";
}
