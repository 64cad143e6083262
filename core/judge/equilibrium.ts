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
import { type FatState, LAURIC_K_IS_1_AT, type Melt, type Solved } from "./melt.ts";

const ZERO_C = 273.15;
const NEWTON_STEPS = 80;
const TOLERANCE = 1e-9;

/** Solid fat of the species by themselves, nothing measured [% by mass]. */
export function equilibriumSolids(melt: Melt, state: FatState, celsius: number): number {
  return solve(melt, state, celsius + ZERO_C).solidFat;
}

/**
 * What stays liquid of each crystallising species.
 * @returns moles in one gram of fat, in the order of `melt.species`
 */
export function liquidMoles(melt: Melt, state: FatState, celsius: number): number[] {
  const kelvin = celsius + ZERO_C;
  const { liquid, theta } = solve(melt, state, kelvin);
  const { heat, meltingK } = melt[state];
  return melt.moles.map((z, i) => {
    const alone = i < melt.lauricFrom;
    if (alone && meltingK[i]! <= kelvin) return z;
    const k = Math.exp(heat[i]! * (1 / kelvin - 1 / meltingK[i]!));
    return alone ? Math.min(z, liquid / k) : z / (1 + theta * k);
  });
}

/**
 * Working space, written anew by each solution: the species that may be solid, those alone (1/K) before lauric ones
 * (K).
 */
let k = new Float64Array(64);
let z = new Float64Array(64);

function solve(melt: Melt, state: FatState, kelvin: number): Solved {
  const { solved } = melt[state];
  let at = solved.length;
  while (at > 0 && solved[at - 1]!.kelvin < kelvin) at--;
  const warmer = solved[at - 1];
  if (warmer?.kelvin === kelvin) return warmer;
  // What is solid through and through stays so in the cold.
  const found =
    warmer?.liquid === 0 ? { ...warmer, kelvin } : equilibrium(melt, state, kelvin, warmer);
  solved.splice(at, 0, found);
  return found;
}

function equilibrium(melt: Melt, state: FatState, kelvin: number, warmer?: Solved): Solved {
  const { heat, meltingK, relativeK } = melt[state];
  const { moles, molarMass, lauricFrom } = melt;
  if (k.length < moles.length) {
    k = new Float64Array(2 * moles.length);
    z = new Float64Array(2 * moles.length);
  }
  const inverse = 1 / kelvin;
  const lauricK = Math.exp((heat[lauricFrom] ?? 0) * (inverse - LAURIC_K_IS_1_AT));
  const which: number[] = [];
  let outside = melt.liquidMoles;
  let solidG = 1 - melt.liquidG;
  let alone = 0;
  for (let i = 0; i < moles.length; i++) {
    if (i >= lauricFrom) {
      k[which.length] = lauricK * relativeK[i]!;
    } else if (meltingK[i]! > kelvin) {
      k[which.length] = Math.exp(heat[i]! * (1 / meltingK[i]! - inverse));
      alone++;
    } else {
      outside += moles[i]!;
      solidG -= moles[i]! * molarMass[i]!;
      continue;
    }
    z[which.length] = moles[i]!;
    which.push(i);
  }
  const { liquid, theta } = descend(outside, alone, which.length, warmer);
  for (let at = 0; at < which.length; at++) {
    const i = which[at]!;
    const left = at < alone ? Math.min(z[at]!, liquid * k[at]!) : z[at]! / (1 + theta * k[at]!);
    solidG -= left * molarMass[i]!;
  }
  return { kelvin, liquid, theta, solidFat: Math.min(100, Math.max(0, 100 * solidG)) };
}

/** Newton's method from the warmer answer or the all-liquid end down to the solution. */
function descend(
  outside: number,
  alone: number,
  count: number,
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
