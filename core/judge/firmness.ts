/**
 * Solid fat -> how firm the jar is to a finger.
 *
 * Published law: yield value C = c (S/100)^2 (1 - air)^1.5, S solid fat content [%], air the volume fraction of
 * air. A kitchen's own test jars may move the three constants.
 * - Power law in solids: Narine & Marangoni 1999, Marangoni & Rogers 2003 (form from memory, high confidence);
 *   published exponents run from 1.2 to 8 between fats, 2 is our choice.
 * - c = 8900 gf/cm2 puts the plastic window of 15 to 30 % solids (from memory, credited to Lida & Ali 1998) on
 *   Haighton's classes "plastic and spreads well", 200 to 800 gf/cm2 (Haighton 1959, JAOCS 36:345; classes from
 *   memory).
 * - Air: foam law exponent 1.5 to 2 with prefactor 1, so that no air changes nothing (own choice; Gibson-Ashby holds
 *   only for far lighter foams).
 * Class limits 50, 450 and 800 gf/cm2: 50 "nearly pourable" and 800 "hard" are Haighton's; 450 splits his plastic
 * class in two and is our choice.
 *
 * Fresh and settled differ by their solids alone. Kneaded margarine keeps 20 to 40 % of its hardness (Haighton 1965,
 * JAOCS 42:27), but that is fat worked after it had set; a jar is filled at 8 to 15 % solids and sets undisturbed. On
 * the fresh jar a factor of 0.3 would call butter fluid that holds peaks at the bench, so it is not used.
 */

export const FIRMNESS_CLASSES = ["fluid", "soft", "firm", "hard"] as const;
export type FirmnessClass = (typeof FIRMNESS_CLASSES)[number];

/** Whipped butter that has grown by about half, 1.3 to 2 times being common practice (no source). */
export const USUAL_AIR_FRACTION = 0.35;
export const AIR_FRACTION_GREATEST = 0.8;

export const PA_PER_GF_CM2 = 98.0665; // standard gravity, exact

/** The constants of C = scale (S/100)^solids (1 - air)^air: three, and no more are fitted to anything. */
export interface FirmnessLaw {
  /** Yield value of a fat that is all solid and holds no air [Pa] */
  readonly scalePa: number;
  readonly solidsExponent: number;
  readonly airExponent: number;
}

/** The law for every kitchen that has not told us of its own jars. */
export const PUBLISHED_LAW: FirmnessLaw = {
  scalePa: 8900 * PA_PER_GF_CM2,
  solidsExponent: 2,
  airExponent: 1.5,
};

/** Least yield value of each class [Pa]. */
export const CLASS_FROM_PA: Record<Exclude<FirmnessClass, "fluid">, number> = {
  soft: 50 * PA_PER_GF_CM2,
  firm: 450 * PA_PER_GF_CM2,
  hard: 800 * PA_PER_GF_CM2,
};

/**
 * Yield value of a whipped fat.
 * @param solidFatPercent solid fat content, 0 to 100 [% by mass]
 * @param airFraction volume of air over volume of whipped product, 0 to 0.8 [-]
 * @param law the published one, or what a kitchen's own test jars made of it
 * @returns yield value [Pa]
 */
export function yieldPa(
  solidFatPercent: number,
  airFraction: number,
  law: FirmnessLaw = PUBLISHED_LAW,
): number {
  return (
    law.scalePa *
    (solidFatPercent / 100) ** law.solidsExponent *
    (1 - airFraction) ** law.airExponent
  );
}

/**
 * Firmness class of a yield value.
 * @param pa yield value [Pa]
 */
export function firmnessClass(pa: number): FirmnessClass {
  if (pa >= CLASS_FROM_PA.hard) return "hard";
  if (pa >= CLASS_FROM_PA.firm) return "firm";
  return pa >= CLASS_FROM_PA.soft ? "soft" : "fluid";
}

/**
 * Solid fat content at which a class begins: the law turned round.
 * @param firmness class
 * @param airFraction volume fraction of air [-]
 * @param law the published one, or a kitchen's own
 * @returns least solid fat content of the class [% by mass], 0 for fluid, above 100 when air makes it unreachable
 */
export function solidFatFrom(
  firmness: FirmnessClass,
  airFraction: number,
  law: FirmnessLaw = PUBLISHED_LAW,
): number {
  if (firmness === "fluid") return 0;
  const ratio = CLASS_FROM_PA[firmness] / yieldPa(100, airFraction, law);
  return 100 * ratio ** (1 / law.solidsExponent);
}
