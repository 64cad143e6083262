/**
 * What a market asks of a label, as data: `data/library/label-markets.ts` holds the markets with their sources.
 */
import type { DurabilityRule } from "./durability.ts";

/** A height by how much is measured; the first row whose `upTo` is not exceeded counts. */
export interface HeightStep {
  /** Nominal content [g] or panel [cm2]; null: above all others. */
  readonly upTo: number | null;
  readonly heightMm: number;
}

/** What each particular is called wherever a maker reads of it. */
export const PARTICULAR_NAMES = {
  name: "Name",
  purpose: "What it is for",
  content: "Content",
  ingredients: "Ingredients",
  precautions: "Precautions",
  durability: "How long it lasts",
  batch: "Batch number",
  responsible: "Responsible person",
  origin: "Origin",
  contact: "Contact",
} as const;

export type ParticularId = keyof typeof PARTICULAR_NAMES;

export interface LabelMarket {
  readonly id: string;
  readonly name: string;
  /** With its article, where it has one. */
  readonly inSentence: string;
  /** ISO 3166-1 codes of the countries that are at home in it. */
  readonly countries: readonly string[];
  /** Names of ingredients with the English plant name in brackets, as United States labels have them, or without. */
  readonly inciStyle: "with-english-names" | "without-english-names";
  /** Whether fragrance allergens above the threshold are named behind the ingredients. */
  readonly namesFragranceAllergens: boolean;
  /** How the content stands: grams, or ounces with grams in brackets. */
  readonly content: "grams" | "ounces-and-grams";
  /** Below this no content need be told [g] */
  readonly contentFromG: number;
  /** Least height of the content's figures, by nominal content or by area of the panel that faces the shopper. */
  readonly contentHeights: {
    readonly by: "nominal-g" | "panel-cm2";
    readonly steps: readonly HeightStep[];
  };
  /** Least height of the small x of everything else. */
  readonly leastXHeights: { readonly by: "label-cm2"; readonly steps: readonly HeightStep[] };
  readonly durability: DurabilityRule;
  /** How a date is written. */
  readonly dates: "day-month-year" | "month-word-day-year";
  readonly asksResponsible: boolean;
  /** A contact for reports of reactions is asked for unless the business sits at home in the market. */
  readonly asksContact: boolean;
  /** The country of origin is named where the jar was made outside the market. */
  readonly namesOrigin: boolean;
  /** Particulars that must stand on some label of the jar. */
  readonly asks: readonly ParticularId[];
}

/** The least height that steps ask for [mm] */
export function heightFor(measured: number, steps: readonly HeightStep[]): number {
  const step = steps.find(({ upTo }) => upTo === null || measured <= upTo);
  if (!step) throw new RangeError("the last step of a market's heights must be open");
  return step.heightMm;
}
