/**
 * Places a jar stands in, beside the room it is meant for: where else its firmness is worth a word.
 *
 * Temperatures are our choice: 10 C for an unheated room in winter, 28 C for a hot one, 32 C for skin, whose surface
 * lies between 32 and 34 C (from memory). A caller may name others.
 */
import { SKIN_C } from "./oil-phase.ts";

/** A parcel on a warm summer day (common practice, no source) [C] */
export const SUMMER_PARCEL_C = 35;

/** A place with its temperature [C]. */
export interface NamedPlace {
  readonly name: string;
  readonly celsius: number;
}

/**
 * The usual places, coolest first.
 * @param useCelsius room temperature the jar is meant for [C]
 */
export function usualPlaces(useCelsius: number): NamedPlace[] {
  return [
    { name: "cool room", celsius: 10 },
    { name: "in use", celsius: useCelsius },
    { name: "hot room", celsius: 28 },
    { name: "on skin", celsius: SKIN_C },
    { name: "summer parcel", celsius: SUMMER_PARCEL_C },
  ];
}
