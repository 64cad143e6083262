/**
 * Prices as they are typed on the shelf and stand in its files, in integer minor units of the shop's currency.
 */
import type { Currency } from "#core/price/money.ts";
import { plainAmount, readMoney } from "../typed/read-money.ts";
import { quoted } from "../typed/fault.ts";

export type ReadPrice = { readonly minor: number } | { readonly fault: string };

/** Read a price; a sign or code of the currency may stand before or after it. */
export function readPrice(typed: string, currency: Currency): ReadPrice {
  const named = /[A-Z]{3}/.exec(typed)?.[0];
  if (named && named !== currency.code) {
    const fault = `${quoted(typed)} is in ${named}, and this shop reckons in ${currency.code}.`;
    return { fault };
  }
  const read = readMoney(typed, currency);
  return "value" in read ? { minor: read.value } : { fault: read.sentence };
}

/** A price for a field or a file: "11.80". */
export function writePrice(minor: number | null, { exponent }: Currency): string {
  return minor === null ? "" : plainAmount(minor, exponent);
}
