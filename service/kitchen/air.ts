/**
 * Air in a test jar: a jar of known volume, filled level and weighed.
 *
 * Air = 1 - mass x (volume of one gram without air) / jar volume. The fat by `density.ts` with its settled solids;
 * where that has no figure, liquid fat of 0.91 g/ml as in the work order. Powder 1.5 g/ml, as starch grains are (from
 * memory).
 */
import { type Blend, WHOLE } from "#core/blend.ts";
import { characteristicValues } from "#core/judge/characteristic-values.ts";
import { SHRINKS_ON_SETTING, fatDensityGPerMl } from "#core/judge/density.ts";
import { AIR_FRACTION_GREATEST } from "#core/judge/firmness.ts";
import { FAT_DENSITY_G_PER_ML } from "#core/make/plan.ts";

const POWDER_DENSITY_G_PER_ML = 1.5;

/** Heavier than the fat itself by up to this much is taken for an unsteady fill and no air at all. Own choice. */
const FILL_ERROR = 0.05;

export type Weighed = { readonly airFraction: number } | { readonly impossible: string };

/**
 * Air fraction of a jar.
 * @param celsius temperature it was felt at, taken for that of the weighing [C]
 * @param solidFatPercent settled solids there [% by mass of the fat]
 * @param netG what is in the jar [g], above 0
 * @param jarMl what the jar holds, filled level [ml], above 0
 * @returns volume fraction of air, 0 to 0.8; or a sentence that says why it cannot be
 */
export function airByWeight(
  blend: Blend,
  celsius: number,
  solidFatPercent: number,
  netG: number,
  jarMl: number,
): Weighed {
  const density = 1 / mlPerGram(blend, celsius, solidFatPercent);
  const airFraction = 1 - netG / (jarMl * density);
  const most = Math.round(jarMl * density);
  if (airFraction < -FILL_ERROR) {
    return {
      impossible:
        `${netG} g cannot fit into ${jarMl} ml: without any air this blend would weigh about ${most} g. ` +
        "Take the empty jar off the weight, and measure its volume by filling it with water.",
    };
  }
  if (airFraction > AIR_FRACTION_GREATEST) {
    return {
      impossible:
        `${netG} g in ${jarMl} ml would be more than four fifths air. ` +
        "Fill the jar level, without hollows, and check the weight and the volume.",
    };
  }
  return { airFraction: Math.max(0, airFraction) };
}

function mlPerGram(blend: Blend, celsius: number, solidFatPercent: number): number {
  const powder =
    blend.parts
      .filter(({ ingredient }) => ingredient.composition.kind === "undissolved")
      .reduce((sum, { share }) => sum + share, 0) / WHOLE;
  return (
    (1 - powder) / fatDensity(blend, celsius, solidFatPercent) + powder / POWDER_DENSITY_G_PER_ML
  );
}

function fatDensity(blend: Blend, celsius: number, solidFatPercent: number): number {
  const values = characteristicValues(blend);
  const byRule = values && fatDensityGPerMl(celsius, values, solidFatPercent);
  return byRule ?? FAT_DENSITY_G_PER_ML / (1 - (SHRINKS_ON_SETTING * solidFatPercent) / 100);
}
