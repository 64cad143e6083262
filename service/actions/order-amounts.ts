/**
 * Amounts in an order's log: plain, with the code of their currency, the same in every language.
 */
import { TILL_CURRENCIES } from "../tills/currency-table.ts";
import { plainAmount } from "../typed/read-money.ts";

/**
 * "12.50 GBP".
 * @param minor minor units of the currency
 * @param code ISO 4217; of a currency this version does not know, the minor units are said as such
 */
export function sayAmount(minor: number, code: string): string {
  const currency = TILL_CURRENCIES.get(code);
  return currency
    ? `${plainAmount(minor, currency.exponent)} ${code}`
    : `${minor} minor units of ${code}`;
}
