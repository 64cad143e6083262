/**
 * How thick the liquid part of the blend is on skin, at 32 C.
 *
 * Method: for the triacylglycerols, ln(v38) = 1.6305 + 2.7559 M/1000 - 0.4067 IV/100 (own fit to 19 published oils,
 * leave-one-out mean error 5.1 %, worst 14.7 %), times 1.24 from 38 to 32 C (activation energy 28 kJ/mol; Diamante &
 * Lan 2014 give 21 to 30). Wax esters, hydrocarbons, castor and medium-chain oils bring a measured value. Mixed by
 * Kendall and Monroe: v^(1/3) = sum x v^(1/3) over moles (from memory; Goncalves 2007 finds such rules within 10 % in
 * 77 % of cases). A liquid without a known viscosity is left out up to 1 % of the fat (tocopherol, extracts): it
 * moves the result by less than the fit's own worst error.
 * Three steps at most can be told apart: thin below 35, ordinary to 50, thick above (own cut).
 */
import type { Blend } from "../blend.ts";
import { type Melt } from "./melt.ts";
import { fatProfile } from "./profile.ts";
import { liquidMoles } from "./solid-fat.ts";

export const SKIN_C = 32;

export interface OilPhase {
  /** Kinematic viscosity of the liquid part at 32 C [mm2/s] */
  readonly viscosityMm2PerS: number;
  readonly step: "thin" | "ordinary" | "thick";
}

const FROM_38_TO_32_C = 1.24;
const LEFT_OUT_UP_TO = 0.01;
const THIN_BELOW = 35;
const THICK_ABOVE = 50;
const IODINE_MOLAR_MASS = 253.809;

/**
 * Viscosity of the liquid part of the settled blend at skin temperature.
 * @returns nothing when a liquid that is no triacylglycerol has no measured viscosity, or nothing is liquid
 */
export function oilPhase(blend: Blend, melt: Melt): OilPhase | undefined {
  let moles = 0;
  let grams = 0;
  let doubleBonds = 0;
  let measuredMoles = 0;
  let cubeRoots = 0;
  for (const { ingredient, share } of blend.parts) {
    const profile = fatProfile(ingredient);
    if (ingredient.composition.kind === "undissolved") continue;
    const fraction = share / 10_000 / melt.fatFraction;
    const measured = ingredient.measured?.viscosityMm2PerS;
    if (measured !== undefined) {
      const own = fraction * (profile.inert.molesPerG + profile.liquid.molesPerG);
      measuredMoles += own;
      cubeRoots += own * Math.cbrt(measured);
    } else if (ingredient.composition.kind === "inert-liquid") {
      if (fraction > LEFT_OUT_UP_TO) return undefined;
    } else {
      moles += fraction * profile.liquid.molesPerG;
      grams += fraction * profile.liquid.gPerG;
      doubleBonds += fraction * profile.liquid.doubleBondsPerG;
    }
  }
  const dissolved = liquidMoles(melt, "settled", SKIN_C);
  for (const [i, species] of melt.species.entries()) {
    moles += dissolved[i]!;
    grams += dissolved[i]! * species.molarMass;
    doubleBonds += dissolved[i]! * species.doubleBonds;
  }
  if (moles > 0) {
    const molarMass = grams / moles;
    const iodineValue = (100 * (doubleBonds / moles) * IODINE_MOLAR_MASS) / molarMass;
    const at38 = Math.exp(1.6305 + (2.7559 * molarMass) / 1000 - (0.4067 * iodineValue) / 100);
    cubeRoots += moles * Math.cbrt(at38 * FROM_38_TO_32_C);
  }
  if (moles + measuredMoles === 0) return undefined;
  const viscosityMm2PerS = (cubeRoots / (moles + measuredMoles)) ** 3;
  const step =
    viscosityMm2PerS < THIN_BELOW ? "thin" : viscosityMm2PerS > THICK_ABOVE ? "thick" : "ordinary";
  return { viscosityMm2PerS, step };
}
