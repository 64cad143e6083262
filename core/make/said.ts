/**
 * A sentence of a paper before it is put into a language: its code, and the figures it is filled with. What it says in
 * which words is the service's; the core knows no language.
 */
import type { FirmnessClass } from "../judge/firmness.ts";

export interface Said {
  /** Names one sentence in every language and never changes its meaning. */
  readonly code: string;
  readonly figures: SaidFigures;
  /** The sentence itself: on sheets from before there were codes, which stay in the words they were issued in. */
  readonly words?: string;
}

export interface SaidFigures {
  /** [C] */
  readonly celsius?: number;
  /** [% by mass] */
  readonly percent?: number;
  /** Of a cup that is weighed full [ml] */
  readonly cupMl?: number;
  /** What it should hold, and how far from that is still right [g] */
  readonly cupG?: number;
  readonly leastG?: number;
  readonly greatestG?: number;
  readonly densityGPerMl?: number;
  /** Growth by air [%] */
  readonly overrunPercent?: number;
  readonly firmness?: FirmnessClass;
  readonly lowest?: FirmnessClass;
  readonly highest?: FirmnessClass;
  /** Ids of ingredients, in the order they are named. */
  readonly ingredients?: readonly string[];
  readonly families?: readonly FamilyHeld[];
}

/** An allergen family with the ingredients that bring it. */
export interface FamilyHeld {
  readonly family: string;
  /** Ids. */
  readonly ingredients: readonly string[];
}

/** State a sentence. */
export function said(code: string, figures: SaidFigures = {}): Said {
  return { code, figures };
}
