/**
 * What a customer reads before paying where no script runs, and on the page of the order: fragrance allergens, trying
 * and keeping the jar, changing one's mind.
 */
import type { Withdrawal } from "#core/order/withdrawal.ts";

/** What is told of changing one's mind; empty when there is nothing to tell. */
export function sayWithdrawal(told: Withdrawal | undefined): string {
  switch (told?.kind) {
    case undefined:
      return "";
    case "days":
      return (
        `You can change your mind within ${told.days} days after your jar has arrived, without giving a reason: ` +
        "tell the maker, send it back, and the price is paid back."
      );
    case "made-to-wish":
      return (
        "This jar is made to your own wish, so once it is ordered there is no right to change your mind " +
        "(Directive 2011/83/EU, Article 16(c)). Your rights stay if it is faulty."
      );
    case "own-words":
      return told.words;
  }
}
