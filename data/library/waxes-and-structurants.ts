/**
 * Waxes, fatty acid and fatty alcohol: the fat model does not cover them yet, so the judge says
 * "cannot judge".
 */
import type { RecordedIngredient } from "./record.ts";

export const BEESWAX: RecordedIngredient = {
  id: "beeswax",
  name: "Beeswax",
  inci: { text: "Cera Alba (Beeswax)", source: "inci-names" },
  kind: "wax",
  composition: {
    chosen: { kind: "unknown" },
    why: "Hydrocarbons, long esters and free acids that our fat model does not cover: a blend that holds it cannot be judged yet.",
  },
  poreRating: {
    rated: true,
    value: 2,
    low: 0,
    high: 2,
    evidence: "Assay 0 to 2, by preparation (prose of p. 327). A range counts by its upper end.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: {
    families: ["bee"],
    note: "A bee product with traces of propolis; not vegan.",
    source: "recalled",
  },
  appearance: {
    unrefined: { scent: "honey", colour: "yellow", source: "bench-habit" },
    refined: { scent: "almost none", colour: "white", source: "bench-habit" },
  },
  shelfMonths: { low: 36, high: 60, source: "recalled" },
  usePercent: { low: 1, high: 10, source: "bench-habit" },
  note: "More than about 5 % hinders whipping (common practice, no source).",
};

export const CANDELILLA_WAX: RecordedIngredient = {
  id: "candelilla-wax",
  name: "Candelilla wax",
  inci: { text: "Euphorbia Cerifera (Candelilla) Wax", source: "inci-names" },
  kind: "wax",
  composition: {
    chosen: { kind: "unknown" },
    why: "Hydrocarbons, long esters and free acids that our fat model does not cover: a blend that holds it cannot be judged yet.",
  },
  poreRating: {
    rated: true,
    value: 1,
    low: 1,
    high: 1,
    evidence: "Assay grade 1; trade pages 1.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "faint, resinous", colour: "yellow-brown", source: "bench-habit" },
  },
  shelfMonths: { low: 36, high: 36, source: "recalled" },
  usePercent: { low: 0.5, high: 8, source: "bench-habit" },
};

export const CARNAUBA_WAX: RecordedIngredient = {
  id: "carnauba-wax",
  name: "Carnauba wax",
  inci: { text: "Copernicia Cerifera (Carnauba) Wax", source: "inci-names" },
  kind: "wax",
  composition: {
    chosen: { kind: "unknown" },
    why: "Hydrocarbons, long esters and free acids that our fat model does not cover: a blend that holds it cannot be judged yet.",
  },
  poreRating: {
    rated: true,
    value: 1,
    low: 1,
    high: 1,
    evidence: "Assay grade 1; trade pages 1.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: { families: [], source: "recalled" },
  appearance: { unrefined: { scent: "faint", colour: "yellow", source: "bench-habit" } },
  shelfMonths: { low: 36, high: 36, source: "recalled" },
  usePercent: { low: 0.5, high: 5, source: "bench-habit" },
};

export const STEARIC_ACID: RecordedIngredient = {
  id: "stearic-acid",
  name: "Stearic acid",
  inci: { text: "Stearic Acid", source: "inci-names" },
  kind: "additive",
  composition: {
    chosen: { kind: "unknown" },
    why: "A free acid with crystals of its own, which our fat model does not cover yet.",
  },
  poreRating: {
    rated: true,
    value: 2,
    low: 0,
    high: 2,
    evidence: "Table III, p. 332: 2 in sunflower oil, 0 in a solvent that evaporates.",
    confidence: "A",
    source: "fulton-1989",
  },
  allergens: { families: [], note: "Ask for plant or tallow origin.", source: "recalled" },
  appearance: { refined: { scent: "faint, waxy", colour: "white flakes", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "recalled" },
  usePercent: { low: 0.5, high: 10, source: "bench-habit" },
};

export const CETYL_ALCOHOL: RecordedIngredient = {
  id: "cetyl-alcohol",
  name: "Cetyl alcohol",
  inci: { text: "Cetyl Alcohol", source: "inci-names" },
  kind: "additive",
  composition: {
    chosen: { kind: "unknown" },
    why: "A fatty alcohol with crystals of its own, which our fat model does not cover yet.",
  },
  poreRating: {
    rated: true,
    value: 2,
    low: 2,
    high: 2,
    evidence: "Assay row confirmed, grade 2 recalled; an assay of 2007 found it not positive.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: { families: [], source: "recalled" },
  appearance: { refined: { scent: "none", colour: "white flakes", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "recalled" },
  usePercent: { low: 0.5, high: 6, source: "bench-habit" },
};

export const WAXES_AND_STRUCTURANTS: readonly RecordedIngredient[] = [
  BEESWAX,
  CANDELILLA_WAX,
  CARNAUBA_WAX,
  STEARIC_ACID,
  CETYL_ALCOHOL,
];
