/**
 * Links of a paper: to its files, and to itself in other languages.
 */
import type { PaperId } from "#core/make/label-sheet.ts";
import { BENCH_LANGUAGES, type BenchLanguage, LANGUAGE_NAMES } from "../words/bench-languages.ts";
import { langOf } from "../words/speak.ts";

const PAPER_NAMES: Readonly<Record<PaperId, string>> = { a4: "PDF, A4", letter: "PDF, Letter" };

/** Links to a paper in both sizes. @param href its page @param asked language that was asked for on the page */
export function pdfsOf(href: string, asked: BenchLanguage | undefined) {
  const query = asked === undefined ? "" : `?language=${asked}`;
  return Object.entries(PAPER_NAMES).map(([id, words]) => ({
    href: `${href}-${id}.pdf${query}`,
    words,
  }));
}

/** Links to a paper in each language, as the languages name themselves. */
export function languagesOf(href: string, locale: string) {
  return BENCH_LANGUAGES.map((lang) => ({
    ...{ lang, words: LANGUAGE_NAMES[lang], href: `${href}?language=${lang}` },
    here: langOf(locale) === lang,
  }));
}
