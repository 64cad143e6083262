/**
 * Gaps between arrivals that know nothing of each other, and work of no particular length.
 */
import type { Chance } from "#core/order/room/sequence.ts";

/** A draw from the exponential distribution. @param mean of any unit, which the draw has too */
export function exponential(chance: Chance, mean: number): number {
  return -mean * Math.log(1 - chance());
}
