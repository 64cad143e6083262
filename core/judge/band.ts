/**
 * How far the truth may lie from the reckoned solid fat.
 *
 * Method: 6 points up to 25 C and 10 points from 28 C, the spread that composition and melting points cause in whole
 * fats (`core/README.md`: shea's crop range moves it by 12 points at 20 C, 6 either way; 1 K on all melting points
 * moves cocoa butter by 11 to 14 at 30 C), straight between. It was found on fats, so a blend carries it in
 * proportion to how much of it can crystallise at all, taken as its settled solids at 0 C: oil that never sets
 * carries no error. Own choice.
 */
import type { Melt } from "./melt.ts";
import { solidFatPercent } from "./solid-fat.ts";

export interface Band {
  /** [% by mass] */
  readonly low: number;
  readonly high: number;
}

const COOL = { celsius: 25, points: 6 };
const WARM = { celsius: 28, points: 10 };

/**
 * A function that gives the half width of the band of this melt.
 * @returns half width at a temperature [points of solid fat]
 */
export function bandOf(melt: Melt): (celsius: number) => number {
  const canCrystallise = solidFatPercent(melt, "settled", 0) / 100;
  return (celsius) => canCrystallise * wholeFatError(celsius);
}

/** Put the band round a value. */
export function around(solidFat: number, halfWidth: number): Band {
  return { low: Math.max(0, solidFat - halfWidth), high: Math.min(100, solidFat + halfWidth) };
}

function wholeFatError(celsius: number): number {
  if (celsius <= COOL.celsius) return COOL.points;
  if (celsius >= WARM.celsius) return WARM.points;
  const way = (celsius - COOL.celsius) / (WARM.celsius - COOL.celsius);
  return COOL.points + way * (WARM.points - COOL.points);
}
