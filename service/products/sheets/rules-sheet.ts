/**
 * The rules a blend must pass, each of them the maker's choice.
 */
import {
  AIR_FRACTION_GREATEST,
  FIRMNESS_CLASSES,
  type FirmnessClass,
} from "#core/judge/firmness.ts";
import { PORE_WORDS } from "#core/judge/pore-words.ts";
import { COLDEST_C, WARMEST_C } from "#core/judge/softening.ts";
import type { Rules } from "#core/judge/verdict.ts";
import { PARCEL_MARGIN_GREATEST_C, RulesShape } from "../../shapes.ts";
import type { Desk } from "../desk.ts";
import type { ProductDraft } from "../draft-shape.ts";
import { readNumber, readShare, typedShare } from "../fields.ts";
import type { Fault } from "../../typed/fault.ts";
import { textOf } from "../../typed/text.ts";
import { seasonTable } from "./season-table.ts";
import { type SheetForm, outcome } from "./sheet-form.ts";

const FIELDS = [
  ...(["useCelsius", "air", "softest", "hardest", "softens", "parcelMargin"] as const),
  ...(["poreMost", "poreReading", "poreTrace", "poreConfidence", "unrated", "strictness"] as const),
] as const;

export type TypedRules = Readonly<Record<(typeof FIELDS)[number], string>>;

const CELSIUS = { least: COLDEST_C, greatest: WARMEST_C, unit: "°C", decimals: 1 } as const;
const MARGIN = { least: 0, greatest: PARCEL_MARGIN_GREATEST_C, unit: "°C", decimals: 1 } as const;
const AIR = { least: 0, greatest: 100 * AIR_FRACTION_GREATEST, unit: "%", decimals: 1 } as const;
const PORES = { least: 0, greatest: 5, unit: "", decimals: 1 } as const;

export const RULES_SHEET: SheetForm<TypedRules> = {
  sheet: "rules",
  page: "maker-product-rules",
  write: typedOf,
  read: (form) =>
    Object.fromEntries(FIELDS.map((field) => [field, textOf(form, field)])) as TypedRules,
  apply(typed, draft) {
    const faults: Fault[] = [];
    const number = (
      field: keyof TypedRules,
      what: string,
      range: Parameters<typeof readNumber>[2],
    ) => readNumber(typed[field], { field, what }, range, faults);
    const useCelsius = number("useCelsius", "The room temperature", CELSIUS);
    const airFraction = Math.round(number("air", "The air", AIR) * 10) / 1000;
    const softens = optional(typed.softens, () =>
      number("softens", "The least softens above", CELSIUS),
    );
    const margin = optional(typed.parcelMargin, () =>
      number("parcelMargin", "The margin over the parcel", MARGIN),
    );
    const poreMost = optional(typed.poreMost, () =>
      number("poreMost", "The highest pore rating", PORES),
    );
    const trace = optional(typed.poreTrace, () =>
      readShare(typed.poreTrace, { field: "poreTrace", what: "The trace threshold" }, faults),
    );
    const firmness = readWindow(typed, faults);
    const rules = {
      ...(firmness ? { firmness } : {}),
      ...(softens === undefined ? {} : { softensAboveLeastCelsius: softens }),
      ...(poreMost === undefined ? {} : { poreRatingMost: poreMost }),
      ...(typed.poreReading === "high" ? { poreReading: "high" } : {}),
      ...(trace === undefined ? {} : { poreTraceBelowShare: trace }),
      ...(typed.poreConfidence === "" ? {} : { poreConfidenceLeast: typed.poreConfidence }),
      ...(typed.unrated === "tell" ? { unrated: "tell" } : {}),
      ...(typed.strictness === "central" ? { strictness: "central" } : {}),
    };
    const read = RulesShape.safeParse(rules);
    if (!read.success && faults.length === 0) {
      faults.push({ field: "poreConfidence", sentence: "Choose one of what is listed." });
    }
    return outcome(faults, () => withRules(draft, { useCelsius, airFraction, margin }, read.data!));
  },
  model: (typed, draft, desk, shipDay) => ({
    ...typed,
    softestChoices: classChoices(typed.softest),
    hardestChoices: classChoices(typed.hardest),
    readingChoices: choices(typed.poreReading, [
      ["value", "the value we chose"],
      ["high", "the higher end"],
    ]),
    confidenceChoices: choices(typed.poreConfidence, [
      ["", "any"],
      ["A", "A: assay, agreed by several"],
      ["B", "B or better"],
      ["C", "C or better"],
      ["D", "D or better"],
      ["E", "E or better"],
    ]),
    unratedChoices: choices(typed.unrated, [
      ["cannot-judge", "stops the order"],
      ["tell", "is only told"],
    ]),
    strictnessChoices: choices(typed.strictness, [
      ["whole-band", "the whole band must pass"],
      ["central", "the middle value must pass"],
    ]),
    poreWords: PORE_WORDS,
    season: seasonOf(typed, draft, desk, shipDay),
  }),
};

