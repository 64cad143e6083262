/**
 * Numbers spread evenly over the unit cube, the same for the same seed.
 *
 * Point i has coordinates frac(shift_k + i phi^-k), k = 1 to d, with phi the positive root of x^(d+1) = x + 1: an
 * additive recurrence, which leaves smaller gaps than chance does (Weyl 1916 for the recurrence; this choice of phi
 * is known as the generalised golden ratio, from memory). The shifts come from the seed, so that a figure worked out
 * with one run of points is an unbiased estimate. Chance is Mulberry32, 32 bits of state, good enough for shifts and
 * public domain (from memory).
 */

/** Numbers from 0 to below 1, evenly likely. */
export type Chance = () => number;

/** @param seed a whole number; only its lowest 32 bits count */
export function chanceFrom(seed: number): Chance {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/**
 * A run of points.
 * @param dimensions coordinates of a point
 * @param chance gives the shifts
 * @returns writes the next point into the array it is given
 */
export function evenPoints(dimensions: number, chance: Chance): (into: Float64Array) => void {
  const steps = stepsOf(dimensions);
  const shifts = steps.map(() => chance());
  let i = 0;
  return (into) => {
    i++;
    for (let k = 0; k < dimensions; k++) into[k] = (shifts[k]! + i * steps[k]!) % 1;
  };
}

const kept = new Map<number, readonly number[]>();

function stepsOf(dimensions: number): readonly number[] {
  let steps = kept.get(dimensions);
  if (!steps) {
    let phi = 2;
    for (let turn = 0; turn < 60; turn++) phi = (1 + phi) ** (1 / (dimensions + 1));
    steps = Array.from({ length: dimensions }, (_, k) => phi ** -(k + 1));
    kept.set(dimensions, steps);
  }
  return steps;
}
