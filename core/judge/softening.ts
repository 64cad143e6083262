/**
 * Temperatures at which a settled jar gives way.
 *
 * *Softens above*: the highest temperature at which the settled fat still has the solids of the class soft; above it
 * the jar is fluid. *Slip melting point*: the temperature at which about 4 % solids are left, where a fat column in
 * an open capillary begins to rise (ISO 6321 defines the test; the 4 % is from memory).
 */
import type { FatState, Melt } from "./melt.ts";
import { solidFatPercent, structurePoints } from "./solid-fat.ts";

export const COLDEST_C = -10;
export const WARMEST_C = 60;
/** Solids at which a fat column begins to rise [% by mass]. */
export const SLIP_SOLIDS_PERCENT = 4;
const CLOSE_ENOUGH_C = 0.01;
/** Roots are first sought among these steps, which a curve and the other roots ask for as well. */
const STEP_C = 5;

/**
 * Highest temperature at which the solids reach a level.
 *
 * Method: halving over steps of 5 C, then the false position, and halving again whenever it closes in from one side
 * only.
 * @param solidsPercent level, above 0 [% by mass]
 * @param withStructure whether what a wax adds to the feel counts
 * @returns temperature, within 0.01 C below the true one [C]; nothing when even the coldest judged temperature has
 *   fewer solids
 */
export function holdsTo(
  melt: Melt,
  state: FatState,
  solidsPercent: number,
  withStructure = true,
): number | undefined {
  const surplus = (celsius: number) =>
    solidFatPercent(melt, state, celsius) +
    (withStructure ? structurePoints(melt, state, celsius) : 0) -
    solidsPercent;
  let cold = COLDEST_C;
  let warm = WARMEST_C;
  let above = surplus(cold);
  let below = surplus(warm);
  if (above < 0) return undefined;
  if (below >= 0) return WARMEST_C;
  let halve = false;
  while (warm - cold > CLOSE_ENOUGH_C) {
    const width = warm - cold;
    let middle = cold + width / 2;
    if (width > STEP_C) middle = STEP_C * Math.round(middle / STEP_C);
    else if (!halve) {
      const guess = cold + (width * above) / (above - below);
      // Half the tolerance to the far side of the guess, so that the next step can close the gap.
      middle = guess + Math.sign(middle - guess) * (CLOSE_ENOUGH_C / 2);
    }
    const value = surplus(middle);
    if (value >= 0) [cold, above] = [middle, value];
    else [warm, below] = [middle, value];
    halve = !halve && warm - cold > width / 2;
  }
  return cold;
}

/** The same of the settled jar. */
export function settledHoldsTo(
  melt: Melt,
  solidsPercent: number,
  withStructure = true,
): number | undefined {
  return holdsTo(melt, "settled", solidsPercent, withStructure);
}

/** Slip melting point estimate of the settled fat [C]; nothing for an oil. */
export function slipMeltingC(melt: Melt): number | undefined {
  return settledHoldsTo(melt, SLIP_SOLIDS_PERCENT, false);
}
