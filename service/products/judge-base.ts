/**
 * A base as a customer starts from it, judged by the product's rules of the season.
 */
import type { Blend } from "#core/blend.ts";
import { composeBlend } from "#core/compose/compose.ts";
import { type Base, type Product, startingChoice } from "#core/compose/product.ts";
import { type Finding, sayFinding } from "#core/finding.ts";
import { usualPlaces } from "#core/judge/places.ts";
import type { Judgement } from "#core/judge/verdict.ts";
import { judgeInFull } from "#core/judge/whole-judgement.ts";
import { type Desk, nameOf } from "./desk.ts";
import { rulesAt } from "./season.ts";

export type JudgedBase =
  | { readonly blend: Blend; readonly judgement: Judgement }
  /** It is no blend yet; in words. */
  | { readonly sentences: readonly string[] };

/** The product with the rules that hold for a parcel leaving on a day. */
export function inSeason(product: Product, { particulars }: Desk, shipDay: string): Product {
  return { ...product, rules: rulesAt(product, particulars, shipDay) };
}

/** Judge the blend a base starts from. */
export function judgeBase(product: Product, base: Base, desk: Desk, shipDay: string): JudgedBase {
  const { useCelsius, airFraction, rules } = inSeason(product, desk, shipDay);
  // The base as it is handed in, which may be newer than the product's own, or not in it yet.
  const written = { ...product, bases: [base] };
  const composed = composeBlend(written, startingChoice(base), desk.ingredientOf);
  if ("findings" in composed) return { sentences: saying(composed.findings, desk) };
  const judgement = judgeInFull(composed.blend, {
    celsius: [],
    useCelsius,
    airFraction,
    rules,
    places: usualPlaces(useCelsius),
    ...(desk.law ? { law: desk.law } : {}),
  });
  return { blend: composed.blend, judgement };
}

/** Findings in words, with the names of the maker's shelf. */
export function saying(findings: readonly Finding[], desk: Desk): string[] {
  return findings.map((found) => sayFinding(found, (id) => nameOf(desk, id)));
}