function typedOf({ product }: ProductDraft): TypedRules {
  const { rules, parcelMarginCelsius } = product;
  const said = (value: number | undefined) => (value === undefined ? "" : String(value));
  const window = rules.firmness ?? [];
  const ranked = FIRMNESS_CLASSES.filter((each) => window.includes(each));
  return {
    useCelsius: String(product.useCelsius),
    air: String(Math.round(product.airFraction * 1000) / 10),
    softest: ranked[0] ?? "",
    hardest: ranked.at(-1) ?? "",
    softens: said(rules.softensAboveLeastCelsius),
    parcelMargin: said(parcelMarginCelsius),
    poreMost: said(rules.poreRatingMost),
    poreReading: rules.poreReading ?? "value",
    poreTrace: rules.poreTraceBelowShare === undefined ? "" : typedShare(rules.poreTraceBelowShare),
    poreConfidence: rules.poreConfidenceLeast ?? "",
    unrated: rules.unrated ?? "cannot-judge",
    strictness: rules.strictness ?? "whole-band",
  };
}

function optional(typed: string, read: () => number): number | undefined {
  return typed === "" ? undefined : read();
}

function readWindow(
  { softest, hardest }: TypedRules,
  faults: Fault[],
): FirmnessClass[] | undefined {
  if (softest === "" && hardest === "") return undefined;
  const rank = (word: string) => FIRMNESS_CLASSES.findIndex((each) => each === word);
  const [low, high] = [softest === "" ? 0 : rank(softest), hardest === "" ? 3 : rank(hardest)];
  if (low < 0 || high < 0) {
    faults.push({ field: "softest", sentence: "Choose fluid, soft, firm or hard." });
  } else if (low > high) {
    const sentence = `The firmness window is empty: ${softest} is harder than ${hardest}.`;
    faults.push({ field: "softest", sentence });
  }
  return FIRMNESS_CLASSES.slice(low, high + 1);
}

function withRules(
  draft: ProductDraft,
  said: { useCelsius: number; airFraction: number; margin: number | undefined },
  rules: Rules,
): ProductDraft {
  const { parcelMarginCelsius: _, ...product } = draft.product;
  const { useCelsius, airFraction, margin } = said;
  const season = margin === undefined ? {} : { parcelMarginCelsius: margin };
  return { ...draft, product: { ...product, useCelsius, airFraction, rules, ...season } };
}

/** The season as typed, where it can be read. */
function seasonOf(typed: TypedRules, draft: ProductDraft, desk: Desk, shipDay: string) {
  const applied = RULES_SHEET.apply(typed, draft, desk);
  const { product } = "draft" in applied ? applied.draft : draft;
  return seasonTable(product, desk, shipDay);
}

function classChoices(chosen: string) {
  return choices(chosen, [
    ["", "not ruled"],
    ...FIRMNESS_CLASSES.map((each) => [each, each] as const),
  ]);
}

function choices(chosen: string, all: readonly (readonly [value: string, words: string])[]) {
  return all.map(([value, words]) => ({ value, words, chosen: value === chosen }));
}
