/**
 * Jars -> bulk mass -> what the scale must show for each ingredient.
 *
 * Method: fill mass of all jars, raised by the loss allowance and up to the next step of the scale,
 * then split over the shares by largest remainder (`apportion`), counted in steps of the scale. So
 * every target can be read on the scale, the targets sum to the bulk exactly, and none is off its
 * due by a whole step. Masses are integer milligrams throughout.
 */
import { apportion } from "../apportion.ts";
import { type Blend, WHOLE } from "../blend.ts";
import { type Finding, finding } from "../finding.ts";
import type { Ingredient } from "../ingredient.ts";
import { divideUp, isWholeFrom } from "../price/money.ts";

export interface JarLine {
  /** Net weight sold, a whole number [g] */
  readonly fillG: number;
  readonly quantity: number;
}

export interface BatchSize {
  readonly jars: readonly JarLine[];
  /** Bulk made beyond what goes into jars [hundredths of a percent of the fill] */
  readonly lossShare: number;
  /** Smallest step the scale shows; 100 for a scale that shows tenths of a gram [mg] */
  readonly scaleStepMg: number;
}

export interface Weighing {
  readonly ingredient: Ingredient;
  /** [hundredths of a percent] */
  readonly share: number;
  /** What the scale must show, a multiple of its step [mg] */
  readonly targetMg: number;
}

export interface ScaledBatch {
  /** Theoretical yield: what the jars take [mg] */
  readonly fillMg: number;
  /** Everything weighed in; the sum of the targets [mg] */
  readonly bulkMg: number;
  /** In the order of the blend. */
  readonly weighings: readonly Weighing[];
}

/**
 * A target of n steps is rounded by up to half a step, an error of 0.5 / n of the ingredient. Ten
 * steps keep that within 5 %, which for an additive at 1 % moves the blend by 0.05 %. Below ten the
 * weighing is refused. Own choice: pharmacies ask for far more (their limit is 0.1 %), kitchens for
 * less.
 */
export const STEPS_LEAST = 10;

const MG_PER_G = 1000;

/**
 * Scale a blend to a batch.
 * @param blend shares sum to the whole
 * @param size jars, loss allowance and scale
 * @returns masses [mg], or findings: a size that makes no sense, or an ingredient too light for the
 *   scale
 */
export function scaleBatch(
  blend: Blend,
  size: BatchSize,
): { readonly batch: ScaledBatch } | { readonly findings: readonly Finding[] } {
  const faults = sizeFindings(size);
  if (faults.length > 0) return { findings: faults };
  const step = BigInt(size.scaleStepMg);
  const fillG = size.jars.reduce((sum, jar) => sum + BigInt(jar.fillG) * BigInt(jar.quantity), 0n);
  const fillMg = fillG * BigInt(MG_PER_G);
  const wholeBulk = fillMg * BigInt(WHOLE + size.lossShare);
  const steps = divideUp(wholeBulk, BigInt(WHOLE) * step);
  if (steps * step > BigInt(Number.MAX_SAFE_INTEGER)) {
    return { findings: [impossible("mass of the batch", "below 9 000 t", `${fillG} g`)] };
  }
  const targets = apportion(
    Number(steps),
    blend.parts.map(({ share }) => share),
  );
  const weighings = blend.parts.map(({ ingredient, share }, at) => ({
    ingredient,
    share,
    targetMg: targets[at]! * size.scaleStepMg,
  }));
  const findings = weighings
    .filter(({ share }, at) => share > 0 && targets[at]! < STEPS_LEAST)
    .map(({ ingredient, targetMg }) => tooLight(ingredient.id, targetMg, size.scaleStepMg));
  if (findings.length > 0) return { findings };
  return { batch: { fillMg: Number(fillMg), bulkMg: Number(steps * step), weighings } };
}

/** An ingredient that weighs too few steps of the scale [mg] */
export function tooLight(ingredientId: string, massMg: number, scaleStepMg: number): Finding {
  return finding("make.scale.below-resolution", ingredientId, {
    measured: gramsOnScale(massMg, scaleStepMg),
    limit: gramsOnScale(scaleStepMg, scaleStepMg),
    unit: "g",
  });
}

/**
 * A mass as the scale shows it: grams with the decimals of its step.
 * @param massMg whole number [mg]
 * @param scaleStepMg step of the scale [mg]
 */
export function gramsOnScale(massMg: number, scaleStepMg: number): string {
  let decimals = 0;
  while ((scaleStepMg * 10 ** decimals) % MG_PER_G !== 0) decimals += 1;
  const whole = Math.floor(massMg / MG_PER_G);
  if (decimals === 0) return String(whole);
  const milligrams = String(massMg % MG_PER_G).padStart(3, "0");
  return `${whole}.${milligrams.slice(0, decimals)}`;
}

function sizeFindings({ jars, lossShare, scaleStepMg }: BatchSize): Finding[] {
  const findings: Finding[] = [];
  if (jars.length === 0) findings.push(impossible("the list of jars", "at least one jar", 0));
  for (const { fillG, quantity } of jars) {
    if (!isWholeFrom(fillG, 1)) {
      findings.push(impossible("the fill of a jar", "a whole number of grams", fillG));
    }
    if (!isWholeFrom(quantity, 1)) {
      findings.push(impossible("the number of jars", "a whole number from 1", quantity));
    }
  }
  if (!isWholeFrom(lossShare, 0) || lossShare > WHOLE) {
    findings.push(impossible("the loss allowance", "from 0 to 100 %", lossShare / 100));
  }
  if (!isWholeFrom(scaleStepMg, 1)) {
    findings.push(impossible("the step of the scale", "a whole number of milligrams", scaleStepMg));
  }
  return findings;
}

function impossible(subject: string, limit: string, measured: number | string): Finding {
  return finding("make.batch.impossible", subject, { limit, measured });
}
