/**
 * Amounts as people type them at the bench.
 */
import { hasDecimals, numberOf, saidOf } from "../typed/figure.ts";

interface Ask {
  /** What it is, to begin a sentence. */
  readonly what: string;
  readonly unit: "g" | "ml";
  /** Greatest that makes sense [thousandths of the unit] */
  readonly most: number;
}

/**
 * Read an amount in thousandths of its unit: milligrams or microlitres. A comma may stand for the point.
 * @param faults takes a sentence when it is none
 * @returns a whole number; NaN with a fault
 */
export function readAmount(typed: string, { what, unit, most }: Ask, faults: string[]): number {
  const value = numberOf(typed.replace(/\s*(g|ml)$/i, ""));
  const amount = Math.round(value * 1000);
  if (amount >= 0 && amount <= most && hasDecimals(value, 3)) return amount;
  faults.push(
    `${what}: the figure ${saidOf(typed)}. Write ${unit} such as 374.40, with three decimals at most, up to ${most / 1000}.`,
  );
  return Number.NaN;
}
