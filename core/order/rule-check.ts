/**
 * A product's rules against very many blends: the verdict of `judgeBlend`, and by how much each rule is met.
 *
 * Only the solids that the rules ask for are reckoned. Whether a jar softens above a temperature is one equilibrium at
 * that temperature, because settled solids never rise with it; only where the answer lies within the tolerance of the
 * root that `judgeBlend` looks for is the root itself looked for, so that the two never part.
 */
import type { Blend } from "../blend.ts";
import type { Product } from "../compose/product.ts";
import { type Finding, weightOf } from "../finding.ts";
import { type Edges, bandHoldsTo, edgesOf } from "../judge/band.ts";
import { compositionFindings } from "../judge/composition.ts";
import { dermalFindings } from "../judge/dermal.ts";
import {
  AIR_FRACTION_GREATEST,
  FIRMNESS_CLASSES,
  type FirmnessLaw,
  USUAL_AIR_FRACTION,
  firmnessClass,
  solidFatFrom,
  yieldPa,
} from "../judge/firmness.ts";
import { type Melt, meltOf } from "../judge/melt.ts";
import { poreFindings } from "../judge/pore-rating.ts";
import { ranOutFindings } from "../judge/ran-out.ts";
import { COLDEST_C, WARMEST_C, settledHoldsTo } from "../judge/softening.ts";
import { solidFatPercent, structurePoints } from "../judge/solid-fat.ts";
import { type Rules, judgeBlend } from "../judge/verdict.ts";

/**
 * Margins of a blend against a product's rules, in points of settled solid fat at the rule's temperature. Negative
 * fails; Infinity where nothing is ruled, -Infinity where it is and the blend cannot be judged.
 */
export interface RuleMargins {
  /** Above the least solids of the softest class allowed. */
  readonly firmLow: number;
  /** Below the least solids of the class harder than the hardest allowed. */
  readonly firmHigh: number;
  /** Above the least solids of the class soft. */
  readonly softens: number;
}

export interface RuleCheck {
  /** Whether `judgeBlend` would call it orderable. */
  readonly passes: boolean;
  /** Whether `judgeBlend` would say that it cannot be judged. */
  readonly cannotJudge: boolean;
  readonly margins: RuleMargins;
  /** What `judgeBlend` finds, worked out when asked for. */
  readonly findings: () => readonly Finding[];
}

/** What blends are judged on. */
export interface JudgingGround {
  /** Room temperature at which firmness is judged [C] */
  readonly useCelsius: number;
  /** Volume fraction of air in the whipped jar [-]; the usual one when not said. */
  readonly airFraction?: number;
  readonly rules: Rules;
  /** Law of the kitchen; the published one when not said. */
  readonly law?: FirmnessLaw;
}

/** What a product's blends are judged on. @param law of the kitchen; the published one when not said */
export function groundOf(
  { useCelsius, airFraction, rules }: Pick<Product, "useCelsius" | "airFraction" | "rules">,
  law?: FirmnessLaw,
): JudgingGround {
  return { useCelsius, airFraction, rules, ...(law ? { law } : {}) };
}

/** Tolerance of a root, and a little for the noise of the solver [C] */
const ROOT_C = 0.011;
/** Solids nearer to a limit than this are looked at the way `judgeBlend` does [% by mass] */
const NOISE = 1e-5;

const NOTHING_RULED: RuleMargins = { firmLow: Infinity, firmHigh: Infinity, softens: Infinity };

/**
 * A function that checks blends against one set of rules.
 * @param ground temperatures [C], air fraction [-], rules and law
 * @returns check of a blend whose shares sum to the whole
 */
