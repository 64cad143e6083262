/**
 * The language a page is in: its words, and numbers as its readers write them. Display only: nothing is ever reckoned
 * from these strings.
 */
import { WHOLE } from "#core/blend.ts";
import type { Currency } from "#core/price/money.ts";
import type { Speech } from "#core/words/words.ts";
import { fetchBeside } from "./beside.ts";
import type { Catalogue } from "./words.ts";

export interface Language extends Catalogue, Speech {
  /** @param share [hundredths of a percent] */
  percent(share: number): string;
  /** @param minor [minor units] */
  money(minor: number): string;
  /** @param celsius shown as a whole number */
  degrees(celsius: number): string;
  /** @param decimals at most */
  number(value: number, decimals?: 0 | 1 | 2): string;
}

/** Each has its words in a script of its own beside this one. */
const LANGUAGES = ["de", "en", "es", "fr"];
const LONGEST_WAIT_MS = 8_000;

/**
 * Words and numbers for a reader.
 * @param tag BCP 47 tag, which decides how numbers are written
 * @throws RangeError when the tag or the currency is none
 */
export function languageFor(tag: string, catalogue: Catalogue, currency: Currency): Language {
  const numbers = (options: Intl.NumberFormatOptions) => new Intl.NumberFormat(tag, options);
  const percent = numbers({ style: "percent", maximumFractionDigits: 2 });
  const plain = [0, 1, 2].map((maximumFractionDigits) => numbers({ maximumFractionDigits }));
  const money = numbers({
    style: "currency",
    currency: currency.code,
    minimumFractionDigits: currency.exponent,
    maximumFractionDigits: currency.exponent,
  });
  return {
    ...catalogue,
    percent: (share) => percent.format(share / WHOLE),
    money: (minor) => money.format(minor / 10 ** currency.exponent),
    degrees: (celsius) => `${plain[0]!.format(celsius)}\u00a0°C`,
    number: (value, decimals = 2) => plain[decimals]!.format(value),
  };
}

/** The first numbers of a language cost a browser some tens of milliseconds: spent while the answer is on its way. */
export function warmNumbers(tag: string): void {
  new Intl.NumberFormat(tag, { style: "currency", currency: "EUR" }).format(1);
  new Intl.NumberFormat(tag, { style: "percent" }).format(1);
}

/** The language of words that a tag asks for: English where there are no words of its own. */
export function wordsLangOf(tag: string): string {
  const { language } = new Intl.Locale(tag);
  return LANGUAGES.includes(language) ? language : "en";
}

/**
 * The words for a tag. Where they cannot be had the page speaks English and says so in its `lang`.
 * @throws when there is not even English
 */
export function catalogueFor(tag: string): Promise<Catalogue> {
  return wordsOf(wordsLangOf(tag)).catch(() => wordsOf("en"));
}

async function wordsOf(lang: string): Promise<Catalogue> {
  const words = fetchBeside<Omit<Catalogue, "lang">>(`softset.words.${lang}.js`);
  const tooLate = new Promise<never>((_, fail) => setTimeout(fail, LONGEST_WAIT_MS));
  const { words: ours, core } = await Promise.race([words, tooLate]);
  return { lang, words: ours, core };
}

/** The language an element asks for by its own `lang`; nothing when it has none, or none that can be read. */
export function askedOf({ lang }: HTMLElement): string | undefined {
  try {
    return Intl.getCanonicalLocales(lang || [])[0];
  } catch {
    return undefined;
  }
}
