/**
 * What a customer reads before paying where no script runs, and on the page of the order: fragrance allergens, trying
 * and keeping the jar, changing one's mind.
 */
import type { Withdrawal } from "#core/order/withdrawal.ts";
import { sayIn } from "../words/speak.ts";

/**
 * What is told of changing one's mind; empty when there is nothing to tell.
 * @param locale of the reader; what the maker wrote stays as it is written
 */
export function sayWithdrawal(told: Withdrawal | undefined, locale = "en"): string {
  if (told === undefined) return "";
  return told.kind === "own-words" ? told.words : sayIn(locale, `mind.${told.kind}`, told);
}
