/**
 * Money: integer minor units of one currency.
 *
 * The number of decimals of a currency is given from outside (ISO 4217), never derived: a wrong exponent sells at a
 * hundredth of the price.
 */
export interface Currency {
  /** ISO 4217 code, upper case. */
  readonly code: string;
  /** Decimals of the minor unit: 2 for GBP, 0 for JPY, 3 for KWD. */
  readonly exponent: number;
}

/** Largest amount that payment services take: eight digits. */
export const AMOUNT_GREATEST_MINOR = 99_999_999;

/**
 * Divide two whole numbers and round half up.
 * @param numerator not negative
 * @param denominator positive
 */
export function divideHalfUp(numerator: bigint, denominator: bigint): bigint {
  return (2n * numerator + denominator) / (2n * denominator);
}

/**
 * Divide two whole numbers and round up.
 * @param numerator not negative
 * @param denominator positive
 */
export function divideUp(numerator: bigint, denominator: bigint): bigint {
  return (numerator + denominator - 1n) / denominator;
}

/** Whether a figure is a whole number that no sum has rounded, and not below the least. */
export function isWholeFrom(value: number, least: number): boolean {
  return Number.isSafeInteger(value) && value >= least;
}

/** An exact amount: numerator and positive denominator. */
export type Fraction = readonly [up: bigint, down: bigint];

export function add([a, b]: Fraction, [c, d]: Fraction): Fraction {
  // Packs of one size share a denominator; without this it would grow with every ingredient.
  return b === d ? [a + c, b] : [a * d + c * b, b * d];
}

export function times([up, down]: Fraction, by: bigint, over: bigint): Fraction {
  return [up * by, down * over];
}

export function roundHalfUp([up, down]: Fraction): number {
  return Number(divideHalfUp(up, down));
}
