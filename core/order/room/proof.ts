/**
 * Proofs that no choice of a space passes, or that every one does: the pore rule by what must be present, firmness
 * and softening by bounds on the solids of every blend at once (`solids-range.ts`).
 *
 * The band's edges rise with the solids and its width r lies between the model's own error and that with the greatest
 * spread of any ingredient, so the edges of the range bound the edges of every band.
 */
import { MELTING_ERROR_K, MODEL_ERROR, USUAL_SPREAD } from "../../judge/band.ts";
import { FIRMNESS_CLASSES, USUAL_AIR_FRACTION, solidFatFrom } from "../../judge/firmness.ts";
import { COLDEST_C, WARMEST_C } from "../../judge/softening.ts";
import type { JudgingGround } from "../rule-check.ts";
import { BIT, REASONS, type Reason, isUntold, skinRows, standing } from "./referee.ts";
import { type SolidsRange, solidsRanges } from "./solids-range.ts";
import type { Space } from "./space.ts";

export type Proof =
  { readonly proven: "none"; readonly because: Reason } | { readonly proven: "all" };

/** Left to the noise of the solver [points of solid fat] */
const SLACK = 0.01;
/** Roots are found to within this [C]; `judgeBlend` tells the colder end. */
const ROOT_C = 0.02;

/**
 * Look for a proof.
 * @param start shares inside the bounds, one per slot
 * @returns nothing when neither can be shown
 */
export function proveRoom(
  space: Space,
  ground: JudgingGround,
  start: ArrayLike<number>,
): Proof | undefined {
  const { standsAlways, standsEver } = whatMustStand(space, ground);
  if (standsAlways !== 0) return { proven: "none", because: reasonOf(standsAlways) };
  const at = solidsRanges(space, start);
  if (!at || !isInReach(ground)) return undefined;
  const limits = limitsOf(ground);
  const spread = Math.max(
    ...space.ingredients.map((each) => each.compositionSpread ?? USUAL_SPREAD),
  );
  const edges = edgesOf(ground, spread, at);
  let isAll = standsEver === 0;
  for (const { because, celsius, above, below } of limits) {
    const edge = edges(celsius);
    if (!edge) return undefined;
    const failsAll =
      above === undefined ? edge.highLeast > below! + SLACK : edge.lowGreatest < above - SLACK;
    if (failsAll) return { proven: "none", because };
    const passesAll =
      above === undefined ? edge.highGreatest < below! - SLACK : edge.lowLeast > above + SLACK;
    isAll &&= passesAll;
  }
  return isAll ? { proven: "all" } : undefined;
}

/** What a rule asks of the band: its lower edge above a level, or its upper edge below one. */
interface Limit {
  readonly because: Reason;
  readonly celsius: number;
  readonly above?: number;
  readonly below?: number;
}

function limitsOf({ rules, useCelsius, law, airFraction }: JudgingGround): Limit[] {
  const air = airFraction ?? USUAL_AIR_FRACTION;
  const limits: Limit[] = [];
  const ranks = (rules.firmness ?? []).map((each) => FIRMNESS_CLASSES.indexOf(each));
  if (ranks.length > 0) {
    const least = FIRMNESS_CLASSES[Math.min(...ranks)]!;
    const next = FIRMNESS_CLASSES[Math.max(...ranks) + 1];
    const above = solidFatFrom(least, air, law);
    limits.push({ because: "too-soft", celsius: useCelsius, above });
    const below = next ? solidFatFrom(next, air, law) : Infinity;
    limits.push({ because: "too-hard", celsius: useCelsius, below });
  }
  const softens = rules.softensAboveLeastCelsius;
  if (softens !== undefined) {
    const above = solidFatFrom("soft", air, law);
    limits.push({ because: "softens-too-low", celsius: softens, above });
  }
  return limits;
}

/** Bounds on both edges of every blend's band; the central value has no band. */
function edgesOf(
  { rules }: JudgingGround,
  spread: number,
  at: (celsius: number) => SolidsRange | undefined,
) {
  const isCentral = rules.strictness === "central";
  const shift = isCentral ? 0 : MELTING_ERROR_K;
  const [narrow, wide] = isCentral ? [0, 0] : [MODEL_ERROR, Math.hypot(MODEL_ERROR, spread)];
  const lower = (solids: number, r: number) => solids * (1 - r * (1 - solids / 100));
  const upper = (solids: number, r: number) => solids * (1 + r * (1 - solids / 100));
  return (celsius: number) => {
    const warm = at(celsius + shift);
    const warmer = at(celsius + shift + ROOT_C);
    const cold = at(celsius - shift);
    if (!warm || !warmer || !cold) return undefined;
    return {
      lowLeast: lower(warmer.least, wide),
      lowGreatest: lower(warm.greatest, narrow),
      highLeast: upper(cold.least, narrow),
      highGreatest: upper(cold.greatest, wide),
    };
  };
}

/** Bits that stand against every choice, and against some choice. */
function whatMustStand(space: Space, { rules }: JudgingGround) {
  const { slots, ingredients, additives } = space;
  const countsFrom = Math.max(1, rules.poreTraceBelowShare ?? 0);
  const bits = ingredients.map((each) => {
    const pores = standing(each, rules);
    return { pores, unknown: isUntold(each) ? BIT["cannot-judge"] : 0 };
  });
  let standsAlways = 0;
  let standsEver = 0;
  const meet = (options: readonly number[], least: number, greatest: number) => {
    const weighed = options.map((at) => {
      const { pores, unknown } = bits[at]!;
      return {
        always: (least >= countsFrom ? pores : 0) | (least > 0 ? unknown : 0),
        ever: greatest > 0 ? pores | unknown : 0, // together with another place a trace may count
      };
    });
    for (const { ever } of weighed) standsEver |= ever;
    if (weighed.length > 0 && weighed.every(({ always }) => always !== 0)) {
      standsAlways |= weighed.reduce((all, { always }) => all | always, 0);
    }
  };
  for (const { ingredient, share } of additives) meet([ingredient], share, share);
  for (const { options, least, greatest } of slots) meet(options, least, greatest);
  for (const { weights, most } of skinRows(ingredients)) {
    const always = additives.reduce((sum, each) => sum + weights[each.ingredient]! * each.share, 0);
    const ends = slots.map(({ options, least, greatest }) => {
      const held = options.map((at) => weights[at]!);
      return { least: Math.min(...held) * least, greatest: Math.max(...held) * greatest };
    });
    if (ends.reduce((sum, { least }) => sum + least, always) > most)
      standsAlways |= BIT["skin-limit"];
    if (ends.reduce((sum, { greatest }) => sum + greatest, always) > most)
      standsEver |= BIT["skin-limit"];
  }
  return { standsAlways, standsEver };
}

function isInReach({ useCelsius, rules }: JudgingGround): boolean {
  const asked = [useCelsius, rules.softensAboveLeastCelsius ?? useCelsius];
  return asked.every((each) => each >= COLDEST_C + 2 && each <= WARMEST_C - 2);
}

/** The first of the bits, in the order of the reasons; what cannot be judged last. */
function reasonOf(bits: number): Reason {
  return REASONS.find((reason) => bits & BIT[reason])!;
}
