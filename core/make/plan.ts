/**
 * The temperatures of the making, from the blend's own melting curve.
 *
 * - **Hold**: crystals that survive the melt seed coarse ones later, so the pot is held above the
 *   melting point of the highest-melting species in it. Cocoa butter keeps a memory of its crystals
 *   just above its clear point (van Langevelde 2001); crystals rich in SOS need more than 43 C,
 *   trisaturates 60 to 70 C (from memory). The margin of 5 K, the limits 60 and 80 C and the time
 *   are engineering judgement.
 * - **Chill and whip**: air is held by crystals, so both go by *fresh* solids. The chill ends where
 *   15 % is solid and the fat still moves under a whisk; whipping warms it, and below 8 % it no
 *   longer holds air. Both levels are our own choice: plastic fats are worked at 15 to 30 % (from memory), and a
 *   fat cooled in minutes has less solid than its curve says (Los 2002), so the temperatures are a
 *   start for the maker's own eye and not a setting.
 * - **Air**: overrun = a / (1 - a) and density = fat density x (1 - a), a the volume fraction of
 *   air. Fat density from `density.ts` in the middle of the whip window with its fresh solids. For
 *   a blend with oils that rule does not reach, 0.91 g/ml: plant oils at 24 C run from 0.907 to
 *   0.919 (Noureddini 1992, JAOCS 69:1184, rapeseed to soya), shea butter from 0.91 at 20 C (CXS
 *   325R-2017). Powders are left out of it.
 */
import type { Blend } from "../blend.ts";
import { type Finding, finding } from "../finding.ts";
import type { Ingredient } from "../ingredient.ts";
import { characteristicValues } from "../judge/characteristic-values.ts";
import { fatDensityGPerMl } from "../judge/density.ts";
import { type Melt, meltOf } from "../judge/melt.ts";
import { ZERO_C } from "../judge/pure-fat-correlation.ts";
import { holdsTo } from "../judge/softening.ts";
import { solidFatPercent } from "../judge/solid-fat.ts";
import { stageOf } from "./stages.ts";

export interface Plan {
  /** Pot temperature; nothing when there is nothing to melt [C] */
  readonly holdC?: number;
  /** Below this the cool-down ingredients go in; nothing when there are none [C] */
  readonly coolDownC?: number;
  /** Where the chill ends: a whole number [C] */
  readonly chillC: number;
  /** Warm end of the whip window; its cold end is where the chill ends [C] */
  readonly whipBelowC: number;
  /** Growth by air, volume gained over volume of fat [-] */
  readonly overrun: number;
  /** Of the whipped butter [g/ml] */
  readonly densityGPerMl: number;
}

const HOLD_MARGIN_K = 5;
export const HOLD_LEAST_C = 60;
export const HOLD_GREATEST_C = 80;
/** Cool-down for ingredients whose record names no limit (common practice, no source). */
const COOL_DOWN_USUAL_C = 45;
export const CHILL_SOLIDS_PERCENT = 15;
export const WHIP_SOLIDS_LEAST_PERCENT = 8;
/** A household refrigerator: the coldest that a maker can chill to without a freezer. */
export const COLDEST_CHILL_C = 4;
/** Where the oils of a blend have no density rule. */
export const FAT_DENSITY_G_PER_ML = 0.91;

/**
 * Plan the heat and the air of a batch.
 * @param blend what is made
 * @param melt the blend's melt, from `meltOf`
 * @param airFraction volume fraction of air wanted [-]
 * @returns temperatures and targets; or findings when an ingredient's own limit cannot be kept, or
 *   nothing would whip
 */
export function planBatch(
  blend: Blend,
  melt: Melt,
  airFraction: number,
): { readonly plan: Plan } | { readonly findings: readonly Finding[] } {
  const holdC = holdTemperature(blend);
  const limits = blend.parts.flatMap(({ ingredient }) => coolDownLimit(ingredient));
  const warmest = holdsTo(melt, "fresh", WHIP_SOLIDS_LEAST_PERCENT);
  if (warmest === undefined || warmest < COLDEST_CHILL_C) {
    const measured = solidFatPercent(melt, "fresh", COLDEST_CHILL_C).toFixed(1);
    const figures = { measured, limit: COLDEST_CHILL_C, unit: "%" };
    return { findings: [finding("make.plan.too-liquid-to-whip", "blend", figures)] };
  }
  const findings = [...meltFindings(blend, holdC), ...coolDownFindings(blend, warmest)];
  if (findings.length > 0) return { findings };
  const fullyChilled = holdsTo(melt, "fresh", CHILL_SOLIDS_PERCENT) ?? COLDEST_CHILL_C;
  const chillC = Math.max(COLDEST_CHILL_C, Math.floor(fullyChilled));
  const whipBelowC = Math.ceil(warmest);
  return {
    plan: {
      ...(holdC === undefined ? {} : { holdC }),
      ...(limits.length === 0 ? {} : { coolDownC: Math.min(...limits) }),
      chillC,
      whipBelowC,
      overrun: airFraction / (1 - airFraction),
      densityGPerMl: fatDensity(blend, melt, (chillC + whipBelowC) / 2) * (1 - airFraction),
    },
  };
}

/** Density of the fat as it is whipped [g/ml]. */
function fatDensity(blend: Blend, melt: Melt, celsius: number): number {
  const values = characteristicValues(blend);
  const solids = solidFatPercent(melt, "fresh", celsius);
  return (values && fatDensityGPerMl(celsius, values, solids)) ?? FAT_DENSITY_G_PER_ML;
}

/** Above the highest-melting species of what melts in the pot. */
function holdTemperature(blend: Blend): number | undefined {
  const parts = blend.parts.filter(({ ingredient }) => stageOf(ingredient) === "pot");
  const melt = meltOf({ parts });
  if (!melt) return undefined;
  const meltingC = melt.species.map(({ settled }) => (settled?.meltingK ?? 0) - ZERO_C);
  const clear = Math.ceil(Math.max(...meltingC) + HOLD_MARGIN_K);
  return Math.min(HOLD_GREATEST_C, Math.max(HOLD_LEAST_C, clear));
}

function coolDownLimit(ingredient: Ingredient): number[] {
  if (stageOf(ingredient) !== "cool-down") return [];
  return [ingredient.addBelowC ?? COOL_DOWN_USUAL_C];
}

function meltFindings(blend: Blend, holdC: number | undefined): Finding[] {
  if (holdC === undefined) return [];
  return blend.parts.flatMap(({ ingredient: { id, addBelowC: limit }, ingredient }) => {
    if (stageOf(ingredient) !== "pot" || limit === undefined || limit > holdC) return [];
    return [finding("make.plan.melt-above-limit", id, { measured: holdC, limit, unit: "°C" })];
  });
}

function coolDownFindings(blend: Blend, setsC: number): Finding[] {
  return blend.parts.flatMap(({ ingredient }) => {
    const limit = ingredient.addBelowC;
    if (stageOf(ingredient) !== "cool-down" || limit === undefined || limit > setsC) return [];
    const measured = Math.round(setsC);
    return [finding("make.plan.sets-above-limit", ingredient.id, { measured, limit, unit: "°C" })];
  });
}