export function ruleChecker(ground: JudgingGround): (blend: Blend) => RuleCheck {
  const { useCelsius, airFraction: air = USUAL_AIR_FRACTION, rules, law } = ground;
  const isJudgeable =
    useCelsius >= COLDEST_C && useCelsius <= WARMEST_C && air >= 0 && air <= AIR_FRACTION_GREATEST;
  const marginsOf = meltMargins(ground);
  const isFirmnessRuled = (rules.firmness?.length ?? 0) > 0;
  const unjudged = {
    firmLow: isFirmnessRuled ? -Infinity : Infinity,
    firmHigh: isFirmnessRuled ? -Infinity : Infinity,
    softens: rules.softensAboveLeastCelsius === undefined ? Infinity : -Infinity,
  };
  return (blend) => {
    const weights = [
      ...ranOutFindings(blend),
      ...dermalFindings(blend),
      ...poreFindings(blend, rules),
    ].map(weightOf);
    const findings = () =>
      judgeBlend(blend, { celsius: [], useCelsius, airFraction: air, rules, law }).findings;
    const answer = (isRefused: boolean, isUndecided: boolean, margins: RuleMargins): RuleCheck => ({
      passes: !isRefused && !isUndecided,
      cannotJudge: !isRefused && isUndecided,
      ...{ margins, findings },
    });
    const isRefused = weights.includes("refuses");
    const isKnown = blend.parts.every(
      ({ ingredient }) => compositionFindings(ingredient).length === 0,
    );
    const melt = isJudgeable && isKnown ? meltOf(blend) : undefined;
    if (!melt) return answer(isRefused, true, unjudged);
    const margins = marginsOf(melt);
    const isMet = margins.firmLow >= 0 && margins.firmHigh > 0 && margins.softens >= 0;
    return answer(isRefused || !isMet, weights.includes("cannot-judge"), margins);
  };
}

/**
 * The same margins for whoever makes the melts; met where `firmLow` and `softens` are not below 0 and `firmHigh` is
 * above it.
 */
export function meltMargins(ground: JudgingGround): (melt: Melt) => RuleMargins {
  const air = ground.airFraction ?? USUAL_AIR_FRACTION;
  const edgesIn = ground.rules.strictness === "central" ? centralOf : edgesOf;
  const firmness = firmnessRule(ground, air);
  const softens = softensRule(ground, air);
  return (melt) => {
    const edges = edgesIn(melt);
    // The warmest first: the solver starts from the next warmer answer.
    const softensBy = softens?.(melt, edges) ?? Infinity;
    const { firmLow, firmHigh } = firmness?.(melt, edges) ?? NOTHING_RULED;
    return { firmLow, firmHigh, softens: softensBy };
  };
}

/** Both edges where the central value alone must pass. */
function centralOf(melt: Melt): Edges {
  const solids = (celsius: number) =>
    solidFatPercent(melt, "settled", celsius) + structurePoints(melt, "settled", celsius);
  return { low: solids, high: solids };
}

/** The firmness window as two limits on the settled solids. */
function firmnessRule({ useCelsius, rules, law }: JudgingGround, air: number) {
  const ranks = rules.firmness?.map((each) => FIRMNESS_CLASSES.indexOf(each)) ?? [];
  if (ranks.length === 0) return undefined;
  const softest = Math.min(...ranks);
  const hardest = Math.max(...ranks);
  const above = FIRMNESS_CLASSES[hardest + 1];
  const least = solidFatFrom(FIRMNESS_CLASSES[softest]!, air, law);
  const tooMany = above ? solidFatFrom(above, air, law) : Infinity;
  const isCentral = rules.strictness === "central";
  // The law is turned round to find the limits, so the last digit is left to the law itself.
  const rankOf = (solids: number) =>
    FIRMNESS_CLASSES.indexOf(firmnessClass(yieldPa(solids, air, law)));
  const margin = (isMet: boolean, points: number) =>
    isMet ? Math.max(Number.MIN_VALUE, points) : Math.min(-Number.MIN_VALUE, points);
  return (melt: Melt, edges: Edges) => {
    const low = edges.low(useCelsius);
    const high = isCentral
      ? low
      : edges.high(useCelsius) + 2 * structurePoints(melt, "settled", useCelsius);
    return {
      firmLow: margin(rankOf(low) >= softest, low - least),
      firmHigh: margin(rankOf(high) <= hardest, tooMany - high),
    };
  };
}

/** The least *softens above* as a limit on the settled solids at that temperature. */
function softensRule({ rules, law }: JudgingGround, air: number) {
  const limit = rules.softensAboveLeastCelsius;
  if (limit === undefined) return undefined;
  const body = solidFatFrom("soft", air, law);
  const isCentral = rules.strictness === "central";
  const holds = (melt: Melt) =>
    ((isCentral ? settledHoldsTo(melt, body) : bandHoldsTo(melt, body)) ?? COLDEST_C) >= limit;
  const isInReach = limit > COLDEST_C && limit + ROOT_C < WARMEST_C - 1;
  return (melt: Melt, { low }: Edges) => {
    const points = low(limit) - body;
    if (isInReach && points < -NOISE) return points;
    const isMet = isInReach && low(limit + ROOT_C) - body > NOISE ? true : holds(melt);
    return isMet ? Math.max(0, points) : Math.min(-Number.MIN_VALUE, points);
  };
}
