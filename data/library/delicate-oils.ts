/**
 * Oils rich in linolenic acids: they go in late and keep briefly.
 */
import type { RecordedIngredient } from "./record.ts";

export const HEMP_SEED_OIL: RecordedIngredient = {
  id: "hemp-seed-oil",
  name: "Hemp seed oil",
  inci: { text: "Cannabis Sativa Seed Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 6.44,
        "18:0": 2.66,
        "18:1": 13.59,
        "18:2": 57.2,
        "18:3": 18.39,
        "18:3n6": 0.92,
        "20:0": 0.82,
      },
      family: "seed",
      source: "kiralan-2010",
      at: "middle of 21 samples; saturated acids recalled",
    },
    why: "Measured on a stated set (rule 2).",
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [5, 9],
      "18:0": [2, 4],
      "18:1": [11.4, 15.9],
      "18:2": [55.4, 56.9],
      "18:3": [16.5, 20.4],
      "18:3n6": [0.6, 1.1],
      "20:0": [0.3, 1.5],
    },
    source: "kiralan-2010",
    at: "saturated acids recalled",
  },
  iodineValue: [{ low: 150, high: 170, source: "recalled" }],
  saponificationValue: [{ low: 185, high: 195, source: "recalled" }],
  poreRating: {
    rated: true,
    value: 0,
    low: 0,
    high: 0,
    evidence: "Seven trade pages, all 0. No assay.",
    confidence: "C",
    source: "trade-ratings",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "grassy, nutty", colour: "green", source: "bench-habit" },
    refined: { scent: "almost none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 3, high: 12, source: "shelf-pages" },
  usePercent: { low: 1, high: 20, source: "bench-habit" },
  addBelowC: { value: 45, source: "bench-habit" },
  note: "Stains pale blends green. Oil-soaked cloths can heat themselves: wash them or lay them flat outdoors.",
};

export const ROSEHIP_OIL: RecordedIngredient = {
  id: "rosehip-oil",
  name: "Rosehip seed oil",
  inci: {
    text: "Rosa Canina Fruit Oil",
    source: "inci-names",
    at: "or Rosa Rubiginosa Seed Oil: by the species bought",
  },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 3.72,
        "18:0": 2.01,
        "18:1": 15.08,
        "18:2": 46.23,
        "18:3": 32.16,
        "20:0": 0.8,
      },
      family: "seed",
      source: "recalled",
    },
    why: "Recalled; nothing better was read (rule 5). Use the supplier's certificate.",
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [2, 6],
      "18:0": [1, 4],
      "18:1": [10, 22],
      "18:2": [35, 55],
      "18:3": [15, 42],
      "20:0": [0.3, 1.5],
    },
    source: "recalled",
  },
  iodineValue: [{ low: 160, high: 190, source: "recalled" }],
  saponificationValue: [{ low: 180, high: 198, source: "recalled" }],
  meltingC: [{ low: -37, high: -36, source: "leiva-2016", at: "-36.6" }],
  poreRating: {
    rated: true,
    value: 1,
    low: 1,
    high: 4,
    evidence: "Five trade pages 1, one 3 to 4. No assay.",
    confidence: "C",
    source: "trade-ratings",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "earthy, tea-like", colour: "golden to red-orange", source: "bench-habit" },
    refined: { scent: "almost none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 3, high: 12, source: "shelf-pages", at: "upper end recalled" },
  usePercent: { low: 1, high: 20, source: "bench-habit" },
  addBelowC: { value: 45, source: "bench-habit" },
  note: "Oil-soaked cloths can heat themselves: wash them or lay them flat outdoors.",
};

const EVENING_PRIMROSE_OIL: RecordedIngredient = {
  id: "evening-primrose-oil",
  name: "Evening primrose oil",
  inci: { text: "Oenothera Biennis (Evening Primrose) Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 6.37,
        "18:0": 1.92,
        "18:1": 7.58,
        "18:2": 74.32,
        "18:3n6": 9.61,
        "18:3": 0.2,
      },
      family: "seed",
      source: "horrobin-2000",
      at: "18:2 about 70 and 18:3n6 about 9, brought to 100 with the other acids recalled",
    },
    why: "The two main acids are published (rule 2); they carry 84 % of the profile.",
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [4, 10],
      "18:0": [1, 4],
      "18:1": [5, 12],
      "18:2": [65, 85],
      "18:3n6": [7, 14],
      "18:3": [0, 0.5],
    },
    source: "ph-eur-recalled",
  },
  iodineValue: [
    { low: 140, high: 165, source: "supplier-sheets", at: "140 on a sheet; upper end recalled" },
  ],
  saponificationValue: [
    { low: 185, high: 195, source: "supplier-sheets", at: "188 on a sheet; ends recalled" },
  ],
  unsaponifiablePercent: [
    { low: 1, high: 2, source: "supplier-sheets", at: "1 % on a sheet; upper end recalled" },
  ],
  density: [
    { celsius: 20, low: 0.93, high: 0.93, unit: "relative to water", source: "supplier-sheets" },
  ],
  poreRating: {
    rated: true,
    value: 3,
    low: 2,
    high: 3,
    evidence: "Assay grade 3; trade pages 2 and 3.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "faint, fishy when old", colour: "pale yellow", source: "bench-habit" },
    refined: { scent: "almost none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 3, high: 12, source: "shelf-pages" },
  usePercent: { low: 1, high: 10, source: "bench-habit" },
  addBelowC: { value: 45, source: "bench-habit" },
};

const BORAGE_OIL: RecordedIngredient = {
  id: "borage-oil",
  name: "Borage oil",
  inci: { text: "Borago Officinalis Seed Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 10.66,
        "18:0": 3.86,
        "18:1": 17.26,
        "18:2": 38.07,
        "18:3n6": 22.34,
        "20:1": 3.86,
        "22:1": 2.44,
        "24:1": 1.52,
      },
      family: "seed",
      source: "ph-eur-recalled",
      at: "middle of each range, brought to 100",
    },
    why: "Recalled; nothing better was read (rule 5). Use the supplier's certificate.",
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [9, 12],
      "18:0": [2, 6],
      "18:1": [12, 22],
      "18:2": [30, 41],
      "18:3n6": [17, 27],
      "20:1": [2.8, 4.4],
      "22:1": [0, 3],
      "24:1": [0, 4.5],
    },
    source: "ph-eur-recalled",
  },
  iodineValue: [{ low: 130, high: 155, source: "recalled" }],
  saponificationValue: [{ low: 184, high: 194, source: "recalled" }],
  poreRating: {
    rated: true,
    value: 2,
    low: 2,
    high: 4,
    evidence: "Three trade pages: 2, 2, and 3 to 4.",
    confidence: "D",
    source: "trade-ratings",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "faint, earthy", colour: "pale yellow", source: "bench-habit" },
    refined: { scent: "almost none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 3, high: 6, source: "shelf-pages" },
  usePercent: { low: 1, high: 10, source: "bench-habit" },
  addBelowC: { value: 45, source: "bench-habit" },
};

export const DELICATE_OILS: readonly RecordedIngredient[] = [
  HEMP_SEED_OIL,
  ROSEHIP_OIL,
  EVENING_PRIMROSE_OIL,
  BORAGE_OIL,
];
