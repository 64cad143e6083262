/**
 * A stored test jar -> what the kitchen can learn from it, or why it cannot.
 */
import { type Blend, type Part, WHOLE, makeBlend } from "#core/blend.ts";
import type { FirmnessClass } from "#core/judge/firmness.ts";
import { yieldByConePa } from "#core/judge/penetration.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { ingredientById } from "#data/library.ts";
import * as z from "zod";
import type { TestJarRow } from "../storage/test-jars.ts";
import { airByWeight } from "./air.ts";
import type { Reading } from "./likelihood.ts";
import type { Evidence } from "./learn.ts";

/** The law speaks of the settled jar; a young one has not set (makers rate from the third day on, read). */
const DAYS_RESTED_LEAST = 3;

/** With fewer solids it is the melt that is tried and not the law. Own choice [% by mass]. */
const SOLIDS_LEAST_PERCENT = 1;

const JarPartsShape = z.array(
  z.strictObject({ ingredient: z.string(), share: z.int().min(0).max(WHOLE) }),
);

export interface ReadJar {
  readonly row: TestJarRow;
  readonly blend?: Blend;
  /** Set when the jar's solids and air could be reckoned. */
  readonly evidence?: Evidence;
  /** Set when nothing is learned from it. */
  readonly leftOut?: string;
}

/** Read a stored jar. */
export function readJar(row: TestJarRow): ReadJar {
  const blend = blendOfParts(JarPartsShape.parse(JSON.parse(row.parts)));
  if (!blend) return { row, leftOut: "an ingredient is no longer in the library" };
  const solids = settledSolids(blend, row.celsius);
  if (!solids) return { row, blend, leftOut: "its blend cannot be judged" };
  const air = airByWeight(blend, row.celsius, solids.percent, row.netMg / 1000, row.jarUl / 1000);
  if ("impossible" in air) return { row, blend, leftOut: "its weight does not fit its volume" };
  const { lot } = row;
  const read = { row, blend };
  const solidFatPercent = solids.feltPercent;
  const evidence = { solidFatPercent, airFraction: air.airFraction, reading: readingOf(row), lot };
  if (row.struckAt !== null) return { ...read, evidence, leftOut: "struck out" };
  if (row.daysRested < DAYS_RESTED_LEAST) {
    return { ...read, evidence, leftOut: `rested under ${DAYS_RESTED_LEAST} days` };
  }
  if (solidFatPercent < SOLIDS_LEAST_PERCENT) {
    return { ...read, evidence, leftOut: "all but molten at that temperature" };
  }
  return { ...read, evidence };
}

/**
 * Settled solids [% by mass of the fat], and what they feel like with the structure a wax adds; nothing when the blend
 * cannot be judged.
 */
export function settledSolids(
  blend: Blend,
  celsius: number,
): { readonly percent: number; readonly feltPercent: number } | undefined {
  const [point] = judgeBlend(blend, { celsius: [celsius], useCelsius: celsius }).solidFat;
  return point && { percent: point.settled, feltPercent: point.settled + point.structure };
}

function readingOf(row: TestJarRow): Reading {
  if (row.grade !== null) return { grade: row.grade satisfies FirmnessClass };
  const pa = yieldByConePa({
    weightG: row.coneWeightG!, // the table holds a grade or all three
    angleDegrees: row.coneAngleDegrees!,
    depthTenthMm: row.coneDepthTenthMm!,
  });
  return { yieldPa: pa };
}

function blendOfParts(stored: z.infer<typeof JarPartsShape>): Blend | undefined {
  const parts: Part[] = [];
  for (const { ingredient: id, share } of stored) {
    const ingredient = ingredientById(id);
    if (!ingredient) return undefined;
    parts.push({ ingredient, share });
  }
  const made = makeBlend(parts);
  return "blend" in made ? made.blend : undefined;
}
