/**
 * Everything the page shows of a state: the blend, its verdict and its price, by the same core as
 * the service. Pure.
 */
import type { Blend } from "#core/blend.ts";
import { type Composed, composeBlend } from "#core/compose/compose.ts";
import { type Base, type Choice, type Jar, startingChoice } from "#core/compose/product.ts";
import { type Finding, finding, weightOf } from "#core/finding.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { type Judgement, judgeBlend } from "#core/judge/verdict.ts";
import { priceJar, pricePer100g } from "#core/price/price.ts";
import { taxOnTopMinor } from "#core/price/tax.ts";
import type { ProductOffer } from "#core/wire.ts";
import { type ComposerState, type Row, baseOf, rowsOf } from "./state.ts";

export interface Price {
  /** [minor units] */
  readonly jarMinor: number;
  readonly per100gMinor: number;
  /** What is paid, tax on top among it. */
  readonly totalMinor: number;
  /** Tax that comes on top; 0 when none does. */
  readonly taxMinor: number;
}

export interface Scene {
  readonly state: ComposerState;
  readonly base: Base;
  readonly rows: readonly Row[];
  readonly jar: Jar;
  /** Missing when the choice does not make a blend at all. */
  readonly blend?: Blend;
  readonly judgement?: Judgement;
  readonly price?: Price;
  readonly verdict: Judgement["verdict"];
  /** Why the blend cannot be ordered, weightiest first; empty when it can. */
  readonly reasons: readonly Finding[];
}

/** The picture runs over these temperatures [C]. */
export const COOLEST_SHOWN_C = 5;
export const WARMEST_SHOWN_C = 40;
const SHOWN_C = Array.from(
  { length: WARMEST_SHOWN_C - COOLEST_SHOWN_C + 1 },
  (_, at) => COOLEST_SHOWN_C + at,
);

/** Read a state. */
export function readScene(state: ComposerState): Scene {
  const { offer, choice } = state;
  const jar = offer.product.jars.find(({ id }) => id === state.jar)!;
  const common = { state, base: baseOf(state), rows: rowsOf(state), jar };
  const composed = compose(offer, choice);
  if ("findings" in composed) {
    return { ...common, verdict: "refused", reasons: weightiestFirst(composed.findings) };
  }
  const { blend } = composed;
  const judgement = judge(offer, blend);
  const priced = priceOf(offer, blend, jar, state.quantity);
  const judged = { ...common, blend, judgement };
  if ("findings" in priced) {
    const verdict = judgement.verdict === "orderable" ? "cannot-judge" : judgement.verdict;
    const reasons = weightiestFirst([...judgement.findings, ...priced.findings]);
    return { ...judged, verdict, reasons };
  }
  const reasons = weightiestFirst(judgement.findings);
  return { ...judged, price: priced, verdict: judgement.verdict, reasons };
}

/** The judgement of a base as its maker left it; nothing when it makes no blend. */
export function judgeBase(offer: ProductOffer, base: Base): Judgement | undefined {
  const composed = compose(offer, startingChoice(base));
  return "blend" in composed ? judge(offer, composed.blend) : undefined;
}

/** Whether a choice, kept from an earlier visit, still fits what the maker offers. */
export function stillFits(offer: ProductOffer, choice: Choice): boolean {
  const base = offer.product.bases.find(({ id }) => id === choice.base);
  if (!base) return false;
  const inOrder =
    base.butters.every(({ ingredient }, at) => choice.butters[at]?.ingredient === ingredient) &&
    base.oils.every(({ place }, at) => choice.oils[at]?.place === place);
  return inOrder && "blend" in compose(offer, choice);
}

/** An ingredient of the offer. */
export function ingredientOf(offer: ProductOffer, id: string): Ingredient | undefined {
  return offer.ingredients.find((each) => each.id === id);
}

/** The name people use, or the id when the offer does not know it. */
export function nameOf(offer: ProductOffer, id: string): string {
  return ingredientOf(offer, id)?.name ?? id;
}

function compose(offer: ProductOffer, choice: Choice): Composed {
  return composeBlend(offer.product, choice, (id) => ingredientOf(offer, id));
}

function judge({ product, law }: ProductOffer, blend: Blend): Judgement {
  const celsius = [...new Set([...SHOWN_C, product.useCelsius])].sort((one, other) => one - other);
  return judgeBlend(blend, {
    celsius,
    useCelsius: product.useCelsius,
    airFraction: product.airFraction,
    rules: product.rules,
    law,
  });
}

function priceOf(
  offer: ProductOffer,
  blend: Blend,
  jar: Jar,
  quantity: number,
): Price | { readonly findings: readonly Finding[] } {
  const tariff = offer.tariffs[jar.id];
  const priced = tariff && priceJar(tariff, blend);
  if (!priced) return { findings: [finding("price.cost.unknown", jar.id)] };
  if ("findings" in priced) return priced;
  const { jarMinor } = priced;
  const goodsMinor = jarMinor * quantity;
  const taxMinor = taxOnTopMinor(goodsMinor, offer.taxOnTop);
  return {
    jarMinor,
    per100gMinor: pricePer100g(jarMinor, jar.fillG),
    totalMinor: goodsMinor + taxMinor,
    taxMinor,
  };
}

function weightiestFirst(findings: readonly Finding[]): Finding[] {
  const of = (weight: string) => findings.filter((found) => weightOf(found) === weight);
  return [...of("refuses"), ...of("cannot-judge")];
}
