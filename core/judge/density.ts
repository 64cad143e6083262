/**
 * Density of a fat, liquid and part solid.
 *
 * Method: Lund's relation for the liquid, relative density at 15 C = 0.8475 + 0.00030 SV + 0.00014 IV (quoted by
 * Rodenbush, Hsieh & Viswanath 1999, JAOCS 76:1415), times 0.9991 g/ml for water at 15 C, falling by 0.00067 g/ml per
 * K (our fit to Noureddini, Teoh & Clements 1992, JAOCS 69:1184, 24 to 110 C; oils run from 0.00064 to 0.00070).
 * Against their 34 rows of five oils it is off by 0.16 % on average and 0.35 % at most. For glycerides: waxes and
 * hydrocarbons are lighter, so below a saponification value of 150 there is no figure.
 * What is solid takes 7.5 % less room: cocoa butter 0.970 to 0.976 at 25 C (British Pharmaceutical Codex 1911)
 * against 0.903 for its liquid; one fat, taken for all (own choice).
 */
import type { CharacteristicValues } from "./characteristic-values.ts";

/** Below this no mixture of glycerides with a little of other liquids lies (own choice) [mg KOH per g] */
const SAPONIFICATION_LEAST = 150;
const WATER_AT_15_C = 0.9991;
const FALL_PER_K = 0.00067;
export const SHRINKS_ON_SETTING = 0.075;

/**
 * Density of a liquid fat.
 * @param celsius temperature, 10 to 110 [C]
 * @returns grams per millilitre; nothing for what is no glyceride
 */
export function liquidDensityGPerMl(
  celsius: number,
  { saponificationValue, iodineValue }: CharacteristicValues,
): number | undefined {
  if (saponificationValue < SAPONIFICATION_LEAST) return undefined;
  const relative = 0.8475 + 0.0003 * saponificationValue + 0.00014 * iodineValue;
  return relative * WATER_AT_15_C - FALL_PER_K * (celsius - 15);
}

/**
 * Density of a fat of which a part is solid.
 * @param solidFatPercent solid fat content, 0 to 100 [% by mass]
 * @returns grams per millilitre; nothing for what is no glyceride
 */
export function fatDensityGPerMl(
  celsius: number,
  values: CharacteristicValues,
  solidFatPercent: number,
): number | undefined {
  const liquid = liquidDensityGPerMl(celsius, values);
  if (liquid === undefined) return undefined;
  return liquid / (1 - (SHRINKS_ON_SETTING * solidFatPercent) / 100);
}
