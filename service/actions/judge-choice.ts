/**
 * A choice, judged by the service's own reckoning: the page's verdict is advice, this one is the gate.
 */
import type { Blend } from "#core/blend.ts";
import { composeBlend } from "#core/compose/compose.ts";
import type { Choice, Product } from "#core/compose/product.ts";
import type { FirmnessLaw } from "#core/judge/firmness.ts";
import { usualPlaces } from "#core/judge/places.ts";
import { type Judgement, type Question, judgeBlend } from "#core/judge/verdict.ts";
import { judgeInFull } from "#core/judge/whole-judgement.ts";
import { Refusal } from "../problem.ts";
import { choiceRefused } from "./choice-refused.ts";
import type { IngredientOf } from "./pantry.ts";

/** Temperatures of the curve in an answer [C] */
const CURVE_C = [5, 10, 15, 20, 25, 30, 35, 40];

/** What a shop judges on. */
export interface Ground {
  readonly ingredientOf: IngredientOf;
  /** Firmness law in force; the published one when missing. */
  readonly law?: FirmnessLaw | undefined;
}

export interface Judged {
  readonly blend: Blend;
  readonly judgement: Judgement;
}

/**
 * Compose and judge, with everything a page can show.
 * @throws Refusal compose.choice.refused when the choice leaves the maker's bounds
 */
export function judgeChoice(
  product: Product,
  choice: Choice,
  { ingredientOf, law }: Ground,
): Judged {
  const blend = composeOrRefuse(product, choice, ingredientOf);
  const question = { ...questionOf(product, law), celsius: CURVE_C };
  const places = usualPlaces(product.useCelsius);
  return { blend, judgement: judgeInFull(blend, { ...question, places }) };
}

/**
 * Compose and judge, by the rules alone, and let only an orderable blend through.
 * @throws Refusal compose.choice.refused, judge.blend.refused or judge.blend.cannot-judge with the findings
 */
export function judgeOrderable(
  product: Product,
  choice: Choice,
  { ingredientOf, law }: Ground,
): Judged {
  const blend = composeOrRefuse(product, choice, ingredientOf);
  const judgement = judgeBlend(blend, questionOf(product, law));
  const { verdict, findings } = judgement;
  if (verdict === "refused") {
    throw new Refusal("judge.blend.refused", "This blend does not pass the maker's rules.", {
      findings,
    });
  }
  if (verdict === "cannot-judge") {
    throw new Refusal("judge.blend.cannot-judge", "A figure is missing to judge this blend.", {
      findings,
    });
  }
  return { blend, judgement };
}

function composeOrRefuse(product: Product, choice: Choice, ingredientOf: IngredientOf): Blend {
  const composed = composeBlend(product, choice, ingredientOf);
  if ("blend" in composed) return composed.blend;
  throw choiceRefused(composed.findings);
}

function questionOf(product: Product, law: FirmnessLaw | undefined): Question {
  const { useCelsius, airFraction, rules } = product;
  return { celsius: [], useCelsius, airFraction, rules, ...(law ? { law } : {}) };
}
