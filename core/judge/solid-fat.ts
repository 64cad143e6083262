/**
 * Solid fat content of a melt at a temperature: solid-liquid equilibrium of its triacylglycerols.
 *
 * Method: ideal liquid; each non-lauric species crystallises alone, lauric species share one ideal solid solution.
 * With K = exp[(dH/R)(1/T - 1/Tm)] and L moles of liquid in all:
 *   a species alone keeps n = min(z, L/K) in the liquid;
 *   lauric species keep n = z / (1 + th K), where th >= 0 makes sum K z / (1 + th K) = L, or th = 0 if sum K z <= L.
 * L solves sum n(L) = L. That sum is concave in L, so Newton's method from the all-liquid end walks down to the
 * solution without overshooting; a species above its melting point is liquid without asking.
 * Source: Hildebrand solubility; family choice and lauric constants as in `species.ts`. Error of the published
 * thermodynamic benchmark 5.2 to 6.3 points (Teles dos Santos et al. 2014, J Food Eng 126:198); ours is in README.md.
 */
import type { FatState, Melt } from "./melt.ts";

const ZERO_C = 273.15;
const NEWTON_STEPS = 80;
const TOLERANCE = 1e-11;

/**
 * Solid fat content.
 * @param melt species of the blend
 * @param state fresh or settled
 * @param celsius temperature, -10 to 60 [C]
 * @returns percent by mass of the fat that is solid, 0 to 100
 */
export function solidFatPercent(melt: Melt, state: FatState, celsius: number): number {
  const liquid = liquidMoles(melt, state, celsius);
  let liquidG = melt.liquidG;
  for (let i = 0; i < liquid.length; i++) liquidG += liquid[i]! * melt.molarMass[i]!;
  return Math.min(100, Math.max(0, 100 * (1 - liquidG)));
}

/**
 * What stays liquid of each crystallising species.
 * @returns moles in one gram of fat, in the order of `melt.species`
 */
export function liquidMoles(melt: Melt, state: FatState, celsius: number): Float64Array {
  const kelvin = celsius + ZERO_C;
  const { heat, meltingK } = melt[state];
  const { moles, lauricFrom } = melt;
  const k = new Float64Array(moles.length);
  let outside = melt.liquidMoles;
  let lauricAll = 0;
  let lauricPull = 0;
  let total = melt.liquidMoles;
  for (let i = 0; i < moles.length; i++) {
    const z = moles[i]!;
    total += z;
    if (i >= lauricFrom) {
      k[i] = Math.exp(heat[i]! * (1 / kelvin - 1 / meltingK[i]!));
      lauricAll += z;
      lauricPull += z * k[i]!;
    } else if (meltingK[i]! > kelvin) {
      k[i] = Math.exp(heat[i]! * (1 / kelvin - 1 / meltingK[i]!));
    } else {
      outside += z; // above its melting point: k stays 0, which means liquid
    }
  }

  let liquid = total;
  let theta = 0;
  for (let step = 0; step < NEWTON_STEPS; step++) {
    let excess = outside - liquid;
    let slope = -1;
    for (let i = 0; i < lauricFrom; i++) {
      const ki = k[i]!;
      if (ki === 0) continue;
      const z = moles[i]!;
      if (ki * z > liquid) {
        excess += liquid / ki;
        slope += 1 / ki;
      } else {
        excess += z;
      }
    }
    if (lauricPull <= liquid) {
      excess += lauricAll;
    } else {
      theta = lauricTheta(melt, k, liquid, theta);
      let perTheta = 0;
      let inverse = 0;
      for (let i = lauricFrom; i < moles.length; i++) {
        const kept = 1 + theta * k[i]!;
        const term = (moles[i]! * k[i]!) / (kept * kept);
        excess += moles[i]! / kept;
        perTheta += term;
        inverse += term * k[i]!;
      }
      slope += perTheta / inverse;
    }
    if (Math.abs(excess) <= TOLERANCE * total || slope >= 0) break;
    liquid -= excess / slope;
    if (liquid <= TOLERANCE * total) return new Float64Array(moles.length);
  }

  for (let i = 0; i < moles.length; i++) {
    const ki = k[i]!;
    if (i >= lauricFrom) k[i] = moles[i]! / (1 + theta * ki);
    else k[i] = ki === 0 ? moles[i]! : Math.min(moles[i]!, liquid / ki);
  }
  return k;
}

/** Newton's method from below: the left side is convex and falling in theta, so it never overshoots. */
function lauricTheta(melt: Melt, k: Float64Array, liquid: number, from: number): number {
  const { moles, lauricFrom } = melt;
  let theta = from;
  for (let step = 0; step < NEWTON_STEPS; step++) {
    let value = -liquid;
    let slope = 0;
    for (let i = lauricFrom; i < moles.length; i++) {
      const kept = 1 + theta * k[i]!;
      const term = (moles[i]! * k[i]!) / kept;
      value += term;
      slope -= (term * k[i]!) / kept;
    }
    const next = Math.max(0, theta - value / slope);
    if (Math.abs(next - theta) <= TOLERANCE * (1 + next)) return next;
    theta = next;
  }
  return theta;
}
