/**
 * Oils of nuts and kernels: mostly oleic, and the ones to ask about allergies.
 */
import type { RecordedIngredient } from "./record.ts";

export const SWEET_ALMOND_OIL: RecordedIngredient = {
  id: "sweet-almond-oil",
  name: "Sweet almond oil",
  inci: { text: "Prunus Amygdalus Dulcis (Sweet Almond) Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 6.49,
        "16:1": 0.5,
        "17:0": 0.1,
        "18:0": 1.7,
        "18:1": 66.93,
        "18:2": 23.98,
        "18:3": 0.1,
        "20:0": 0.1,
        "20:1": 0.1,
      },
      family: "seed",
      source: "own-calculation",
      at: "inside the ranges of the European Pharmacopoeia; the split is ours",
    },
    why: "Own split inside published ranges (rule 4).",
    alternatives: [
      {
        of: "fatty-acids",
        percent: { "16:0": [3, 7.4], "18:0": [0.2, 2.2], "18:1": [53, 78], "18:2": [13, 26] },
        source: "plant-oils-2022",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [4, 9],
      "16:1": [0, 0.8],
      "17:0": [0, 0.2],
      "18:0": [0, 3],
      "18:1": [62, 86],
      "18:2": [20, 30],
      "18:3": [0, 0.4],
      "20:0": [0, 0.2],
      "20:1": [0, 0.3],
    },
    source: "ph-eur-almond",
  },
  iodineValue: [
    { low: 95, high: 105, source: "usp-almond" },
    { low: 85, high: 109, source: "codex-210-recalled" },
  ],
  saponificationValue: [
    { low: 190, high: 200, source: "usp-almond" },
    { low: 183, high: 207, source: "codex-210-recalled" },
  ],
  unsaponifiablePercent: [{ low: 0, high: 0.9, source: "ph-eur-almond" }],
  meltingC: [{ low: -18, high: -18, source: "ph-eur-almond", at: "solidifies" }],
  density: [
    { celsius: 20, low: 0.916, high: 0.916, unit: "relative to water", source: "ph-eur-almond" },
    { celsius: 25, low: 0.91, high: 0.915, unit: "relative to water", source: "usp-almond" },
    { celsius: 20, low: 0.915, high: 0.918, unit: "relative to water", source: "supplier-sheets" },
  ],
  poreRating: {
    rated: true,
    value: 2,
    low: 1,
    high: 3,
    evidence:
      "Assay grade 2; a 1983 assay names it among the more reactive oils. Trade pages 1 to 3.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: { families: ["tree-nut"], note: "Almond.", source: "fda-allergens-2025" },
  appearance: {
    unrefined: { scent: "faint, sweet", colour: "pale yellow", source: "bench-habit" },
    refined: { scent: "none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 6, high: 12, source: "shelf-pages" },
  usePercent: { low: 1, high: 50, source: "bench-habit" },
};

const APRICOT_KERNEL_OIL: RecordedIngredient = {
  id: "apricot-kernel-oil",
  name: "Apricot kernel oil",
  inci: { text: "Prunus Armeniaca (Apricot) Kernel Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 5.02,
        "16:1": 0.7,
        "18:0": 1.2,
        "18:1": 65.76,
        "18:2": 27.11,
        "18:3": 0.2,
      },
      family: "seed",
      source: "supplier-sheets",
      at: "middle of each range, brought to 100; minor acids recalled",
    },
    why: "Middle of a supplier's ranges; nothing better was read (rule 4).",
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [3, 8],
      "16:1": [0.3, 1],
      "18:0": [0.5, 3],
      "18:1": [58, 72],
      "18:2": [22, 32.5],
      "18:3": [0, 0.5],
    },
    source: "supplier-sheets",
    at: "minor acids recalled",
  },
  iodineValue: [{ low: 95, high: 110, source: "recalled" }],
  saponificationValue: [{ low: 185, high: 195, source: "supplier-sheets" }],
  density: [
    { celsius: 20, low: 0.91, high: 0.92, unit: "relative to water", source: "supplier-sheets" },
  ],
  poreRating: {
    rated: true,
    value: 2,
    low: 1,
    high: 2,
    evidence: "Assay grade 2; trade pages 1 to 2.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: {
    families: ["other-nut"],
    note: "A stone-fruit kernel, close to almond.",
    source: "recalled",
  },
  appearance: {
    unrefined: { scent: "faint, sweet", colour: "pale yellow", source: "bench-habit" },
    refined: { scent: "none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 6, high: 12, source: "shelf-pages" },
  usePercent: { low: 1, high: 50, source: "bench-habit" },
};

const MACADAMIA_OIL: RecordedIngredient = {
  id: "macadamia-oil",
  name: "Macadamia oil",
  inci: {
    text: "Macadamia Ternifolia Seed Oil",
    source: "inci-names",
    at: "or Macadamia Integrifolia Seed Oil: by the species bought",
  },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "14:0": 0.8,
        "16:0": 8.5,
        "16:1": 19.0,
        "18:0": 3.5,
        "18:1": 60.0,
        "18:2": 2.0,
        "18:3": 0.5,
        "20:0": 2.6,
        "20:1": 2.3,
        "22:0": 0.8,
      },
      family: "seed",
      source: "recalled",
      at: "18:1, 16:1, 18:2 and 18:3 near an encyclopaedia's round figures; saturated acids recalled",
    },
    why: "Recalled; nothing better was read (rule 5). Use the supplier's certificate.",
  },
  fattyAcidRanges: {
    percent: {
      "14:0": [0.5, 1.5],
      "16:0": [7, 11],
      "16:1": [12, 25],
      "18:0": [2, 5],
      "18:1": [50, 67],
      "18:2": [1, 4],
      "18:3": [0, 2],
      "20:0": [1.5, 4],
      "20:1": [1.5, 3.5],
      "22:0": [0.3, 1],
    },
    source: "recalled",
  },
  iodineValue: [{ low: 70, high: 81, source: "recalled" }],
  saponificationValue: [{ low: 190, high: 200, source: "recalled" }],
  density: [
    { celsius: 25, low: 0.911, high: 0.918, unit: "relative to water", source: "recalled" },
  ],
  poreRating: {
    rated: true,
    value: 2,
    low: 1,
    high: 3,
    evidence: "Two trade pages: 2, and 1 to 2.",
    confidence: "D",
    source: "trade-ratings",
  },
  allergens: { families: ["tree-nut"], note: "Macadamia.", source: "fda-allergens-2025" },
  appearance: {
    unrefined: { scent: "faint, nutty", colour: "pale yellow", source: "bench-habit" },
    refined: { scent: "almost none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 9, high: 12, source: "shelf-pages" },
  usePercent: { low: 1, high: 50, source: "bench-habit" },
};

const MARULA_OIL: RecordedIngredient = {
  id: "marula-oil",
  name: "Marula oil",
  inci: { text: "Sclerocarya Birrea Seed Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 13.07,
        "18:0": 7.04,
        "18:1": 72.86,
        "18:2": 6.03,
        "18:3": 0.3,
        "20:0": 0.7,
      },
      family: "seed",
      source: "own-calculation",
      at: "inside the ranges of Front Pharmacol 2022; the split is ours",
    },
    why: "Own split inside published ranges (rule 4).",
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [11, 15],
      "18:0": [1, 9],
      "18:1": [65, 78],
      "18:2": [4, 9],
      "18:3": [0, 0.7],
      "20:0": [0.3, 1],
    },
    source: "plant-oils-2022",
  },
  iodineValue: [{ low: 70, high: 78, source: "recalled" }],
  saponificationValue: [{ low: 188, high: 199, source: "recalled" }],
  unsaponifiablePercent: [{ low: 0.7, high: 3, source: "plant-oils-2022" }],
  poreRating: {
    rated: true,
    value: 4,
    low: 1,
    high: 4,
    evidence: "Four trade pages: 4, 4, 3 to 4, and 1. Strongly disputed.",
    confidence: "D",
    source: "trade-ratings",
  },
  allergens: { families: ["other-nut"], note: "Kernel of the cashew family.", source: "recalled" },
  appearance: {
    unrefined: { scent: "sweet, nutty", colour: "pale gold", source: "bench-habit" },
    refined: { scent: "almost none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 12, high: 24, source: "shelf-pages", at: "upper end recalled" },
  usePercent: { low: 1, high: 30, source: "bench-habit" },
};

const HAZELNUT_OIL: RecordedIngredient = {
  id: "hazelnut-oil",
  name: "Hazelnut oil",
  inci: { text: "Corylus Avellana (Hazel) Seed Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 6.45,
        "16:1": 0.25,
        "18:0": 1.97,
        "18:1": 79.26,
        "18:2": 11.77,
        "18:3": 0.3,
      },
      family: "seed",
      source: "codex-210-recalled",
      at: "Table 1, middle of each range, brought to 100",
    },
    why: "Recalled; nothing better was read (rule 5). Use the supplier's certificate.",
    alternatives: [
      { of: "fatty-acids", percent: { "18:1": [76.3, 82.6] }, source: "supplier-sheets" },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [4.2, 8.9],
      "16:1": [0, 0.5],
      "18:0": [0.8, 3.2],
      "18:1": [74.2, 86.7],
      "18:2": [5.2, 18.7],
      "18:3": [0, 0.6],
    },
    source: "codex-210-recalled",
  },
  iodineValue: [
    { low: 81, high: 95, source: "codex-210-recalled" },
    { low: 83, high: 90, source: "supplier-sheets" },
  ],
  saponificationValue: [
    { low: 188, high: 198, source: "codex-210-recalled" },
    { low: 187, high: 197, source: "supplier-sheets" },
  ],
  unsaponifiablePercent: [{ low: 0, high: 1.5, source: "codex-210-recalled" }],
  density: [
    { celsius: 20, low: 0.906, high: 0.919, unit: "relative to water", source: "supplier-sheets" },
  ],
  poreRating: {
    rated: true,
    value: 2,
    low: 0,
    high: 2,
    evidence: "Three trade pages: 2, 2 and 0.",
    confidence: "C",
    source: "trade-ratings",
  },
  allergens: { families: ["tree-nut"], note: "Hazelnut.", source: "fda-allergens-2025" },
  appearance: {
    unrefined: { scent: "nutty", colour: "pale yellow", source: "bench-habit" },
    refined: { scent: "almost none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 6, high: 12, source: "shelf-pages" },
  usePercent: { low: 1, high: 30, source: "bench-habit" },
};

const ARGAN_OIL: RecordedIngredient = {
  id: "argan-oil",
  name: "Argan oil",
  inci: { text: "Argania Spinosa Kernel Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: { "16:0": 14.3, "18:0": 5.9, "18:1": 48.1, "18:2": 31.5 },
      family: "seed",
      source: "huyghebaert-1974",
      at: "one sample, as printed",
    },
    why: "A measured sample, complete (rule 2), with iodine value 97.0 and saponification value 192.4 measured on it.",
    alternatives: [
      {
        of: "fatty-acids",
        percent: {
          "14:0": 0.2,
          "16:0": 13.32,
          "18:0": 5.75,
          "18:1": 46.92,
          "18:2": 33.3,
          "18:3": 0.2,
          "20:0": 0.3,
        },
        source: "argan-standard-recalled",
        at: "middle of each range, brought to 100",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "14:0": [0, 0.2],
      "16:0": [11.5, 15],
      "18:0": [4.3, 7.2],
      "18:1": [43, 49.1],
      "18:2": [29.3, 36],
      "18:3": [0, 0.3],
      "20:0": [0, 0.5],
    },
    source: "argan-standard-recalled",
  },
  iodineValue: [
    { low: 91, high: 110, source: "argan-standard-recalled" },
    { low: 97, high: 97, source: "huyghebaert-1974", at: "measured" },
  ],
  saponificationValue: [
    { low: 189, high: 199.1, source: "argan-standard-recalled" },
    { low: 180, high: 199.6, source: "hilali-2005", at: "21 samples" },
    { low: 192.4, high: 192.4, source: "huyghebaert-1974", at: "measured" },
  ],
  unsaponifiablePercent: [
    { low: 0.34, high: 1.1, source: "hilali-2005", at: "0.34 to 0.79; upper end Huyghebaert 1974" },
  ],
  density: [
    {
      celsius: 20,
      low: 0.906,
      high: 0.919,
      unit: "g/mL",
      source: "argan-standard-recalled",
      at: "cited in an Algerian study",
    },
  ],
  poreRating: {
    rated: true,
    value: 0,
    low: 0,
    high: 1,
    evidence: "Ten trade pages 0, one 0 to 1. No assay.",
    confidence: "C",
    source: "trade-ratings",
  },
  allergens: {
    families: ["other-nut"],
    note: "Case reports of argan allergy exist.",
    source: "recalled",
  },
  appearance: {
    unrefined: { scent: "nutty", colour: "golden", source: "bench-habit" },
    refined: { scent: "almost none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 24, high: 24, source: "shelf-pages" },
  usePercent: { low: 1, high: 30, source: "bench-habit" },
};

export const KERNEL_OILS: readonly RecordedIngredient[] = [
  SWEET_ALMOND_OIL,
  APRICOT_KERNEL_OIL,
  MACADAMIA_OIL,
  MARULA_OIL,
  HAZELNUT_OIL,
  ARGAN_OIL,
];
