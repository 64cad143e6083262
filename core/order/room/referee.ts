/**
 * The maker's rules against very many choices of one base: the verdict of `judgeBlend`, with every rule that refuses
 * as one bit, so that what would pass without a rule can be counted.
 */
import { PARTS_GREATEST } from "../../blend.ts";
import type { Ingredient } from "../../ingredient.ts";
import { compositionFindings } from "../../judge/composition.ts";
import { skinLimits, untoldFindings } from "../../judge/dermal.ts";
import { AIR_FRACTION_GREATEST, USUAL_AIR_FRACTION, yieldPa } from "../../judge/firmness.ts";
import type { Melt } from "../../judge/melt.ts";
import { gradeOf } from "../../judge/pore-rating.ts";
import { COLDEST_C, WARMEST_C } from "../../judge/softening.ts";
import { solidFatPercent, structurePoints } from "../../judge/solid-fat.ts";
import type { Rules } from "../../judge/verdict.ts";
import { type JudgingGround, type RuleMargins, meltMargins } from "../rule-check.ts";
import { meltsOf } from "../base-melt.ts";
import type { Point, Slot, Space } from "./space.ts";

/** What can keep a choice from being ordered, in the order of its bit. */
export const REASONS = [
  "too-soft",
  "too-hard",
  "softens-too-low",
  "pore-rating-above",
  "pore-rating-unrated",
  "cannot-judge",
  "skin-limit",
] as const;
export type Reason = (typeof REASONS)[number];

/** Bits of the reasons. */
export const BIT: Readonly<Record<Reason, number>> = {
  "too-soft": 1,
  "too-hard": 2,
  "softens-too-low": 4,
  "pore-rating-above": 8,
  "pore-rating-unrated": 16,
  "cannot-judge": 32,
  "skin-limit": 64,
};

export interface Ruling {
  /** Bits of all that stands against the choice; 0 when it may be ordered. */
  readonly against: number;
  readonly margins: RuleMargins;
}

export interface Referee {
  /** @returns the ruling, good until the next choice is judged */
  readonly judge: (point: Point) => Ruling;
  /** How firm the choice judged last sets at the use temperature; nothing when it could not be judged. */
  readonly firmness: () => { settledPercent: number; yieldPa: number } | undefined;
  /** Choices judged so far, within other bounds too. */
  readonly judged: () => number;
  /** The same referee for the same ingredients with fewer oils or other bounds. */
  readonly within: (space: Space) => Referee;
}

const UNJUDGED: RuleMargins = { firmLow: -Infinity, firmHigh: -Infinity, softens: -Infinity };

/** Why an ingredient stands against every jar that holds as much of it as counts; 0 when it does not. */
export function standing(ingredient: Ingredient, rules: Rules): number {
  const limit = rules.poreRatingMost;
  if (limit === undefined) return 0;
  const grade = gradeOf({ ingredient, share: 1 }, rules);
  if (grade === undefined) return rules.unrated === "tell" ? 0 : BIT["pore-rating-unrated"];
  return grade > limit ? BIT["pore-rating-above"] : 0;
}

/** Whether figures are missing without which no jar that holds the ingredient can be judged. */
export function isUntold(ingredient: Ingredient): boolean {
  return compositionFindings(ingredient).length > 0 || untoldFindings(ingredient).length > 0;
}

/** Limits on skin with the weight of every ingredient, in the order of their numbers. */
export function skinRows(ingredients: readonly Ingredient[]) {
  return skinLimits(ingredients).map(({ weights, most }) => ({
    most,
    weights: Float64Array.from(ingredients, ({ id }) => weights.get(id) ?? 0),
  }));
}

/** A referee for one base. */
export function refereeOf(space: Space, ground: JudgingGround): Referee {
  const { rules, law, useCelsius, airFraction: air = USUAL_AIR_FRACTION } = ground;
  const { slots, ingredients, additives } = space;
  const isOpen =
    useCelsius >= COLDEST_C &&
    useCelsius <= WARMEST_C &&
    air >= 0 &&
    air <= AIR_FRACTION_GREATEST &&
    slots.length + additives.length <= PARTS_GREATEST;
  const pores = ingredients.map((each) => standing(each, rules));
  const countsFrom = Math.max(1, rules.poreTraceBelowShare ?? 0);
  const isUnknown = ingredients.map(isUntold);
  const skin = skinRows(ingredients);
  const makeMelt = meltsOf(ingredients);
  const marginsOf = meltMargins(ground);
  const always = new Float64Array(ingredients.length);
  for (const { ingredient, share } of additives) always[ingredient]! += share;
  const shares = new Float64Array(ingredients.length);
  let judged = 0;
  let melt: Melt | undefined;
  const judgeIn = (slots: readonly Slot[], point: Point): Ruling => {
    judged++;
    melt = undefined;
    shares.set(always);
    for (let at = 0; at < slots.length; at++) {
      shares[slots[at]!.options[point.options[at]!]!]! += point.shares[at]!;
    }
    let against = isOpen ? 0 : BIT["cannot-judge"];
    for (let i = 0; i < shares.length; i++) {
      if (shares[i]! >= countsFrom) against |= pores[i]!;
      if (isUnknown[i] && shares[i]! > 0) against |= BIT["cannot-judge"];
    }
    for (const { weights, most } of skin) {
      let sum = 0;
      for (let i = 0; i < shares.length; i++) sum += weights[i]! * shares[i]!;
      if (sum > most) against |= BIT["skin-limit"];
    }
    if (against & BIT["cannot-judge"]) return { against, margins: UNJUDGED };
    melt = makeMelt(shares);
    if (!melt) return { against: against | BIT["cannot-judge"], margins: UNJUDGED };
    const margins = marginsOf(melt);
    if (!(margins.firmLow >= 0)) against |= BIT["too-soft"];
    if (!(margins.firmHigh > 0)) against |= BIT["too-hard"];
    if (!(margins.softens >= 0)) against |= BIT["softens-too-low"];
    return { against, margins };
  };
  const firmness = () => {
    if (!melt) return undefined;
    const settledPercent = solidFatPercent(melt, "settled", useCelsius);
    const felt = settledPercent + structurePoints(melt, "settled", useCelsius);
    return { settledPercent, yieldPa: yieldPa(felt, air, law) };
  };
  const within = ({ slots }: Space): Referee => ({
    judge: (point) => judgeIn(slots, point),
    ...{ firmness, judged: () => judged, within },
  });
  return within(space);
}
