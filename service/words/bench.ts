/**
 * Whose language the papers of the bench are in: one asked for on the paper itself, else that of the bench, else that
 * of the shop.
 */
import { particularsOf } from "../particulars.ts";
import { Refusal } from "../problem.ts";
import type { ShopRow } from "../storage/shops.ts";
import {
  BENCH_LANGUAGES,
  type BenchLanguage,
  LANGUAGE_NAMES,
  paperLocale,
} from "./bench-languages.ts";

/** The shop as its bench reads it: words, numbers and dates follow its `locale`. */
export function shopForBench(shop: ShopRow, language?: BenchLanguage): ShopRow {
  const spoken = language ?? particularsOf(shop).benchLanguage;
  return { ...shop, locale: paperLocale(spoken, shop.locale) };
}

/**
 * The language that an address asks for (`?language=de`); nothing when it asks for none.
 * @throws Refusal request.query.invalid
 */
export function languageAsked(asked: string | undefined): BenchLanguage | undefined {
  if (asked === undefined) return undefined;
  const language = BENCH_LANGUAGES.find((each) => each === asked);
  if (language) return language;
  const known = BENCH_LANGUAGES.map((each) => `${each} (${LANGUAGE_NAMES[each]})`).join(", ");
  throw new Refusal(
    "request.query.invalid",
    `Papers are written in ${known}. Nothing was changed: go back and choose one of these.`,
  );
}
