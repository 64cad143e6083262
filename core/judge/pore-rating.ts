/**
 * The trade's pore-clogging rule: a blend is rated by its highest-rated ingredient.
 *
 * The published grades come from tests of single ingredients on rabbit ears; they say nothing certain about a finished
 * jar on a person's skin. Unrated is a state of its own and never counts as 0.
 */
import type { Blend } from "../blend.ts";

export interface PoreSummary {
  /** Highest rating among rated ingredients; nothing when none is rated. */
  readonly highest?: { readonly ingredient: string; readonly value: number };
  /** Mean over the rated ingredients, weighted by share: information only. */
  readonly mean?: number;
  /** Ids of ingredients without a published rating. */
  readonly unrated: readonly string[];
}

/** Which end of a disputed rating counts. */
export type PoreReading = "value" | "high";

/**
 * Rate a blend.
 * @param reading take each ingredient's chosen value, or the highest figure in circulation
 */
export function ratePores(blend: Blend, reading: PoreReading = "value"): PoreSummary {
  const unrated: string[] = [];
  let highest: { ingredient: string; value: number } | undefined;
  let weighted = 0;
  let ratedShare = 0;
  for (const { ingredient, share } of blend.parts) {
    const rating = ingredient.poreRating;
    if (!rating.rated) {
      unrated.push(ingredient.id);
      continue;
    }
    const value = rating[reading];
    weighted += value * share;
    ratedShare += share;
    if (!highest || value > highest.value) highest = { ingredient: ingredient.id, value };
  }
  return {
    ...(highest ? { highest } : {}),
    ...(ratedShare > 0 ? { mean: weighted / ratedShare } : {}),
    unrated,
  };
}
