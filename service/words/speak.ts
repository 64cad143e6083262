/**
 * What customers read on the service's own pages and the bench on its papers, in the language of the shop or the bench.
 * The sentences lie in one file a language beside this one (`en.json`), compiled when the service is built.
 */
import coreGerman from "#core/words/de.json";
import coreSpanish from "#core/words/es.json";
import coreFrench from "#core/words/fr.json";
import { ENGLISH, type Speech, fill } from "#core/words/words.ts";
import { said, texts } from "#words";
import { numberFormat } from "../documents/formats.ts";

const CORE_WORDS = { de: coreGerman, en: ENGLISH.core, es: coreSpanish, fr: coreFrench };

export type Lang = keyof typeof CORE_WORDS;

export const LANGS = Object.keys(CORE_WORDS) as readonly Lang[];

/** The language of words that a tag asks for: English where there are no words of its own. */
export function langOf(locale: string): Lang {
  const lang = locale.toLowerCase().split("-")[0]!;
  return lang in CORE_WORDS ? (lang as Lang) : "en";
}

/**
 * A message in the language of a shop.
 * @param message chapter and key, such as "order.title"; a key may hold dots of its own
 * @throws RangeError when there is no such message, or a figure that it asks for is missing
 */
export function sayIn(
  locale: string,
  message: string,
  figures: Readonly<Record<string, unknown>> = {},
): string {
  const found = find(message)?.[langOf(locale)];
  if (found === undefined) throw new RangeError(`no words for ${message}`);
  return typeof found === "string" ? fill(found, inText(figures)) : found(figures);
}

/** Figures as they stand in a text; one that is missing stays so. */
function inText(figures: Readonly<Record<string, unknown>>): Record<string, string> {
  const given = Object.entries(figures).filter(([, figure]) => figure !== undefined);
  return Object.fromEntries(given.map(([name, figure]) => [name, String(figure)]));
}

/** Whether there are words for a message; every language has the same. */
export function isSaid(message: string): boolean {
  return find(message) !== undefined;
}

/** A message in every language. */
function find(message: string) {
  const at = message.indexOf(".");
  const [chapter, key] = [message.slice(0, at), message.slice(at + 1)];
  return texts[chapter]?.[key] ?? said[chapter]?.[key];
}

/** How the core speaks in a shop: findings, allergen families, changes. */
export function speechIn(locale: string): Speech {
  const format = numberFormat(locale, { maximumFractionDigits: 2 });
  const lang = langOf(locale);
  // English pages write figures as they always did.
  return {
    core: CORE_WORDS[lang],
    number: lang === "en" ? String : (value) => format.format(value),
  };
}
