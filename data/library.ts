/**
 * The ingredient library: records with their sources inside, plain ingredients for the core
 * outside.
 *
 * Each plain ingredient is made once, when the module loads, because the core remembers what it
 * worked out by the identity of the composition object.
 */
import type { Composition, Ingredient } from "#core/ingredient.ts";
import { DELICATE_OILS } from "./library/delicate-oils.ts";
import { KERNEL_OILS } from "./library/kernel-oils.ts";
import { LAURIC_AND_PALM_FATS } from "./library/lauric-and-palm-fats.ts";
import { LINOLEIC_OILS } from "./library/linoleic-oils.ts";
import { OLEIC_OILS } from "./library/oleic-oils.ts";
import { OTHER_LIQUIDS } from "./library/other-liquids.ts";
import { POWDERS_AND_ADDITIVES } from "./library/powders-and-additives.ts";
import type { CompositionChoice, RecordedIngredient } from "./library/record.ts";
import { SEED_BUTTERS } from "./library/seed-butters.ts";
import { SHEA_FATS } from "./library/shea-fats.ts";
import { WAXES_AND_STRUCTURANTS } from "./library/waxes-and-structurants.ts";

const RECORDS: readonly RecordedIngredient[] = [
  ...SHEA_FATS,
  ...SEED_BUTTERS,
  ...LAURIC_AND_PALM_FATS,
  ...OLEIC_OILS,
  ...KERNEL_OILS,
  ...LINOLEIC_OILS,
  ...DELICATE_OILS,
  ...OTHER_LIQUIDS,
  ...WAXES_AND_STRUCTURANTS,
  ...POWDERS_AND_ADDITIVES,
];

const RECORD_BY_ID = new Map(RECORDS.map((record) => [record.id, record]));
const INGREDIENT_BY_ID = new Map(RECORDS.map((record) => [record.id, plainIngredient(record)]));

/** Ids of all recorded ingredients, butters first. */
export const INGREDIENT_IDS: readonly string[] = RECORDS.map(({ id }) => id);

/**
 * The core's ingredient, always the same object for an id.
 * @param id kebab-case id such as "shea-butter"
 * @returns the ingredient, or nothing when the library does not hold it
 */
export function ingredientById(id: string): Ingredient | undefined {
  return INGREDIENT_BY_ID.get(id);
}

/**
 * The record behind an ingredient: ranges, sources, scent, shelf life.
 * @returns the record, or nothing when the library does not hold it
 */
export function recordOf(id: string): RecordedIngredient | undefined {
  return RECORD_BY_ID.get(id);
}

function plainIngredient(record: RecordedIngredient): Ingredient {
  const { id, name, kind, poreRating, addBelowC } = record;
  const measured = plainMeasured(record);
  return {
    id,
    name,
    inci: record.inci.text,
    kind,
    composition: plainComposition(record.composition),
    poreRating: poreRating.rated
      ? { rated: true, value: poreRating.value, low: poreRating.low, high: poreRating.high }
      : { rated: false },
    allergenFamilies: record.allergens.families,
    ...(measured ? { measured } : {}),
    ...(addBelowC ? { addBelowC: addBelowC.value } : {}),
  };
}

function plainComposition({ chosen, unsaponifiable }: CompositionChoice): Composition {
  const inert = unsaponifiable ? { unsaponifiablePercent: unsaponifiable.value } : {};
  switch (chosen.kind) {
    case "fatty-acids":
      return { kind: chosen.kind, percent: chosen.percent, family: chosen.family, ...inert };
    case "triacylglycerols":
      return { kind: chosen.kind, percent: chosen.percent, ...inert };
    case "inert-liquid":
      return { kind: chosen.kind, molarMass: chosen.molarMass };
    default:
      return { kind: chosen.kind };
  }
}

function plainMeasured({ measured }: RecordedIngredient): Ingredient["measured"] {
  if (!measured) return undefined;
  const { iodineValue, saponificationValue, viscosityMm2PerS } = measured;
  return {
    ...(iodineValue ? { iodineValue: iodineValue.value } : {}),
    ...(saponificationValue ? { saponificationValue: saponificationValue.value } : {}),
    ...(viscosityMm2PerS ? { viscosityMm2PerS: viscosityMm2PerS.value } : {}),
  };
}
