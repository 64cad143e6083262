/**
 * Figures as people read them. Each function throws on a figure that is missing or no number: a document with a hole in
 * it must not be printed. Display only; nothing is reckoned from these strings.
 */
import { WHOLE } from "#core/blend.ts";
import type { Currency } from "#core/price/money.ts";
import { momentFormat, numberFormat } from "./formats.ts";

const NO_BREAK = "\u00a0";

/** {{percent share}}: "12.34 %" from hundredths of a percent. */
export function percent(share: unknown): string {
  const hundredths = wholeNumber(share);
  const decimals = String(hundredths % 100).padStart(2, "0");
  return `${Math.floor(hundredths / 100)}.${decimals}${NO_BREAK}%`;
}

/** {{percentIn share locale}}: "12,34 %" as the readers of a shop write it. */
export function percentIn(share: unknown, locale: unknown): string {
  const format = numberFormat(locale as string, { style: "percent", maximumFractionDigits: 2 });
  return format.format(wholeNumber(share) / WHOLE);
}

/** {{money minor currency locale}} */
export function money(minor: unknown, currency: unknown, locale: unknown): string {
  const { code, exponent } = currency as Currency;
  const format = numberFormat(locale as string, {
    style: "currency",
    currency: code,
    minimumFractionDigits: exponent,
    maximumFractionDigits: exponent,
  });
  return format.format(wholeNumber(minor) / 10 ** exponent);
}

/** "25 November 2026" from "2026-11-25". */
export function dateWords(iso: string, locale: string): string {
  const time = Date.parse(`${iso}T00:00:00Z`);
  if (Number.isNaN(time)) throw new TypeError(`a document asks for a day and got ${iso}`);
  return momentFormat(locale, { dateStyle: "long", timeZone: "UTC" }).format(time);
}

function wholeNumber(value: unknown): number {
  if (!Number.isSafeInteger(value)) {
    throw new TypeError(`a document asks for a whole number and got ${String(value)}`);
  }
  return value as number;
}
