/**
 * Temperatures at which a settled jar gives way.
 *
 * *Softens above*: the highest temperature at which the settled fat still has the solids of the class soft; above it
 * the jar is fluid. *Slip melting point*: the temperature at which about 4 % solids are left, where a fat column in
 * an open capillary begins to rise (ISO 6321 defines the test; the 4 % is from memory).
 */
import type { Melt } from "./melt.ts";
import { solidFatPercent } from "./solid-fat.ts";

export const COLDEST_C = -10;
export const WARMEST_C = 60;
const SLIP_SOLIDS_PERCENT = 4;
const CLOSE_ENOUGH_C = 0.01;

/**
 * Highest temperature at which the settled solids, less an allowance, reach a level.
 *
 * Method: bisection. Measured on real blends, regula falsi and ITP save one or two of fourteen steps, because the curve
 * has kinks where a species melts; not worth their rules.
 * @param solidsPercent level, above 0 [% by mass]
 * @param allowance points to take off at a temperature; 0 for the central value
 * @returns temperature, within 0.01 C below the true one [C]; nothing when even the coldest judged temperature has
 *   fewer solids
 */
export function settledHoldsTo(
  melt: Melt,
  solidsPercent: number,
  allowance: (celsius: number) => number = () => 0,
): number | undefined {
  const holds = (celsius: number) =>
    solidFatPercent(melt, "settled", celsius) - allowance(celsius) >= solidsPercent;
  if (!holds(COLDEST_C)) return undefined;
  if (holds(WARMEST_C)) return WARMEST_C;
  let cold = COLDEST_C;
  let warm = WARMEST_C;
  while (warm - cold > CLOSE_ENOUGH_C) {
    const middle = (cold + warm) / 2;
    if (holds(middle)) cold = middle;
    else warm = middle;
  }
  return cold;
}

/** Slip melting point estimate of the settled fat [C]; nothing for an oil. */
export function slipMeltingC(melt: Melt): number | undefined {
  return settledHoldsTo(melt, SLIP_SOLIDS_PERCENT);
}
