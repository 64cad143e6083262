/**
 * Liquids that are reckoned as liquid at every temperature, and are not: the wax esters of jojoba set between 7 and
 * 11 C, medium-chain oil near 0 C. How much of them sets in a fat was not found, so nothing is added to the solids; it
 * is only said where the jar will be that cold.
 */
import type { Blend } from "../blend.ts";
import { type Finding, finding } from "../finding.ts";
import type { Question } from "./verdict.ts";

/** Share from which it is said: below, a haze at most. Own choice [hundredths of a percent]. */
const SETTING_LIQUID_SHARE = 2000;

/** Told and no more, for the coldest of the room and the places asked about. */
export function settingFindings(
  blend: Blend,
  { useCelsius, places = [] }: Pick<Question, "useCelsius" | "places">,
): Finding[] {
  const measured = Math.min(useCelsius, ...places.map(({ celsius }) => celsius));
  return blend.parts.flatMap(({ ingredient: { id, setsBelowC: limit }, share }) => {
    if (limit === undefined || measured >= limit || share < SETTING_LIQUID_SHARE) return [];
    return [finding("judge.liquid.may-set", id, { measured, limit, unit: "°C" })];
  });
}
