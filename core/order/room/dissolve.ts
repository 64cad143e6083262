/**
 * Liquid in a gram of fat whose species all crystallise alone: the largest root of L = outside + sum min(z, L k), by
 * Newton's method from above, as in `judge/equilibrium.ts`. Proofs need it for amounts that are no blend's.
 */
const STEPS = 100;
const TOLERANCE = 1e-12;

/**
 * @param z moles of each species
 * @param k 1/K of each
 * @param outside moles that are liquid anyway
 * @returns moles of liquid; never more than the truth by more than a billionth of it
 */
export function dissolve(z: Float64Array, k: Float64Array, outside: number): number {
  let total = outside;
  for (let i = 0; i < z.length; i++) total += z[i]!;
  let liquid = total;
  for (let step = 0; step < STEPS; step++) {
    let excess = outside - liquid;
    let slope = -1;
    for (let i = 0; i < z.length; i++) {
      const dissolved = liquid * k[i]!;
      if (z[i]! > dissolved) slope += k[i]!;
      excess += Math.min(z[i]!, dissolved);
    }
    if (Math.abs(excess) <= TOLERANCE * total || slope >= 0) break;
    liquid -= excess / slope;
    if (liquid <= TOLERANCE * total) return 0;
  }
  return liquid;
}
