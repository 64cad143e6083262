/**
 * Solid-liquid equilibrium of a melt at a temperature.
 *
 * Method: ideal liquid; each non-lauric species crystallises alone, lauric species share one ideal solid solution.
 * With K = exp[(dH/R)(1/T - 1/Tm)] and L moles of liquid in all:
 *   a species alone keeps n = min(z, L/K) in the liquid;
 *   lauric species keep n = z / (1 + th K), where th >= 0 makes sum K z / (1 + th K) = L, or th = 0 if sum K z <= L.
 * L solves sum n(L) = L. That sum is concave in L, so Newton's method from any greater L walks down to the solution
 * without overshooting. While the lauric solution is solid the step is taken in th, of which L is a convex falling
 * function: it then falls a little short of Newton's and still never overshoots. L never falls with temperature, so
 * the answer of the next warmer temperature asked before is such a start; without one it is the all-liquid end. A
 * species above its melting point is liquid without asking.
 * Source: Hildebrand solubility; family choice and lauric constants as in `species.ts`. Error of the published
 * thermodynamic benchmark 5.2 to 6.3 points (Teles dos Santos et al. 2014, J Food Eng 126:198); ours is in README.md.
 */
import { type Constants, type FatState, constantsAt } from "./frame.ts";
import type { Melt, Solved } from "./melt.ts";

const NEWTON_STEPS = 80;
const TOLERANCE = 1e-9;

/** Solid fat of the species by themselves, nothing measured [% by mass]. */
export function equilibriumSolids(melt: Melt, state: FatState, celsius: number): number {
  return solve(melt, state, celsius).solidFat;
}

/**
 * What stays liquid of each crystallising species.
 * @returns moles in one gram of fat, in the order of `melt.species`
 */
export function liquidMoles(melt: Melt, state: FatState, celsius: number): Float64Array {
  const { liquid, theta } = solve(melt, state, celsius);
  const { order, alone, solid, k } = constantsAt(melt.frame, state, celsius);
  const left = melt.moles.slice();
  for (let at = 0; at < solid; at++) {
    const i = order[at]!;
    left[i] = at < alone ? Math.min(left[i]!, liquid * k[at]!) : left[i]! / (1 + theta * k[at]!);
  }
  return left;
}

function solve(melt: Melt, state: FatState, celsius: number): Solved {
  const { solved } = melt[state];
  let at = solved.length;
  while (at > 0 && solved[at - 1]!.celsius < celsius) at--;
  const warmer = solved[at - 1];
  if (warmer?.celsius === celsius) return warmer;
  // What is solid through and through stays so in the cold.
  const found =
    warmer?.liquid === 0
      ? { ...warmer, celsius }
      : equilibrium(melt, constantsAt(melt.frame, state, celsius), celsius, warmer);
  for (let i = solved.length; i > at; i--) solved[i] = solved[i - 1]!;
  solved[at] = found;
  return found;
}

/** Working space, written anew by each solution: moles in the order of the constants. */
let z = new Float64Array(64);

function equilibrium(melt: Melt, constants: Constants, celsius: number, warmer?: Solved): Solved {
  const { order, alone, solid, k } = constants;
  const { moles, molarMass } = melt;
  if (z.length < solid) z = new Float64Array(2 * solid);
  for (let at = 0; at < solid; at++) z[at] = moles[order[at]!]!;
  let outside = melt.liquidMoles;
  for (let at = solid; at < order.length; at++) outside += moles[order[at]!]!;
  const { liquid, theta } = descend(outside, constants, warmer);
  let solidG = 0;
  for (let at = 0; at < solid; at++) {
    const left = at < alone ? Math.min(z[at]!, liquid * k[at]!) : z[at]! / (1 + theta * k[at]!);
    solidG += (z[at]! - left) * molarMass[order[at]!]!;
  }
  return { celsius, liquid, theta, solidFat: Math.min(100, Math.max(0, 100 * solidG)) };
}

/** Newton's method from the warmer answer or the all-liquid end down to the solution. */
function descend(
  outside: number,
  { alone, solid: count, k }: Constants,
  warmer?: Solved,
): Pick<Solved, "liquid" | "theta"> {
  let total = outside;
  let pullAll = 0;
  let lauricAll = 0;
  for (let i = 0; i < count; i++) {
    total += z[i]!;
    if (i < alone) continue;
    lauricAll += z[i]!;
    pullAll += z[i]! * k[i]!;
  }
  let { liquid, theta } = warmer ?? { liquid: total, theta: 0 };
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const isSolid = pullAll > liquid;
    let slope = -1;
    let excess = outside;
    let perTheta = 0;
    if (isSolid) {
      // The first species by itself would need this much: never more than all of them need.
      for (let i = alone; i < count && !theta; i++) theta = Math.max(0, z[i]! / liquid - 1 / k[i]!);
      liquid = 0;
      let kept = 0;
      for (let i = alone; i < count; i++) {
        const part = 1 / (1 + theta * k[i]!);
        const pull = z[i]! * k[i]! * part;
        excess += z[i]! * part;
        liquid += pull;
        kept += pull * part;
        perTheta += pull * part * k[i]!;
      }
      slope += kept / perTheta;
    } else {
      theta = 0;
      excess += lauricAll;
    }
    for (let i = 0; i < alone; i++) {
      const dissolved = liquid * k[i]!;
      if (z[i]! > dissolved) slope += k[i]!;
      excess += Math.min(z[i]!, dissolved);
    }
    excess -= liquid;
    if (Math.abs(excess) <= TOLERANCE * total || slope >= 0) break;
    const down = excess / slope;
    if (isSolid) theta += down / perTheta;
    liquid -= down;
    if (liquid <= TOLERANCE * total) return { liquid: 0, theta: Infinity };
  }
  return { liquid, theta };
}
