/**
 * The refusal of a choice that a product does not offer.
 */
import type { Finding } from "#core/finding.ts";
import { Refusal } from "../problem.ts";

/** @param what does not fit, at the beginning of a sentence */
export function choiceRefused(findings: readonly Finding[], what = "The choice"): Refusal {
  const detail = `${what} does not fit this product; nothing was stored.`;
  return new Refusal("compose.choice.refused", detail, { findings });
}
