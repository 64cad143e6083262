/**
 * What a product says for its labels, in words its maker reads: figure by figure, and what a label would still lack.
 */
import type { LabelFacts, MONTHS_FROM, Product } from "#core/compose/product.ts";
import { factsInForce, openIn } from "#core/make/label-facts.ts";
import { sayGap } from "#core/make/label-gaps.ts";
import { PARTICULAR_NAMES } from "#core/make/label-market.ts";
import { labelMarket } from "#data/library/label-markets.ts";
import { LABEL_LANGUAGES, LABEL_WORDS } from "#data/library/label-words.ts";
import { labelSettingsOf, languagesOf } from "../documents/label-settings.ts";
import { countWords } from "../words/count-words.ts";
import type { Desk } from "./desk.ts";

/** How the months are known, as a sentence goes on. */
export const MONTHS_FROM_WORDS: Readonly<Record<(typeof MONTHS_FROM)[number], string>> = {
  "kept-jars": "found by keeping jars of it",
  "safety-assessment": "from its safety assessment",
};

/** Label settings of the shop a product is written in. */
export function settingsOn({ particulars, shop }: Desk) {
  return labelSettingsOf(particulars, shop.locale);
}

/** Every word and figure under the name a maker knows it by. */
export function sayLabel({ label = {} }: Product): Record<string, string> {
  const months = (count: number | undefined) =>
    count === undefined ? "as the shop says" : countWords(count, "month");
  return {
    ...sayByLanguage(PARTICULAR_NAMES.purpose, label.purpose),
    ...sayByLanguage(PARTICULAR_NAMES.precautions, label.precautions),
    "A closed jar lasts": months(label.shelfLifeMonths),
    "An opened jar lasts": months(label.openMonths),
    ...(label.monthsFrom ? { "Months known": MONTHS_FROM_WORDS[label.monthsFrom] } : {}),
  };
}

function sayByLanguage(what: string, said: LabelFacts["purpose"] = {}): Record<string, string> {
  const written = LABEL_LANGUAGES.filter((language) => said[language] !== undefined);
  return Object.fromEntries(
    written.map((language) => [
      `${what}, in ${LABEL_WORDS[language].languageName}`,
      `“${said[language]}”`,
    ]),
  );
}

/** What a label of the product would name as missing; nothing of it stands in the way of publishing. */
export function labelNotes({ name, label = {} }: Product, desk: Desk): string[] {
  const settings = settingsOn(desk);
  const facts = factsInForce([label], settings);
  const words = languagesOf(settings).map((language) => LABEL_WORDS[language]);
  const rules = settings.markets.map(({ id }) => labelMarket(id)!.durability);
  const closed = facts.shelfLifeMonths;
  const notes = openIn(facts, words, name || "this product").map(sayGap);
  if (closed === undefined && rules.some(({ isRequired }) => isRequired)) {
    notes.push(
      "How long a closed jar lasts is said neither here nor for the shop, so labels have no date.",
    );
  }
  const asksOpen = rules.some(
    ({ openJarAboveMonths: most }) => closed !== undefined && most !== null && closed > most,
  );
  if (asksOpen && facts.openMonths === undefined) {
    notes.push("It lasts so long closed that labels ask how long an opened jar lasts.");
  }
  return notes;
}
