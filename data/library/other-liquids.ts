/**
 * Liquids that the rules for ordinary oils do not fit: wax esters, hydrocarbons, hydroxy,
 * long-chain and medium-chain oils.
 */
import type { RecordedIngredient } from "./record.ts";

export const JOJOBA_OIL: RecordedIngredient = {
  id: "jojoba-oil",
  name: "Jojoba oil",
  inci: { text: "Simmondsia Chinensis (Jojoba) Seed Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "inert-liquid",
      molarMass: 606,
      source: "merck",
      at: "average of the wax esters",
    },
    why: "Wax esters, no triacylglycerols: liquid above about 10 °C, so it needs only a molar mass.",
  },
  iodineValue: [{ low: 80, high: 85, source: "merck", at: "81.7; ends recalled" }],
  saponificationValue: [{ low: 90, high: 95, source: "merck", at: "92.2; ends recalled" }],
  meltingC: [{ low: 6.8, high: 10.6, source: "merck", at: "melting and freezing" }],
  density: [
    { celsius: 25, low: 0.8642, high: 0.8642, unit: "g/mL", source: "merck" },
    { celsius: 10, low: 0.868, high: 0.868, unit: "g/mL", source: "ghannam-2023" },
    { celsius: 75, low: 0.83, high: 0.83, unit: "g/mL", source: "ghannam-2023" },
  ],
  measured: {
    iodineValue: { value: 81.7, source: "merck" },
    saponificationValue: { value: 92.2, source: "merck" },
    viscosityMm2PerS: {
      value: 33,
      source: "bisht-1993-recalled",
      at: "24.9 mm2/s at 40 C, to 32 C with 28 kJ/mol",
    },
  },
  poreRating: {
    rated: true,
    value: 2,
    low: 0,
    high: 2,
    evidence:
      "The assay found preparations differ (prose of p. 327); range 0 to 2 recalled. Trade pages 0, 1 and 2. A range counts by its upper end.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "mild, nutty", colour: "golden", source: "bench-habit" },
    refined: { scent: "none", colour: "clear", source: "bench-habit" },
  },
  shelfMonths: { low: 24, high: 60, source: "shelf-pages", at: "upper end recalled" },
  usePercent: { low: 1, high: 50, source: "bench-habit" },
  note: "Sets between 7 and 11 °C: it can haze in a cold jar, which the model does not show.",
};

const SQUALANE: RecordedIngredient = {
  id: "squalane",
  name: "Squalane",
  inci: { text: "Squalane", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "inert-liquid",
      molarMass: 422.8,
      source: "own-calculation",
      at: "C30H62, standard atomic weights",
    },
    why: "A hydrocarbon, liquid far below our range: it needs only a molar mass.",
  },
  iodineValue: [{ low: 0, high: 4, source: "recalled" }],
  saponificationValue: [{ low: 0, high: 2, source: "recalled" }],
  meltingC: [{ low: -38, high: -38, source: "wikipedia", at: "Squalane" }],
  density: [
    { celsius: 25, low: 0.81, high: 0.81, unit: "g/mL", source: "wikipedia", at: "Squalane" },
    {
      low: 0.815,
      high: 0.815,
      unit: "g/mL",
      source: "supplier-sheets",
      at: "medical encyclopaedia page; temperature not given",
    },
  ],
  measured: {
    iodineValue: { value: 0, source: "own-calculation", at: "C30H62 holds no double bond" },
    saponificationValue: { value: 0, source: "own-calculation", at: "C30H62 holds no ester" },
    viscosityMm2PerS: {
      value: 29.6,
      source: "lal-2000",
      at: "31.1 mPa s at 25 C over 0.81 g/mL gives 38.4; to 32 C with 28 kJ/mol, as for the oils",
    },
  },
  poreRating: {
    rated: true,
    value: 1,
    low: 0,
    high: 1,
    evidence: "Assay grade 1; copies mix up squalane and squalene. Trade pages 0 and 1.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: { families: [], note: "Ask for plant or shark origin.", source: "recalled" },
  appearance: { refined: { scent: "none", colour: "clear", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 24, source: "recalled" },
  usePercent: { low: 1, high: 30, source: "bench-habit" },
};

const CASTOR_OIL: RecordedIngredient = {
  id: "castor-oil",
  name: "Castor oil",
  inci: { text: "Ricinus Communis (Castor) Seed Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: { "16:0": 2, "18:0": 1, "18:1-OH": 87, "18:1": 7, "18:2": 3 },
      family: "seed",
      source: "binder-1962",
      at: "as printed",
    },
    why: "A measured sample, complete (rule 2).",
    alternatives: [
      {
        of: "fatty-acids",
        percent: { "16:0": 1.09, "18:0": 3.1, "18:1": 4.85, "18:1-OH": 89.6, "18:2": 1.27 },
        source: "fuel-oil-table",
        at: "Goering 1981",
      },
      {
        of: "triacylglycerols",
        percent: { RRR: 84.1, RRS: 8.2, RRO: 5.6, RRL: 1.2, RRP: 0.9 },
        source: "salimon-2010",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [0.5, 2],
      "18:0": [0.5, 2.5],
      "18:1-OH": [85, 95],
      "18:1": [2, 7],
      "18:2": [1, 5],
    },
    source: "merck",
    at: "ricinoleic 85 to 95 from a supplier sheet",
  },
  iodineValue: [{ low: 81, high: 91, source: "merck", at: "Wijs" }],
  saponificationValue: [{ low: 176, high: 187, source: "merck" }],
  meltingC: [{ low: -18, high: -10, source: "merck", at: "solidifies" }],
  density: [
    { celsius: 15.5, low: 0.961, high: 0.963, unit: "relative to water", source: "merck" },
    { celsius: 10, low: 0.966, high: 0.966, unit: "g/mL", source: "ghannam-2023" },
    { celsius: 75, low: 0.922, high: 0.922, unit: "g/mL", source: "ghannam-2023" },
  ],
  measured: {
    viscosityMm2PerS: {
      value: 443,
      source: "rescorla-1936",
      at: "293 to 302 mm2/s at 37.8 C, middle 297.5; to 32 C with 54 kJ/mol, which joins it to 731 at 25 C (Merck: 6 to 8 P over 0.957 g/mL)",
    },
  },
  poreRating: {
    rated: true,
    value: 1,
    low: 1,
    high: 2,
    evidence: "Assay grade 1; trade pages 1 to 2.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "faint, heavy", colour: "pale yellow", source: "bench-habit" },
    refined: { scent: "none", colour: "clear", source: "bench-habit" },
  },
  shelfMonths: { low: 12, high: 36, source: "shelf-pages" },
  usePercent: { low: 1, high: 15, source: "bench-habit" },
  note: "Tacky above some 10 to 15 %. Mixes badly with squalane and other hydrocarbons.",
};

const MEADOWFOAM_OIL: RecordedIngredient = {
  id: "meadowfoam-oil",
  name: "Meadowfoam seed oil",
  inci: { text: "Limnanthes Alba (Meadowfoam) Seed Oil", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 0.5,
        "18:1": 1.51,
        "20:0": 0.6,
        "20:1": 62.75,
        "22:1": 16.06,
        "22:2": 18.57,
      },
      family: "seed",
      source: "recalled",
    },
    why: "Recalled; nothing better was read (rule 5). Use the supplier's certificate.",
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [0.2, 1],
      "18:1": [0.5, 2.5],
      "20:0": [0.3, 1.5],
      "20:1": [52, 66],
      "22:1": [9, 24],
      "22:2": [10, 29],
    },
    source: "recalled",
    at: "20:1 is the delta-5 acid, 22:1 delta-5 and delta-13, 22:2 delta-5,13",
  },
  iodineValue: [{ low: 86, high: 98, source: "recalled" }],
  saponificationValue: [{ low: 164, high: 176, source: "recalled" }],
  poreRating: {
    rated: true,
    value: 1,
    low: 1,
    high: 1,
    evidence: "Recalled from trade tables; no page with a number was found.",
    confidence: "E",
    source: "recalled",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "faint, vegetal", colour: "pale yellow", source: "bench-habit" },
    refined: { scent: "none", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 24, high: 36, source: "shelf-pages", at: "upper end recalled" },
  usePercent: { low: 1, high: 30, source: "bench-habit" },
};

