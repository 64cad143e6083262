/**
 * The languages of the widget, as its scripts bring them, compiled strictly: a message that lacks an argument throws.
 */
import coreEnglish from "#core/words/en.json";
import type { Currency } from "#core/price/money.ts";
import { languageFor } from "#widget/language.ts";
import type { Catalogue } from "#widget/words.ts";
import * as english from "#widget/words/en.json";

export const ENGLISH: Catalogue = {
  lang: "en",
  words: english as unknown as Catalogue["words"],
  core: coreEnglish,
};

const POUNDS: Currency = { code: "GBP", exponent: 2 };

/** English with British numbers. */
export function inEnglish(currency = POUNDS) {
  return languageFor("en-GB", ENGLISH, currency);
}
