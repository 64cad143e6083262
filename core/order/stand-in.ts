/**
 * When an oil or butter runs out: what could stand in for it in a blend, nearest first.
 *
 * Each candidate takes the whole share of what is missing, the blend is judged again, and the two blends are compared.
 * Distance is a sum of steps, with weights that are our own choice and say what a maker would mind most:
 *   firmness   3 for every factor of 1.5 in settled yield value       softens above   2 per degree
 *   pore grade 1 per grade higher                                     oil phase       1 per 15 % of thickness
 *   allergens  4 for each family it brings, 0.5 for each it takes away
 *   oxidation  1 per step quicker                                     cost            1 per 10 % dearer
 * A figure that is not known is not guessed: it counts one step and is named in `unknown`. A blend that may be ordered
 * stands before one that cannot be judged, and that before a refused one, however near it is.
 */
import { type Blend, makeBlend } from "../blend.ts";
import { type Base, type Product, allowedAt } from "../compose/product.ts";
import type { Finding } from "../finding.ts";
import type { Ingredient } from "../ingredient.ts";
import type { Oxidation } from "../judge/oxidation.ts";
import type { Judgement } from "../judge/verdict.ts";
import { type StandInGround, compare, standing } from "./stand-in-distance.ts";

export type StandInFigure =
  "firmness" | "softens-above" | "pore-grade" | "oil-phase" | "oxidation" | "cost";

/** One figure of the blend (of the ingredient, for the pore grade) before and after. */
export interface Shift<Value = number> {
  readonly from: Value;
  readonly to: Value;
}

export interface StandIn {
  readonly ingredient: string;
  readonly verdict: Judgement["verdict"];
  readonly findings: readonly Finding[];
  /** Steps from the blend as it was [-] */
  readonly distance: number;
  /** Settled firmness class at the use temperature, and yield value [Pa] */
  readonly firmness?: Shift<NonNullable<Judgement["firmness"]>["settled"]>;
  readonly yieldPa?: Shift;
  /** [C] */
  readonly softensAboveCelsius?: Shift;
  /** Published grade of the ingredient, 0 to 5 */
  readonly poreGrade?: Shift;
  /** Liquid part at 32 C [mm2/s] */
  readonly viscosityMm2PerS?: Shift;
  readonly oxidation?: Shift<Oxidation["order"]>;
  /** Material of a kilogram [minor units, not rounded] */
  readonly costMinorPerKg?: Shift;
  /** Allergen families that come into the blend and leave it. */
  readonly brings: readonly string[];
  readonly takesAway: readonly string[];
  /** Figures that are not known for one of the two blends. */
  readonly unknown: readonly StandInFigure[];
}

export type { StandInGround };

/**
 * Rank what could stand in.
 * @param blend holds the missing ingredient
 * @param missing its id
 * @param candidates other ingredients; the missing one among them is passed over
 * @returns nearest first, refused ones last
 * @throws RangeError when the blend does not hold the missing ingredient
 */
export function rankStandIns(
  blend: Blend,
  missing: string,
  candidates: readonly Ingredient[],
  ground: StandInGround,
): StandIn[] {
  const gone = blend.parts.find(({ ingredient }) => ingredient.id === missing)?.ingredient;
  if (!gone) throw new RangeError(`${missing} is not in this blend`);
  const before = standing(blend, gone, ground);
  return candidates
    .filter(({ id }) => id !== missing)
    .map((candidate) => {
      const parts = blend.parts.map(({ ingredient, share }) => ({
        ingredient: ingredient.id === missing ? candidate : ingredient,
        share,
      }));
      const made = makeBlend(parts);
      if ("findings" in made) throw new Error("a blend with one ingredient changed stays whole");
      return compare(candidate.id, before, standing(made.blend, candidate, ground));
    })
    .sort(
      (one, other) =>
        ORDER.indexOf(one.verdict) - ORDER.indexOf(other.verdict) || one.distance - other.distance,
    );
}

/**
 * Ids that a product allows where an ingredient stands in one of its bases: other oils of its places. None for a
 * butter, which the maker's own shelf must replace.
 */
export function allowedInstead(product: Product, base: Base, missing: string): string[] {
  const places = base.oils
    .filter(({ ingredient }) => ingredient === missing)
    .map(({ place }) => allowedAt(product, place));
  const [first = [], ...others] = places;
  return first.filter((id) => id !== missing && others.every((allowed) => allowed.includes(id)));
}

const ORDER: readonly Judgement["verdict"][] = ["orderable", "cannot-judge", "refused"];
