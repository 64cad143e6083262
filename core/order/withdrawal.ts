/**
 * Whether a customer may change their mind after ordering, as the maker has chosen to say it.
 *
 * In the European Union a distance sale can be withdrawn from within 14 days (Directive 2011/83/EU, Art. 9). Goods made
 * to the consumer's own specifications are exempt (Art. 16(c)), from the contract on (Court of Justice, C-529/19), but
 * picking from set options is not enough for it (the Commission's guidance, quoted): whether it holds is for the maker
 * and their adviser, so without a choice the right applies. Iceland, Liechtenstein, Norway and the United Kingdom have
 * the like (from memory). Elsewhere nothing is said that the maker did not say.
 */
import { EEA_AND_UK } from "../countries.ts";

export type Withdrawal =
  /** May be sent back within so many days. */
  | { readonly kind: "days"; readonly days: number }
  /** Made to the customer's own wish: no right. */
  | { readonly kind: "made-to-wish" }
  | { readonly kind: "own-words"; readonly words: string };

export const WITHDRAWAL_DAYS = 14;
/** A longer promise is a slip of the pen (own choice) [days] */
export const WITHDRAWAL_DAYS_MOST = 365;

/** Whether the law of the country gives a right by itself. */
function hasWithdrawalRight(country: string): boolean {
  return EEA_AND_UK.has(country.toUpperCase());
}

/**
 * What is told before paying.
 * @param chosen the maker's choice, if there is one
 * @param country ISO 3166 code of the shop
 * @returns nothing where the maker chose nothing and the law gives no right
 */
export function withdrawalTold(
  chosen: Withdrawal | undefined,
  country: string,
): Withdrawal | undefined {
  return (
    chosen ?? (hasWithdrawalRight(country) ? { kind: "days", days: WITHDRAWAL_DAYS } : undefined)
  );
}
