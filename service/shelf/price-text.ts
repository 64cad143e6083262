/**
 * Amounts of money as they are typed, in integer minor units of the shop's currency.
 */
import { AMOUNT_GREATEST_MINOR, type Currency } from "#core/price/money.ts";
import { readFigure } from "./amount.ts";
import { quoted } from "./fault.ts";

export type ReadPrice = { readonly minor: number } | { readonly fault: string };

/** Read a price; a sign or code of the currency may stand before or after it. */
export function readPrice(typed: string, { code, exponent }: Currency): ReadPrice {
  const bare = typed.replace(/^\s*(?:\p{Sc}|[A-Z]{3})\s*|\s*(?:\p{Sc}|[A-Z]{3})\s*$/gu, "").trim();
  const named = /[A-Z]{3}/.exec(typed)?.[0];
  if (named && named !== code) {
    return { fault: `${quoted(typed)} is in ${named}, and this shop reckons in ${code}.` };
  }
  if (/^[-−]/.test(bare)) return { fault: `${quoted(typed)} is below zero. Check the price.` };
  const value = readFigure(bare);
  const example = (11.8).toFixed(exponent);
  if (value === undefined) {
    return { fault: `${quoted(typed)} is not a price: write a number such as ${example}.` };
  }
  const decimals = /[.,](\d+)$/.exec(bare)?.[1]?.length ?? 0;
  if (decimals > exponent) {
    const most = exponent === 0 ? "no decimals" : `at most ${exponent} decimals`;
    return { fault: `${quoted(typed)} has too many decimals: ${code} takes ${most}.` };
  }
  const minor = Math.round(value * 10 ** exponent);
  if (minor > AMOUNT_GREATEST_MINOR) {
    return { fault: `${quoted(typed)} is more than can be kept. Check the price.` };
  }
  return { minor };
}

/** A price for a field or a file: "11.80". */
export function writePrice(minor: number | null, { exponent }: Currency): string {
  return minor === null ? "" : (minor / 10 ** exponent).toFixed(exponent);
}
