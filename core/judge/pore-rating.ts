/**
 * The trade's pore-clogging rule: a blend is rated by its highest-rated ingredient.
 *
 * The published grades come from tests of single ingredients on rabbit ears; they say nothing certain about a
 * finished jar on a person's skin (`pore-words.ts` says so to people). Unrated is a state of its own and never counts
 * as 0. No law for mixing or dilution is published, so the ceiling goes by what is present; a maker may set a trace
 * threshold and the least confidence that a figure needs, both own choices of that maker.
 */
import type { Blend, Part } from "../blend.ts";
import { type Finding, finding } from "../finding.ts";
import type { RatingConfidence } from "../ingredient.ts";

/** Which end of a disputed rating counts. */
export type PoreReading = "value" | "high";

export interface PoreRules {
  /** Highest pore rating accepted, 0 to 5. */
  readonly poreRatingMost?: number;
  /** Which end of a disputed rating counts; the chosen value when not said. */
  readonly poreReading?: PoreReading;
  /** Below this share an ingredient is listed and does not count [hundredths of a percent]; all count when not said. */
  readonly poreTraceBelowShare?: number;
  /** Least confidence of a figure that counts, "A" the best; a figure below it, or without one, counts as unrated. */
  readonly poreConfidenceLeast?: RatingConfidence;
  /** What an unrated ingredient does when a ceiling is set; leaves the verdict undecided when not said. */
  readonly unrated?: "cannot-judge" | "tell";
}

export interface PoreSummary {
  /** Highest rating that counts; nothing when none does. */
  readonly highest?: { readonly ingredient: string; readonly value: number };
  /** Mean over the rated ingredients, weighted by share: information only. */
  readonly mean?: number;
  /** Ids of ingredients without a rating that counts, traces among them. */
  readonly unrated: readonly string[];
}

/**
 * Rate a blend.
 * @param rules which end of a disputed figure counts, the trace threshold and the least confidence
 */
export function ratePores(blend: Blend, rules: PoreRules = {}): PoreSummary {
  const unrated: string[] = [];
  let highest: { ingredient: string; value: number } | undefined;
  let weighted = 0;
  let ratedShare = 0;
  for (const part of blend.parts) {
    const { ingredient, share } = part;
    const value = gradeOf(part, rules);
    if (value === undefined) {
      unrated.push(ingredient.id);
      continue;
    }
    weighted += value * share;
    ratedShare += share;
    const counts = !isTrace(part, rules);
    if (counts && (!highest || value > highest.value))
      highest = { ingredient: ingredient.id, value };
  }
  return {
    ...(highest ? { highest } : {}),
    ...(ratedShare > 0 ? { mean: weighted / ratedShare } : {}),
    unrated,
  };
}

/** Findings against the ceiling. Without one, unrated ingredients are only told of. */
export function poreFindings(blend: Blend, rules: PoreRules): Finding[] {
  const limit = rules.poreRatingMost;
  return blend.parts.flatMap((part) => {
    const { id } = part.ingredient;
    const measured = gradeOf(part, rules);
    const judged = limit !== undefined && !isTrace(part, rules);
    if (measured === undefined) {
      const weighs = judged && rules.unrated !== "tell";
      return [finding(weighs ? "judge.pore-rating.unrated" : "judge.pore-rating.unrated-told", id)];
    }
    if (!judged || measured <= limit) return [];
    return [finding("judge.pore-rating.above-limit", id, { measured, limit })];
  });
}

/** The figure that counts for a part, 0 to 5; nothing when it has none, or none known well enough. */
export function gradeOf({ ingredient }: Part, rules: PoreRules): number | undefined {
  const rating = ingredient.poreRating;
  if (!rating.rated) return undefined;
  const { poreConfidenceLeast: least, poreReading = "value" } = rules;
  const isKnown = !least || (rating.confidence && rating.confidence <= least);
  return isKnown ? rating[poreReading] : undefined;
}

/** Whether a part is too little to count for the ceiling. */
export function isTrace({ share }: Part, { poreTraceBelowShare = 0 }: PoreRules): boolean {
  return share < poreTraceBelowShare;
}
