/**
 * How the settled blend meets skin, at 32 C: how thick its liquid part is, and how much stays solid.
 *
 * Viscosity: for the triacylglycerols, ln(v38) = 1.6305 + 2.7559 M/1000 - 0.4067 IV/100 (own fit to 19 published oils
 * of M 660 to 980 g/mol, leave-one-out mean error 5.1 %, worst 14.7 %), times 1.24 from 38 to 32 C (activation energy
 * 28 kJ/mol; Diamante & Lan 2014 give 21 to 30). Outside that range, or with ricinoleic acid (castor is six times as
 * thick as the fit says), there is no figure. Wax esters, hydrocarbons, castor and medium-chain oils bring a measured
 * value. Mixed by Kendall and Monroe: v^(1/3) = sum x v^(1/3) over moles (from memory; Goncalves 2007 finds such
 * rules within 10 % in 77 % of cases). Liquids without a known viscosity are left out up to 1 % of the fat together
 * (tocopherol, extracts): they move the result by less than the fit's own worst error.
 * Three steps at most can be told apart: thin below 35, ordinary to 50, thick above (own cut).
 *
 * Left on skin: solid fat at 32 C. Below 4 %, where a fat column slips (`softening.ts`), it is called melted on
 * contact; from there on it leaves a film (own cut; body warmth and rubbing are not reckoned).
 */
import { type Blend, WHOLE } from "../blend.ts";
import type { Ingredient } from "../ingredient.ts";
import { IODINE_MOLAR_MASS } from "./characteristic-values.ts";
import { liquidMoles } from "./equilibrium.ts";
import type { Melt } from "./melt.ts";
import { fatProfile } from "./profile.ts";
import { SLIP_SOLIDS_PERCENT } from "./softening.ts";
import { solidFatPercent } from "./solid-fat.ts";

export const SKIN_C = 32;

export interface OilPhase {
  /** Kinematic viscosity of the liquid part at 32 C [mm2/s]; nothing where the fit does not reach. */
  readonly viscosityMm2PerS?: number;
  readonly step?: "thin" | "ordinary" | "thick";
  /** Settled solid fat left at 32 C [% by mass of the fat] */
  readonly leftOnSkinPercent: number;
  readonly onSkin: "melts on contact" | "leaves a film";
}

/** Worst error of the fit on an oil it was not fitted to [%]. Mixing and warming come on top. */
export const VISCOSITY_ERROR_PERCENT = 15;
/**
 * Molar mass the fit reaches [g/mol]: what it was made on, 660 to 980, with ten units of room at each end, because
 * the compositions at hand of its lightest and heaviest oils are not those measured (coconut comes out at 658 here).
 */
const FIT_MOLAR_MASS = { least: 650, greatest: 990 };

const FROM_38_TO_32_C = 1.24;
const LEFT_OUT_UP_TO = 0.01;
const THIN_BELOW = 35;
const THICK_ABOVE = 50;

/** The oil phase of the settled blend at skin temperature. */
export function oilPhase(blend: Blend, melt: Melt): OilPhase {
  const leftOnSkinPercent = solidFatPercent(melt, "settled", SKIN_C);
  const viscosityMm2PerS = viscosityAtSkin(blend, melt);
  return {
    ...(viscosityMm2PerS === undefined ? {} : { viscosityMm2PerS, step: stepOf(viscosityMm2PerS) }),
    leftOnSkinPercent,
    onSkin: leftOnSkinPercent < SLIP_SOLIDS_PERCENT ? "melts on contact" : "leaves a film",
  };
}

function stepOf(viscosity: number): NonNullable<OilPhase["step"]> {
  return viscosity < THIN_BELOW ? "thin" : viscosity > THICK_ABOVE ? "thick" : "ordinary";
}

/** Nothing when a liquid has no measured viscosity and the fit does not hold for it, or when nothing is liquid. */
function viscosityAtSkin(blend: Blend, melt: Melt): number | undefined {
  let moles = 0;
  let grams = 0;
  let doubleBonds = 0;
  let measuredMoles = 0;
  let cubeRoots = 0;
  let leftOut = 0;
  for (const { ingredient, share } of blend.parts) {
    if (ingredient.composition.kind === "undissolved") continue;
    const profile = fatProfile(ingredient);
    const fraction = share / WHOLE / melt.fatFraction;
    const measured = ingredient.measured?.viscosityMm2PerS;
    if (measured !== undefined) {
      const own = fraction * (profile.inert.molesPerG + profile.liquid.molesPerG);
      measuredMoles += own;
      cubeRoots += own * Math.cbrt(measured);
    } else if (isOutsideTheFit(ingredient)) {
      leftOut += fraction;
    } else {
      moles += fraction * profile.liquid.molesPerG;
      grams += fraction * profile.liquid.gPerG;
      doubleBonds += fraction * profile.liquid.doubleBondsPerG;
    }
  }
  if (leftOut > LEFT_OUT_UP_TO) return undefined;
  const dissolved = liquidMoles(melt, "settled", SKIN_C);
  for (let i = 0; i < dissolved.length; i++) {
    moles += dissolved[i]!;
    grams += dissolved[i]! * melt.molarMass[i]!;
    doubleBonds += dissolved[i]! * melt.doubleBonds[i]!;
  }
  if (moles > 0) {
    const molarMass = grams / moles;
    if (molarMass < FIT_MOLAR_MASS.least || molarMass > FIT_MOLAR_MASS.greatest) return undefined;
    const iodineValue = (100 * (doubleBonds / moles) * IODINE_MOLAR_MASS) / molarMass;
    const at38 = Math.exp(1.6305 + (2.7559 * molarMass) / 1000 - (0.4067 * iodineValue) / 100);
    cubeRoots += moles * Math.cbrt(at38 * FROM_38_TO_32_C);
  }
  if (moles + measuredMoles === 0) return undefined;
  return (cubeRoots / (moles + measuredMoles)) ** 3;
}

/** Ricinoleic species are named with an R that no other acid's letter holds. */
function isOutsideTheFit({ composition }: Ingredient): boolean {
  return (
    composition.kind === "inert-liquid" ||
    ("percent" in composition && Object.keys(composition.percent).some((name) => /R|OH/.test(name)))
  );
}
