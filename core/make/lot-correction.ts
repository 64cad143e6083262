/**
 * An ordered blend judged again with the lots that go into it, and, where it leaves what the order promised, the least
 * share moved that brings it back.
 *
 * The rules are those the order was quoted by. The search is the one that customers meet (`order/nearest`), with two
 * things held fast: every place keeps the oil that was ordered, and everything that was ordered stays in the jar, so
 * that the same set of ingredients is declared. Their order on the label follows the corrected shares.
 */
import type { Blend } from "../blend.ts";
import { composeBlend } from "../compose/compose.ts";
import type { Base, Choice, Product } from "../compose/product.ts";
import { type Finding, weightOf } from "../finding.ts";
import type { Ingredient } from "../ingredient.ts";
import type { FirmnessLaw } from "../judge/firmness.ts";
import { type FirmnessAtUse, judgeBlend } from "../judge/verdict.ts";
import type { Conflict } from "../order/nearest/conflicts.ts";
import { type Change, nearestOrderable } from "../order/nearest/nearest.ts";
import { inciOrder } from "./label-order.ts";

export type IngredientOf = (id: string) => Ingredient | undefined;

export interface LotQuestion {
  /** As it was quoted, with the rules of its season. */
  readonly product: Product;
  /** What is to be judged; as ordered where a correction is looked for. */
  readonly choice: Choice;
  /** Ingredients by the library's figures, as the order was judged. */
  readonly ingredientOf: IngredientOf;
  /** The same ingredients with the figures of the lots that go in. */
  readonly lotOf: IngredientOf;
  /** Law of the kitchen; the published one when not said. */
  readonly law?: FirmnessLaw | undefined;
  /** What a part must keep to be weighed [hundredths of a percent]; a part ordered with less keeps that. */
  readonly leastShare: number;
}

/** What is shown of a blend before and after. */
export interface BlendFigures {
  readonly blend: Blend;
  readonly firmness: FirmnessAtUse;
  /** At the temperature the firmness is promised for [% by mass] */
  readonly solidFat: { readonly settled: number; readonly low: number; readonly high: number };
  /** [C]; missing when it has no body even at the coldest temperature judged */
  readonly softensAboveC?: number;
  readonly softensAboveLeastC?: number;
  /** Highest published grade among the ingredients; missing when none is rated. */
  readonly poreHighest?: number;
  /** The list of the label. */
  readonly label: string;
  /** What stands against it by the rules of the order. */
  readonly against: readonly Finding[];
}

export interface CannotJudgeLots {
  readonly kind: "cannot-judge";
  readonly findings: readonly Finding[];
}

/** What the lots make of a blend, beside what the library's figures made of it. */
export interface JudgedLots {
  readonly kind: "holds" | "leaves";
  readonly library: BlendFigures;
  readonly lots: BlendFigures;
}

export interface LotShift extends Omit<JudgedLots, "kind"> {
  readonly kind: "shift";
  readonly choice: Choice;
  readonly corrected: BlendFigures;
  /** Half of all that goes and comes [hundredths of a percent] */
  readonly moved: number;
  readonly changes: readonly Change[];
}

export interface NoLotShift extends Omit<JudgedLots, "kind"> {
  readonly kind: "none";
  /** Rules and bounds that would each let a blend of these lots through by giving way, worked out when asked for. */
  readonly conflicts: () => readonly Conflict[];
  /** The nearest blend with another oil, to be asked of the customer; nothing when no oil of the product helps. */
  readonly otherOil: () => readonly Change[] | undefined;
}

export type LotCorrection =
  CannotJudgeLots | (JudgedLots & { readonly kind: "holds" }) | LotShift | NoLotShift;

/** Judge a choice with the lots that go in. */
export function judgeLots(question: LotQuestion): CannotJudgeLots | JudgedLots {
  const library = figuresOf(question, question.ingredientOf);
  if ("findings" in library) return { kind: "cannot-judge", ...library };
  const lots = figuresOf(question, question.lotOf);
  if ("findings" in lots) return { kind: "cannot-judge", ...lots };
  return { kind: lots.against.length === 0 ? "holds" : "leaves", library, lots };
}

