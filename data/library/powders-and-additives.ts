/**
 * Starches, antioxidants: a few percent or less.
 */
import { SUNFLOWER_OIL } from "./linoleic-oils.ts";
import type { RecordedIngredient } from "./record.ts";

export const TAPIOCA_STARCH: RecordedIngredient = {
  id: "tapioca-starch",
  name: "Tapioca starch",
  inci: { text: "Tapioca Starch", source: "recalled" },
  kind: "powder",
  composition: {
    chosen: { kind: "undissolved" },
    why: "Starch grains neither melt nor dissolve in fat.",
  },
  poreRating: {
    rated: true,
    value: 0,
    low: 0,
    high: 0,
    evidence: "Recalled; no page with a number was found.",
    confidence: "E",
    source: "recalled",
  },
  allergens: { families: [], source: "recalled" },
  appearance: { refined: { scent: "none", colour: "white", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "recalled" },
  usePercent: { low: 0.5, high: 5, source: "bench-habit" },
};

const ARROWROOT: RecordedIngredient = {
  id: "arrowroot",
  name: "Arrowroot powder",
  inci: { text: "Maranta Arundinacea Root Powder", source: "inci-names" },
  kind: "powder",
  composition: {
    chosen: { kind: "undissolved" },
    why: "Starch grains neither melt nor dissolve in fat.",
  },
  poreRating: {
    rated: true,
    value: 0,
    low: 0,
    high: 0,
    evidence: "Recalled; no page with a number was found.",
    confidence: "E",
    source: "recalled",
  },
  allergens: {
    families: [],
    note: "Arrowroot on sale is sometimes cassava: check the label name.",
    source: "recalled",
  },
  appearance: { refined: { scent: "none", colour: "white", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "shelf-pages" },
  usePercent: { low: 0.5, high: 5, source: "bench-habit" },
};

const CORN_STARCH: RecordedIngredient = {
  id: "corn-starch",
  name: "Corn starch",
  inci: { text: "Zea Mays (Corn) Starch", source: "recalled" },
  kind: "powder",
  composition: {
    chosen: { kind: "undissolved" },
    why: "Starch grains neither melt nor dissolve in fat.",
  },
  poreRating: {
    rated: true,
    value: 1,
    low: 0,
    high: 1,
    evidence:
      "Recalled as 0 to 1; no page with a number was found. A range counts by its upper end.",
    confidence: "E",
    source: "recalled",
  },
  allergens: { families: ["maize"], note: "Maize is on no major list.", source: "recalled" },
  appearance: { refined: { scent: "none", colour: "white", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "recalled" },
  usePercent: { low: 0.5, high: 5, source: "bench-habit" },
};

export const TOCOPHEROL: RecordedIngredient = {
  id: "tocopherol",
  name: "Tocopherol (vitamin E)",
  inci: { text: "Tocopherol", source: "inci-names" },
  kind: "additive",
  composition: {
    chosen: {
      kind: "inert-liquid",
      molarMass: 430.7,
      source: "own-calculation",
      at: "alpha-tocopherol, C29H50O2, standard atomic weights",
    },
    why: "A single liquid compound: it needs only a molar mass.",
  },
  measured: {
    iodineValue: {
      value: 0,
      source: "own-calculation",
      at: "no olefinic double bond; what the phenol does to a titration is left out",
    },
    saponificationValue: { value: 0, source: "own-calculation", at: "no ester" },
  },
  poreRating: {
    rated: true,
    value: 2,
    low: 2,
    high: 2,
    evidence:
      "Assay row confirmed, grade 2 recalled; trade pages 2. Tested as such, not at the half percent used here.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: {
    families: ["soy-possible"],
    note: "Often made from soya or sunflower: ask the supplier.",
    source: "recalled",
  },
  appearance: { unrefined: { scent: "faint, oily", colour: "amber", source: "bench-habit" } },
  shelfMonths: { low: 12, high: 24, source: "recalled" },
  usePercent: { low: 0.1, high: 1, source: "bench-habit" },
  addBelowC: { value: 45, source: "bench-habit" },
  note: "A half-strength product needs double the dose. It slows oxidation and preserves against no microbe. No viscosity is on record.",
};

/**
 * The oil-soluble extract is a few percent of diterpenes in a carrier oil, most often sunflower
 * (common practice, no source). We reckon it as that oil: at the half percent it is used at,
 * whatever it really is moves the solid fat by at most half a point.
 */
const ROSEMARY_EXTRACT: RecordedIngredient = {
  id: "rosemary-extract",
  name: "Rosemary extract, oil-soluble",
  inci: { text: "Rosmarinus Officinalis (Rosemary) Leaf Extract", source: "inci-names" },
  kind: "additive",
  composition: {
    chosen: SUNFLOWER_OIL.composition.chosen,
    why: "Reckoned as its carrier oil, sunflower: an own choice that cannot move solid fat by more than its share, 0.5 %.",
  },
  poreRating: { rated: false, why: "No number was found on any page read." },
  allergens: {
    families: [],
    note: "The carrier oil must be asked of the supplier and goes on the label.",
    source: "recalled",
  },
  appearance: { unrefined: { scent: "herbal", colour: "brown", source: "bench-habit" } },
  shelfMonths: { low: 12, high: 24, source: "recalled" },
  usePercent: { low: 0.05, high: 0.5, source: "supplier-sheets" },
  addBelowC: { value: 45, source: "bench-habit" },
  note: "Thick: stir it into a little oil first. It slows oxidation and preserves against no microbe.",
};

export const POWDERS_AND_ADDITIVES: readonly RecordedIngredient[] = [
  TAPIOCA_STARCH,
  ARROWROOT,
  CORN_STARCH,
  TOCOPHEROL,
  ROSEMARY_EXTRACT,
];
