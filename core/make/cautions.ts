/**
 * Which cautions a batch calls for, and where each is read: at a step, at the store, at the post,
 * by the customer.
 *
 * Every condition is read off the blend; what is not in the jar is not warned of, so that what is
 * printed gets read. General good practice at the bench: it never replaces local codes, the supplier's documents or the
 * maker's own safety assessment, and every page of the work order says so.
 */
import type { Blend } from "../blend.ts";
import type { Composition, Ingredient } from "../ingredient.ts";
import { fattyAcidByCode } from "../judge/fatty-acid.ts";
import { GRAINY_SPECIES_PERCENT, grainySpeciesPercent } from "../judge/grain.ts";
import type { Melt } from "../judge/melt.ts";
import { COLDEST_C } from "../judge/softening.ts";
import { parseTriacylglycerol } from "../judge/triacylglycerol.ts";
import { allergenFamilies } from "./label-order.ts";
import type { Plan } from "./plan.ts";
import { type Said, type SaidFigures, said } from "./said.ts";

export type StepId =
  "weigh" | "melt" | "oils" | "cool-down" | "chill" | "whip" | "fill" | "clean" | "rest" | "judge";

export type CautionPlace = StepId | "storage" | "post" | "customer";

/** In the order of the work; the words are the service's (`service/words`, chapter `caution`). */
export const CAUTION_CODES = [
  ...(["bench.water", "allergen.contains", "allergen.separate-utensils"] as const),
  ...(["starch.dust", "hot-fat.scald", "hot-fat.fire", "additive.neat"] as const),
  ...(["cooling.grainy", "mixer.moving", "rags.self-heat", "floor.slip"] as const),
  ...(["storage.cool", "post.softens"] as const),
  ...(["patch-test", "keep-dry", "slip", "scented"] as const),
];
export type CautionCode = (typeof CAUTION_CODES)[number];

export interface Caution extends Said {
  readonly at: CautionPlace;
}

/**
 * An oil with this much of acids with three or more double bonds dries in air, and heats the cloth
 * it dries on. Linseed (54), rosehip (32), borage (22) and hemp (19) are the known cases (from
 * memory); 7 takes in canola (9) and soya (8) to err on the side of care. Own choice [% by mass].
 */
const DRYING_ACIDS_PERCENT = 7;
/**
 * What a parcel left in the sun may reach (common practice, no source): above the warm day of `judge/places.ts`, so
 * that the caution comes early [C].
 */
const PARCEL_IN_SUN_C = 40;

const NUT_FAMILIES = new Set(["tree-nut", "other-nut", "peanut", "sesame"]);
const DRYING_DOUBLE_BONDS = 3;

/**
 * The cautions of a batch.
 * @param softensAboveLeastC lower edge of the band of *softens above* [C]; nothing when it has no
 *   body even at the coldest temperature judged, which then stands for it
 */
export function cautionsFor(
  blend: Blend,
  melt: Melt,
  plan: Plan,
  softensAboveLeastC: number | undefined,
): Caution[] {
  return [
    caution("bench.water", "weigh"),
    ...allergenCautions(blend),
    ...powderCautions(blend),
    ...hotFatCautions(plan),
    ...additiveCautions(blend),
    ...grainyCautions(melt),
    caution("mixer.moving", "whip"),
    ...ragCautions(blend),
    caution("floor.slip", "clean"),
    caution("storage.cool", "storage"),
    ...postCautions(softensAboveLeastC),
    caution("patch-test", "customer"),
    caution("keep-dry", "customer"),
    caution("slip", "customer"),
    ...(ingredientsWhere(blend, ({ aromatic }) => aromatic !== undefined).length > 0
      ? [caution("scented", "customer")]
      : []),
  ];
}

function allergenCautions(blend: Blend): Caution[] {
  const families = allergenFamilies(blend).map(({ family, ingredients }) => ({
    family,
    ingredients: idsOf(ingredients),
  }));
  if (families.length === 0) return [];
  const nuts = families.filter(({ family }) => NUT_FAMILIES.has(family));
  const ingredients = [...new Set(nuts.flatMap((each) => each.ingredients))];
  return [
    caution("allergen.contains", "customer", { families }),
    ...(nuts.length > 0 ? [caution("allergen.separate-utensils", "weigh", { ingredients })] : []),
  ];
}

function powderCautions(blend: Blend): Caution[] {
  const powders = ingredientsWhere(blend, ({ kind }) => kind === "powder");
  return powders.length > 0 ? [caution("starch.dust", "cool-down")] : [];
}

function hotFatCautions({ holdC }: Plan): Caution[] {
  if (holdC === undefined) return [];
  return [caution("hot-fat.scald", "melt", { celsius: holdC }), caution("hot-fat.fire", "melt")];
}

function additiveCautions(blend: Blend): Caution[] {
  const additives = ingredientsWhere(blend, ({ kind }) => kind === "additive");
  if (additives.length === 0) return [];
  return [caution("additive.neat", "cool-down", { ingredients: idsOf(additives) })];
}

function grainyCautions(melt: Melt): Caution[] {
  const percent = grainySpeciesPercent(melt);
  if (percent < GRAINY_SPECIES_PERCENT) return [];
  return [caution("cooling.grainy", "chill", { percent: Math.round(percent) })];
}

function ragCautions(blend: Blend): Caution[] {
  const drying = ingredientsWhere(
    blend,
    ({ composition }) => dryingAcidsPercent(composition) >= DRYING_ACIDS_PERCENT,
  );
  if (drying.length === 0) return [];
  return [caution("rags.self-heat", "clean", { ingredients: idsOf(drying) })];
}

function postCautions(softensAboveLeastC: number | undefined): Caution[] {
  const edgeC = softensAboveLeastC ?? COLDEST_C;
  if (edgeC >= PARCEL_IN_SUN_C) return [];
  return [caution("post.softens", "post", { celsius: Math.floor(edgeC) })];
}

/**
 * Share of acids with three or more double bonds [% by mass of the acids]; 0 for what is no fat.
 */
export function dryingAcidsPercent(composition: Composition): number {
  const weights: { percent: number; drying: number }[] = [];
  if (composition.kind === "fatty-acids") {
    for (const [code, percent] of Object.entries(composition.percent)) {
      const dries = (fattyAcidByCode(code)?.doubleBonds ?? 0) >= DRYING_DOUBLE_BONDS;
      weights.push({ percent, drying: dries ? 1 : 0 });
    }
  } else if (composition.kind === "triacylglycerols") {
    for (const [name, percent] of Object.entries(composition.percent)) {
      const tag = parseTriacylglycerol(name);
      const acids = tag ? [...tag.outer, tag.middle] : [];
      const dries = acids.filter((acid) => acid.doubleBonds >= DRYING_DOUBLE_BONDS);
      weights.push({ percent, drying: dries.length / 3 });
    }
  }
  const whole = weights.reduce((sum, { percent }) => sum + percent, 0);
  if (whole === 0) return 0;
  return (100 * weights.reduce((sum, { percent, drying }) => sum + percent * drying, 0)) / whole;
}

function caution(code: CautionCode, at: CautionPlace, figures: SaidFigures = {}): Caution {
  return { ...said(code, figures), at };
}

function ingredientsWhere(blend: Blend, holds: (ingredient: Ingredient) => boolean): Ingredient[] {
  return blend.parts.map(({ ingredient }) => ingredient).filter(holds);
}

function idsOf(ingredients: readonly Ingredient[]): string[] {
  return ingredients.map(({ id }) => id);
}
