/**
 * Solid fat content of a melt, and what of it a finger feels: the equilibrium of its species (`equilibrium.ts`), put
 * right where a lot was measured (`measured-curve.ts`).
 */
import { equilibriumSolids, liquidMoles } from "./equilibrium.ts";
import { measuredSolids } from "./measured-curve.ts";
import type { FatState, Melt } from "./melt.ts";

/**
 * Solid fat content.
 * @param melt species of the blend
 * @param state fresh or settled
 * @param celsius temperature, -10 to 60 [C]
 * @returns percent by mass of the fat that is solid, 0 to 100
 */
export function solidFatPercent(melt: Melt, state: FatState, celsius: number): number {
  return (melt.measured ? measuredSolids : equilibriumSolids)(melt, state, celsius);
}

/**
 * What waxes add to the feel beyond their solids: a wax builds its network from far less than a fat needs.
 * @returns points of fat solids to add before firmness is read; 0 without wax
 */
export function structurePoints(melt: Melt, state: FatState, celsius: number): number {
  if (!melt.frame.isStructured) return 0;
  const liquid = liquidMoles(melt, state, celsius);
  let points = 0;
  for (const [i, { structure = 1 }] of melt.species.entries()) {
    points += 100 * (structure - 1) * (melt.moles[i]! - liquid[i]!) * melt.molarMass[i]!;
  }
  return points;
}
