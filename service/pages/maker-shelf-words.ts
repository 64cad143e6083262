/**
 * How the shelf's pages say days, amounts, prices and states.
 */
import { type Currency, divideHalfUp } from "#core/price/money.ts";
import { dateWords, money } from "../documents/figures.ts";
import { daysBetween } from "../days.ts";
import { NEAR_DAYS } from "../shelf/days.ts";
import { type Fault, faultOf } from "../typed/fault.ts";
import type { IngredientRow } from "../storage/ingredients.ts";
import type { LotRow } from "../storage/lots.ts";
import { countWords } from "../words/count-words.ts";

export interface Said {
  readonly currency: Currency;
  readonly locale: string;
  /** ISO day */
  readonly today: string;
}

/** State by word and by shape, before any colour. */
export interface State {
  readonly mark: string;
  readonly word: string;
}

export const STATES = {
  past: { mark: "▲", word: "Past its date" },
  blocked: { mark: "■", word: "Blocked" },
  low: { mark: "▽", word: "Low" },
  near: { mark: "◐", word: "Near its date" },
  ranOut: { mark: "✕", word: "Ran out" },
  unpriced: { mark: "○", word: "No price" },
  good: { mark: "●", word: "Good" },
} as const satisfies Record<string, State>;

/** What is to be said of a lot that holds something. */
export function stateOfLot(
  { blockedBecause, bestBefore }: Pick<LotRow, "blockedBecause" | "bestBefore">,
  today: string,
): keyof typeof STATES {
  if (blockedBecause !== null) return "blocked";
  if (bestBefore === null) return "good";
  const left = daysBetween(today, bestBefore);
  return left < 0 ? "past" : left <= NEAR_DAYS ? "near" : "good";
}

/** "best before 3 March 2026, 12 days ago". */
export function dateSentence(bestBefore: string, { today, locale }: Said): string {
  const left = daysBetween(today, bestBefore);
  const away =
    left === 0
      ? "today"
      : left > 0
        ? `in ${countWords(left, "day")}`
        : `${countWords(-left, "day")} ago`;
  return `best before ${dateWords(bestBefore, locale)}, ${away}`;
}

export function sayDay(day: string | null, { locale }: Said): string {
  return day === null ? "no date" : dateWords(day, locale);
}

/** Price of an amount of an ingredient; a dash while there is none. */
export function priceOf(
  { packMinor, packMg }: Pick<IngredientRow, "packMinor" | "packMg">,
  mg: number,
  { currency, locale }: Said,
): string {
  if (packMinor === null || packMg === null) return "–";
  const minor = divideHalfUp(BigInt(packMinor) * BigInt(mg), BigInt(packMg));
  return money(Number(minor), currency, locale);
}

/** A field of a form as the template asks for it. */
export interface FieldModel {
  readonly id: string;
  readonly name: string;
  readonly value: string;
  readonly fault: string;
}

export function fieldModels<Name extends string>(
  values: Readonly<Record<Name, string>>,
  faults: readonly Fault[],
): Readonly<Record<Name, FieldModel>> {
  const model = ([name, value]: [string, unknown]): [string, FieldModel] => {
    const fault = faultOf(faults, name);
    return [name, { id: `f-${name}`, name, value: String(value), fault }];
  };
  return Object.fromEntries(Object.entries(values).map(model)) as Record<Name, FieldModel>;
}

/** Faults with a way to the field; a fault of no field on the page has none. */
export function faultLinks(faults: readonly Fault[]) {
  return faults.map(({ field, sentence }) => ({ href: field ? `#f-${field}` : "", sentence }));
}
