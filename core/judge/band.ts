/**
 * How far the truth may lie from the reckoned solid fat.
 *
 * Two causes (`core/README.md`, what moves it): melting points, which shift the whole curve by a kelvin either way,
 * and composition with the rest of the model, which makes the solids greater or smaller by a part of themselves. So
 *   low(T) = S' (1 - r (1 - S'/100)), S' = S(T + 1);   high(T) = S' (1 + r (1 - S'/100)), S' = S(T - 1)
 * with r^2 = 0.05^2 + s^2. Each fat's own spread s (`Ingredient.compositionSpread`) counts by the solids it can
 * bring, and lots stray independently. Nothing above the clear point, nothing for oil that never sets, never rising.
 * The kelvin and the 0.05 are our choice; the band then holds six in ten of the reference values, so read it as one
 * standard deviation. A wax's structure is known to within its own size: none of it at the low edge, twice at the
 * high one.
 */
import { fatProfile } from "./profile.ts";
import type { Melt } from "./melt.ts";
import { COLDEST_C, settledHoldsTo } from "./softening.ts";
import { solidFatPercent } from "./solid-fat.ts";

export interface Band {
  /** [% by mass] */
  readonly low: number;
  readonly high: number;
}

export const MELTING_ERROR_K = 1;
export const MODEL_ERROR = 0.05;
export const USUAL_SPREAD = 0.1;

/** The edges of the band by themselves: each costs an equilibrium. */
export interface Edges {
  /** Settled solid fat at a temperature [C] that the truth is not likely to lie below or above [% by mass] */
  readonly low: (celsius: number) => number;
  readonly high: (celsius: number) => number;
}

/** The two edges of the band of a melt, each reckoned only when it is asked for. */
export function edgesOf(melt: Melt): Edges {
  const error = relativeError(melt);
  return {
    low: (celsius) => {
      const solids = solidFatPercent(melt, "settled", celsius + MELTING_ERROR_K);
      return solids * (1 - error * (1 - solids / 100));
    },
    high: (celsius) => {
      const solids = solidFatPercent(melt, "settled", celsius - MELTING_ERROR_K);
      return solids * (1 + error * (1 - solids / 100));
    },
  };
}

/**
 * A function that gives the band of this melt.
 * @returns band of settled solid fat at a temperature [C]
 */
export function bandOf(melt: Melt): (celsius: number) => Band {
  const { low, high } = edgesOf(melt);
  return (celsius) => ({ low: low(celsius), high: high(celsius) });
}

/**
 * Highest temperature at which the lower edge of the band reaches a level.
 * @param solidsPercent level, above 0 [% by mass]
 * @returns [C]; nothing when even the coldest judged temperature has fewer solids
 */
export function bandHoldsTo(melt: Melt, solidsPercent: number): number | undefined {
  const error = relativeError(melt) / 100;
  const slope = 1 - 100 * error;
  const needed = (Math.sqrt(slope ** 2 + 4 * error * solidsPercent) - slope) / (2 * error);
  const holds = settledHoldsTo(melt, needed, false);
  if (holds === undefined || holds < COLDEST_C + MELTING_ERROR_K) return undefined;
  return holds - MELTING_ERROR_K;
}

function relativeError(melt: Melt): number {
  let variance = 0;
  let whole = 0;
  for (const { ingredient, fraction } of melt.parts) {
    const solids = fraction * fatProfile(ingredient).settingG;
    variance += (solids * (ingredient.compositionSpread ?? USUAL_SPREAD)) ** 2;
    whole += solids;
  }
  return Math.hypot(MODEL_ERROR, whole === 0 ? 0 : Math.sqrt(variance) / whole);
}