const FRACTIONATED_COCONUT_OIL: RecordedIngredient = {
  id: "fractionated-coconut-oil",
  name: "Fractionated coconut oil",
  inci: { text: "Caprylic/Capric Triglyceride", source: "inci-names" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "inert-liquid",
      molarMass: 501.8,
      source: "own-calculation",
      at: "mean triacylglycerol of 6:0 0.5, 8:0 58.29, 10:0 40.2, 12:0 1.01, a split inside the ranges of the European Pharmacopoeia",
    },
    why: "Liquid to about 0 °C, so it needs only a molar mass.",
  },
  fattyAcidRanges: {
    percent: { "6:0": [0, 2], "8:0": [50, 80], "10:0": [20, 50], "12:0": [0, 3] },
    source: "ph-eur-mct",
  },
  iodineValue: [{ low: 0, high: 1, source: "ph-eur-mct" }],
  saponificationValue: [{ low: 310, high: 360, source: "ph-eur-mct" }],
  meltingC: [
    {
      low: -5,
      high: 0,
      source: "supplier-sheets",
      at: "solidifies near 0; another sheet says liquid at 0",
    },
  ],
  density: [
    { celsius: 20, low: 0.93, high: 0.96, unit: "g/mL", source: "ph-eur-mct", at: "about 0.95" },
  ],
  measured: {
    iodineValue: { value: 0, source: "ph-eur-mct", at: "at most 1.0; the acids are saturated" },
    saponificationValue: {
      value: 335.4,
      source: "own-calculation",
      at: "from the same split; the pharmacopoeia allows 310 to 360",
    },
    viscosityMm2PerS: {
      value: 20.4,
      source: "own-calculation",
      at: "European Pharmacopoeia 25 to 33 mPa s at 20 C, middle 29, over 0.95 g/mL gives 30.5; to 32 C with 25 kJ/mol",
    },
  },
  poreRating: {
    rated: true,
    value: 1,
    low: 0,
    high: 2,
    evidence: "Assay grade 1 (glyceryl tricaprylate/caprate); trade pages 0 and 2.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: {
    families: ["tree-nut-formerly-listed"],
    note: "Usually made from coconut or palm kernel; carries no protein.",
    source: "fda-allergens-2025",
  },
  appearance: { refined: { scent: "none", colour: "clear", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "shelf-pages", at: "upper end recalled" },
  usePercent: { low: 1, high: 50, source: "bench-habit" },
  note: "Also sold as MCT oil. It solidifies near 0 °C, which the model does not show.",
};

export const OTHER_LIQUIDS: readonly RecordedIngredient[] = [
  JOJOBA_OIL,
  SQUALANE,
  CASTOR_OIL,
  MEADOWFOAM_OIL,
  FRACTIONATED_COCONUT_OIL,
];
