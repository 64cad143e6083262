/**
 * What templates may call to write a figure. Each throws on a figure that is missing or no number:
 * a document with a hole in it must not be printed. Display only; nothing is reckoned from these
 * strings.
 *
 * A new helper is added here and to `HELPER_NAMES` in `precompile.mjs`; a test holds the two
 * together.
 */
import type { Currency } from "#core/price/money.ts";
import { langOf, sayIn } from "../words/speak.ts";
import { momentFormat, numberFormat } from "./formats.ts";

const NO_BREAK = "\u00a0";
const MINUTES_PER_HOUR = 60;
const MS_PER_DAY = 86_400_000;

interface PageRoot {
  readonly locale?: string;
  readonly shop?: { readonly locale: string };
}

/** What the template engine hands a helper beside its arguments. */
interface HelperOptions {
  readonly data: { readonly root: PageRoot };
  readonly hash: Readonly<Record<string, unknown>>;
}

interface Range {
  readonly least?: number;
  readonly greatest?: number;
}

/** {{percent share}}: "12.34 %" from hundredths of a percent. */
function percent(share: unknown): string {
  const hundredths = wholeNumber(share);
  const decimals = String(hundredths % 100).padStart(2, "0");
  return `${Math.floor(hundredths / 100)}.${decimals}${NO_BREAK}%`;
}

/** {{percentIn share locale}}: "12,34 %" as the readers of a shop write it. */
function percentIn(share: unknown, locale: unknown): string {
  const format = numberFormat(locale as string, { style: "percent", maximumFractionDigits: 2 });
  return format.format(wholeNumber(share) / 10_000);
}

/** {{say "order.title" reference=reference}}: a message in the language of the page's shop. */
function say(message: unknown, { data, hash }: HelperOptions): string {
  return sayIn(localeOf(data.root), message as string, hash);
}

/** {{saidIn}}: the language that the words of the page are in, for its `lang`. */
function saidIn({ data }: HelperOptions): string {
  const locale = localeOf(data.root);
  return locale.toLowerCase().startsWith(langOf(locale)) ? locale : "en";
}

function localeOf({ locale, shop }: PageRoot): string {
  return locale ?? shop?.locale ?? "en";
}

/**
 * {{celsius value}}: whole degrees. Rounded down, because a limit of warmth is never rounded up.
 */
function celsius(value: unknown): string {
  return `${Math.floor(number(value))}${NO_BREAK}°C`;
}

/** {{celsiusRange range}}: "78 to 81 °C", "20 °C", "below 45 °C". */
function celsiusRange(range: unknown): string {
  return rangeWords(range as Range, `${NO_BREAK}°C`, 1);
}

/** {{minutesRange range}}: "15 to 20 min", "24 to 48 h". */
function minutesRange(range: unknown): string {
  const { least, greatest } = range as Range;
  const inHours = Math.min(least ?? Infinity, greatest ?? Infinity) >= 2 * MINUTES_PER_HOUR;
  return inHours
    ? rangeWords(range as Range, `${NO_BREAK}h`, MINUTES_PER_HOUR)
    : rangeWords(range as Range, `${NO_BREAK}min`, 1);
}

/** {{money minor currency locale}} */
function money(minor: unknown, currency: unknown, locale: unknown): string {
  const { code, exponent } = currency as Currency;
  const format = numberFormat(locale as string, {
    style: "currency",
    currency: code,
    minimumFractionDigits: exponent,
    maximumFractionDigits: exponent,
  });
  return format.format(wholeNumber(minor) / 10 ** exponent);
}

/** {{dateWords "2026-11-25" locale}}: "25 November 2026". */
function dateWords(iso: unknown, locale: unknown): string {
  return wordsOfDay(dayOf(iso), locale as string);
}

/** {{dateAfter "2026-11-25" 7 locale}}: "2 December 2026". */
function dateAfter(iso: unknown, days: unknown, locale: unknown): string {
  return wordsOfDay(dayOf(iso) + wholeNumber(days) * MS_PER_DAY, locale as string);
}

export const helpers = {
  celsius,
  celsiusRange,
  dateAfter,
  dateWords,
  minutesRange,
  money,
  percent,
  percentIn,
  saidIn,
  say,
};

function rangeWords({ least, greatest }: Range, unit: string, divisor: number): string {
  const say = (value: number) => String(Math.round(number(value) / divisor));
  if (least === undefined && greatest === undefined) throw new TypeError("an empty range");
  if (least === undefined) return `below ${say(greatest!)}${unit}`;
  if (greatest === undefined) return `from ${say(least)}${unit}`;
  return least === greatest ? `${say(least)}${unit}` : `${say(least)} to ${say(greatest)}${unit}`;
}

function number(value: unknown): number {
  if (typeof value !== "number" || !Number.isFinite(value)) {
    throw new TypeError(`a document asks for a number and got ${String(value)}`);
  }
  return value;
}

function wholeNumber(value: unknown): number {
  if (!Number.isSafeInteger(value)) {
    throw new TypeError(`a document asks for a whole number and got ${String(value)}`);
  }
  return value as number;
}

function dayOf(iso: unknown): number {
  const time = Date.parse(`${String(iso)}T00:00:00Z`);
  if (Number.isNaN(time)) throw new TypeError(`a document asks for a day and got ${String(iso)}`);
  return time;
}

function wordsOfDay(time: number, locale: string): string {
  return momentFormat(locale, { dateStyle: "long", timeZone: "UTC" }).format(time);
}
