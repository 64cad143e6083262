/**
 * How well a blend fits wishes, as one figure: 0 is the customer's own blend with every wish met, less is better.
 *
 *   score = 3 x what is missing of each clear step wished + 1 x steps away from where feel or oil phase should be
 *         + 1 a tenth of the jar moved + 1 a tenth dearer + 2 an allergen family brought
 *         + 1 where the thickness of the oil phase can no longer be told
 *
 * The weights are our own choice: a wish is worth three of what it costs. A clear step is that of `felt-steps.ts`.
 * Where feel or oil phase is not wished for it should stay; more than the step wished is a drift as well.
 */
import { type Blend, type Part, WHOLE } from "../../blend.ts";
import { USUAL_AIR_FRACTION, yieldPa } from "../../judge/firmness.ts";
import { type Melt, meltOf } from "../../judge/melt.ts";
import { oilPhase } from "../../judge/oil-phase.ts";
import { solidFatPercent, structurePoints } from "../../judge/solid-fat.ts";
import type { Tariff } from "../../price/tariff.ts";
import { THICKNESS_STEP, YIELD_STEP } from "../felt-steps.ts";
import type { Margins, Probe } from "../nearest/probe.ts";
import { type JudgingGround, meltMargins } from "../rule-check.ts";
import type { Wishes } from "./wish.ts";

export const WEIGHT = { missing: 3, drift: 1, tenthMoved: 1, tenthDearer: 1, brings: 2, untold: 1 };
/** Of a clear step: less than this is not what was wished for. */
export const STEP_LEAST = 0.5;

/** Solids below which a jar is as fluid as can be: a yield value of nothing has no logarithm [% by mass] */
const SOLIDS_LEAST = 0.01;

/** Where feel and oil phase stand in the margins that a probe of wishes gives, behind the three rules. */
const FEEL = 3;
export const OIL_PHASE = 4;
export const COMPARED = [FEEL, OIL_PHASE] as const;

/** The customer's own blend, as far as it can be told. */
export interface Reference {
  readonly lnYield: number | undefined;
  readonly lnViscosity: number | undefined;
  /** Price of the jar before rounding [billionths of a minor unit] */
  readonly nano: number | undefined;
  readonly families: ReadonlySet<string>;
}

export interface Objective {
  readonly reference: Reference;
  /** Steps wished, by place in the margins: 1 firmer or richer, -1 softer or thinner, 0 as it is. */
  readonly way: Readonly<Record<typeof FEEL | typeof OIL_PHASE, -1 | 0 | 1>>;
  readonly tariff: Tariff | undefined;
  /** Margins of the rules, then steps firmer and steps richer; Infinity where nothing is compared. */
  readonly probe: Probe;
}

/** Logarithms of the yield value at use [Pa] and of the viscosity on skin [mm2/s]; every composition is known. */
export function lnFigures(
  blend: Blend,
  melt: Melt | undefined,
  { useCelsius, airFraction = USUAL_AIR_FRACTION, law }: JudgingGround,
): Pick<Reference, "lnYield" | "lnViscosity"> {
  if (!melt) return { lnYield: undefined, lnViscosity: undefined };
  const solids =
    solidFatPercent(melt, "settled", useCelsius) + structurePoints(melt, "settled", useCelsius);
  const { viscosityMm2PerS: viscosity } = oilPhase(blend, melt);
  return {
    lnYield: Math.log(yieldPa(Math.max(SOLIDS_LEAST, solids), airFraction, law)),
    lnViscosity: viscosity === undefined ? undefined : Math.log(viscosity),
  };
}

/** @param question the rules with the hard wishes in them */
export function objectiveOf(
  reference: Reference,
  { feel, oilPhase: oil }: Wishes,
  question: JudgingGround,
  tariff: Tariff | undefined,
): Objective {
  const margins = meltMargins(question);
  const way = {
    [FEEL]: feel === "firmer" ? 1 : feel === "softer" ? -1 : 0,
    [OIL_PHASE]: oil === "richer" ? 1 : oil === "thinner" ? -1 : 0,
  } as const;
  const steps = (from: number | undefined, to: number | undefined, step: number, at: 3 | 4) => {
    if (from === undefined) return Infinity;
    // What can no longer be told keeps no wish.
    return to === undefined ? (way[at] ? -Infinity : Infinity) : (to - from) / step;
  };
  return {
    ...{ reference, way, tariff },
    probe: (parts) => {
      const blend = { parts };
      const melt = meltOf(blend);
      if (!melt) return [-Infinity, -Infinity, -Infinity, Infinity, Infinity];
      const { firmLow, firmHigh, softens } = margins(melt);
      const { lnYield, lnViscosity } = lnFigures(blend, melt, question);
      return [
        ...[firmLow, firmHigh, softens],
        steps(reference.lnYield, lnYield, YIELD_STEP, FEEL),
        steps(reference.lnViscosity, lnViscosity, THICKNESS_STEP, OIL_PHASE),
      ];
    },
  };
}

/** Price of parts before rounding [billionths of a minor unit]; NaN where a rate is missing. */
export function nanoOf({ fixedNano, rateNano }: Tariff, parts: readonly Part[]): number {
  return parts.reduce(
    (sum, { ingredient, share }) => sum + (rateNano[ingredient.id] ?? NaN) * share,
    fixedNano,
  );
}

/**
 * The score of parts.
 * @param moved half of all that goes and comes [hundredths of a percent]
 * @param margins what the objective's probe gives of the parts
 */
export function scoreOf(
  { reference, way, tariff }: Objective,
  parts: readonly Part[],
  moved: number,
  margins: Margins,
): number {
  let score = (WEIGHT.tenthMoved * moved) / (WHOLE / 10);
  for (const at of COMPARED) score += scoreOfSteps(way[at], margins[at]!);
  if (reference.lnViscosity !== undefined && margins[OIL_PHASE] === Infinity) {
    score += WEIGHT.untold;
  }
  if (tariff && reference.nano) {
    score += WEIGHT.tenthDearer * Math.max(0, 10 * (nanoOf(tariff, parts) / reference.nano - 1));
  }
  return score + WEIGHT.brings * familiesBrought(reference, parts).length;
}

function scoreOfSteps(way: -1 | 0 | 1, steps: number): number {
  if (!Number.isFinite(steps)) return 0;
  if (way === 0) return WEIGHT.drift * Math.abs(steps);
  const gained = way * steps;
  return gained < 1 ? WEIGHT.missing * (1 - gained) : WEIGHT.drift * (gained - 1);
}

/** Allergen families that the customer's own blend does not hold. */
export function familiesBrought({ families }: Reference, parts: readonly Part[]): string[] {
  const held = parts.flatMap(({ ingredient }) => ingredient.allergenFamilies);
  return [...new Set(held)].filter((family) => !families.has(family));
}