/**
 * Judge an ordered choice with its lots, and find the least share moved that restores what was promised.
 * @throws Error when the choice does not keep the bounds it was ordered within: that would be a mistake in the code
 */
export function correctForLots(question: LotQuestion): LotCorrection {
  const judged = judgeLots(question);
  if (judged.kind !== "leaves") return judged as CannotJudgeLots | (JudgedLots & { kind: "holds" });
  const { library, lots } = judged;
  const { product, choice, law } = question;
  const ground = { ingredientOf: question.lotOf, law };
  const nearest = nearestOrderable(heldTo(question), choice, ground);
  if (nearest.kind === "cannot-judge") return nearest;
  if (nearest.kind === "none") {
    const otherOil = () => {
      const free = nearestOrderable(product, choice, ground);
      return free.kind === "found" ? free.changes : undefined;
    };
    return { kind: "none", library, lots, conflicts: nearest.conflicts, otherOil };
  }
  const corrected = figuresOf({ ...question, choice: nearest.choice }, question.lotOf);
  if ("findings" in corrected) return { kind: "cannot-judge", ...corrected };
  const { moved, changes } = nearest;
  return { kind: "shift", library, lots, corrected, choice: nearest.choice, moved, changes };
}

/** The product with no other oils than those ordered, and nothing that could leave the jar or come into it. */
function heldTo({ product, choice, leastShare }: LotQuestion): Product {
  const base = product.bases.find(({ id }) => id === choice.base)!; // composed from it before
  const held = <Each extends Base["butters"][number] | Base["oils"][number]>(
    each: Each,
    share: number,
  ): Each => ({
    ...each,
    least: Math.max(each.least, Math.min(share, leastShare)),
    greatest: share === 0 ? 0 : each.greatest,
  });
  const oilAt = (place: string) => choice.oils.find((oil) => oil.place === place)!;
  return {
    ...product,
    places: product.places.map((place) => {
      const oil = choice.oils.find((each) => each.place === place.id);
      return oil ? { ...place, allowed: [oil.ingredient] } : place;
    }),
    bases: [
      {
        ...base,
        butters: base.butters.map((butter) => {
          const chosen = choice.butters.find(({ ingredient }) => ingredient === butter.ingredient)!;
          return held(butter, chosen.share);
        }),
        oils: base.oils.map((oil) => held(oil, oilAt(oil.place).share)),
      },
    ],
  };
}

function figuresOf(
  { product, choice, law }: LotQuestion,
  ingredientOf: IngredientOf,
): BlendFigures | { readonly findings: readonly Finding[] } {
  const composed = composeBlend(product, choice, ingredientOf);
  if ("findings" in composed) return composed;
  const { blend } = composed;
  const { useCelsius, airFraction, rules } = product;
  const judged = judgeBlend(blend, { celsius: [useCelsius], useCelsius, airFraction, rules, law });
  const { firmness, solidFat, softensAboveCelsius, softensAboveLeastCelsius, poreRating } = judged;
  const weighing = (weight: string) => judged.findings.filter((each) => weightOf(each) === weight);
  const [point] = solidFat;
  if (!firmness || !point || weighing("cannot-judge").length > 0) {
    return { findings: weighing("cannot-judge") };
  }
  return {
    blend,
    firmness,
    solidFat: { settled: point.settled, low: point.low, high: point.high },
    ...(softensAboveCelsius === undefined ? {} : { softensAboveC: softensAboveCelsius }),
    ...(softensAboveLeastCelsius === undefined
      ? {}
      : { softensAboveLeastC: softensAboveLeastCelsius }),
    ...(poreRating.highest === undefined ? {} : { poreHighest: poreRating.highest.value }),
    label: inciOrder(blend).text,
    against: weighing("refuses"),
  };
}
