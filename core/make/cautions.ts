/**
 * Which cautions a batch calls for, and where each is read: at a step, at the store, at the post,
 * by the customer.
 *
 * Every condition is read off the blend; what is not in the jar is not warned of, so that what is
 * printed gets read.
 */
import type { Blend } from "../blend.ts";
import type { Composition, Ingredient } from "../ingredient.ts";
import { fattyAcidByCode } from "../judge/fatty-acid.ts";
import { GRAINY_SPECIES_PERCENT, grainySpeciesPercent } from "../judge/grain.ts";
import type { Melt } from "../judge/melt.ts";
import { COLDEST_C } from "../judge/softening.ts";
import { parseTriacylglycerol } from "../judge/triacylglycerol.ts";
import { nameFamily } from "../words/words.ts";
import { type CautionCode, sayCaution } from "./caution-words.ts";
import { allergenFamilies } from "./label-order.ts";
import type { Plan } from "./plan.ts";

export type StepId =
  "weigh" | "melt" | "oils" | "cool-down" | "chill" | "whip" | "fill" | "clean" | "rest" | "judge";

export type CautionPlace = StepId | "storage" | "post" | "customer";

export interface Caution {
  readonly code: CautionCode;
  readonly at: CautionPlace;
  /** For a person. */
  readonly sentence: string;
}

/**
 * An oil with this much of acids with three or more double bonds dries in air, and heats the cloth
 * it dries on. Linseed (54), rosehip (32), borage (22) and hemp (19) are the known cases (from
 * memory); 7 takes in canola (9) and soya (8) to err on the side of care. Own choice [% by mass].
 */
const DRYING_ACIDS_PERCENT = 7;
/** What a parcel may reach in summer (common practice, no source) [C]. */
const SUMMER_PARCEL_C = 40;

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
    caution("customer.patch-test", "customer"),
    caution("customer.keep-dry", "customer"),
    caution("customer.slip", "customer"),
    ...(ingredientsWhere(blend, ({ aromatic }) => aromatic !== undefined).length > 0
      ? [caution("customer.scented", "customer")]
      : []),
  ];
}

function allergenCautions(blend: Blend): Caution[] {
  const families = allergenFamilies(blend).map(({ family, ingredients }) => ({
    family,
    names: ingredients.map(({ name }) => name),
  }));
  if (families.length === 0) return [];
  const said = families.map(({ family, names }) => `${nameFamily(family)}: ${names.join(", ")}`);
  const contains = { families: said.join("; ") };
  const nuts = families.filter(({ family }) => NUT_FAMILIES.has(family));
  const names = [...new Set(nuts.flatMap((each) => each.names))].join(", ");
  return [
    caution("allergen.contains", "customer", contains),
    ...(nuts.length > 0 ? [caution("allergen.separate-utensils", "weigh", { names })] : []),
  ];
}

function powderCautions(blend: Blend): Caution[] {
  const powders = ingredientsWhere(blend, ({ kind }) => kind === "powder");
  return powders.length > 0 ? [caution("starch.dust", "cool-down")] : [];
}

function hotFatCautions({ holdC }: Plan): Caution[] {
  if (holdC === undefined) return [];
  return [
    caution("hot-fat.scald", "melt", { celsius: String(holdC) }),
    caution("hot-fat.fire", "melt"),
  ];
}

function additiveCautions(blend: Blend): Caution[] {
  const additives = ingredientsWhere(blend, ({ kind }) => kind === "additive");
  if (additives.length === 0) return [];
  return [caution("additive.neat", "cool-down", { names: namesOf(additives) })];
}

function grainyCautions(melt: Melt): Caution[] {
  const percent = grainySpeciesPercent(melt);
  if (percent < GRAINY_SPECIES_PERCENT) return [];
  return [caution("cooling.grainy", "chill", { percent: percent.toFixed(0) })];
}

function ragCautions(blend: Blend): Caution[] {
  const drying = ingredientsWhere(
    blend,
    ({ composition }) => dryingAcidsPercent(composition) >= DRYING_ACIDS_PERCENT,
  );
  return drying.length > 0 ? [caution("rags.self-heat", "clean", { names: namesOf(drying) })] : [];
}

function postCautions(softensAboveLeastC: number | undefined): Caution[] {
  const edgeC = softensAboveLeastC ?? COLDEST_C;
  if (edgeC >= SUMMER_PARCEL_C) return [];
  const celsius = String(Math.floor(edgeC));
  return [caution("post.softens", "post", { celsius })];
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

function caution(
  code: CautionCode,
  at: CautionPlace,
  figures: Readonly<Record<string, string>> = {},
): Caution {
  return { code, at, sentence: sayCaution(code, figures) };
}

function ingredientsWhere(blend: Blend, holds: (ingredient: Ingredient) => boolean): Ingredient[] {
  return blend.parts.map(({ ingredient }) => ingredient).filter(holds);
}

function namesOf(ingredients: readonly Ingredient[]): string {
  return ingredients.map(({ name }) => name).join(", ");
}
