/**
 * Shea and its soft relatives.
 */
import type { RecordedIngredient } from "./record.ts";

export const SHEA_BUTTER: RecordedIngredient = {
  id: "shea-butter",
  name: "Shea butter",
  inci: { text: "Butyrospermum Parkii (Shea) Butter", source: "inci-names" },
  kind: "butter",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: {
        "16:0": 4.04,
        "18:0": 43.73,
        "18:1": 44.15,
        "18:2": 6.32,
        "18:3": 0.21,
        "20:0": 1.55,
      },
      family: "seed",
      source: "nahm-2011",
      at: "middle of seven West African butters, brought to 100; 20:0 and 18:3 recalled",
    },
    unsaponifiable: {
      value: 5,
      source: "own-calculation",
      at: "round figure within 4.2 (one oil) and 2 to 12 (Africa); 5 brought the solid fat error down",
    },
    why: "Fatty acids measured on a stated set (rule 2); the rule then gives SOS 33 and SOO 27, measured means 31.2 and 27.7.",
    alternatives: [
      {
        of: "triacylglycerols",
        percent: { SOS: 31.2, SOO: 27.7, OOO: 10.8 },
        source: "akihisa-2011",
        at: "mean of 36 samples, main species only",
      },
      {
        of: "fatty-acids",
        percent: { "18:0": [28, 56], "18:1": [34, 61] },
        source: "akihisa-2010",
        at: "all Africa",
      },
      {
        of: "fatty-acids",
        percent: { "16:0": 7, "18:0": 38, "18:1": 50, "18:2": 5 },
        source: "belitz",
      },
      {
        of: "triacylglycerols",
        percent: { SOS: 41, SOO: 27, POS: 6.5, OOO: 6, POO: 2.5, SLS: 3.5, SLO: 5, SOA: 2 },
        source: "recalled",
        at: "West African trade fat",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [2, 10],
      "18:0": [25, 50],
      "18:1": [32, 62],
      "18:2": [1, 11],
      "18:3": [0, 1],
      "20:0": [0, 3.5],
    },
    source: "codex-325r-recalled",
  },
  iodineValue: [{ low: 30, high: 75, source: "codex-325r", at: "Tables 1 and 2" }],
  saponificationValue: [{ low: 160, high: 195, source: "codex-325r", at: "Tables 1 and 2" }],
  unsaponifiablePercent: [{ low: 1, high: 19, source: "codex-325r", at: "Tables 1 and 2" }],
  meltingC: [{ low: 35, high: 40, source: "codex-325r", at: "Tables 1 and 2" }],
  density: [
    {
      celsius: 20,
      low: 0.91,
      high: 0.98,
      unit: "relative to water",
      source: "codex-325r",
      at: "Tables 1 and 2",
    },
    {
      celsius: 40,
      low: 0.89,
      high: 0.93,
      unit: "g/mL",
      source: "codex-325r",
      at: "Tables 1 and 2",
    },
  ],
  poreRating: {
    rated: true,
    value: 0,
    low: 0,
    high: 2,
    evidence: "Six trade pages: three print 0, one 0 to 2, one 2, one below 2. No assay.",
    confidence: "C",
    source: "trade-ratings",
  },
  allergens: {
    families: ["tree-nut-formerly-listed"],
    note: "Taken off the US list in January 2025.",
    source: "fda-allergens-2025",
  },
  appearance: {
    unrefined: { scent: "smoky, nutty, earthy", colour: "ivory to yellow", source: "bench-habit" },
    refined: { scent: "almost none", colour: "white", source: "bench-habit" },
  },
  shelfMonths: { low: 12, high: 24, source: "shelf-pages", at: "upper end recalled" },
  usePercent: { low: 10, high: 100, source: "bench-habit" },
  note: "Grows grainy when cooled slowly. East African (nilotica) shea is far softer: a raw material of its own.",
};

const SHEA_BUTTER_NILOTICA: RecordedIngredient = {
  id: "shea-butter-nilotica",
  name: "East African shea butter",
  inci: { text: "Butyrospermum Parkii (Shea) Butter", source: "inci-names" },
  kind: "butter",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: { "16:0": 4.56, "18:0": 28.37, "18:1": 58.26, "18:2": 7.6, "20:0": 1.22 },
      family: "seed",
      source: "recalled",
    },
    unsaponifiable: {
      value: 5,
      source: "own-calculation",
      at: "as for West African shea; not measured",
    },
    why: "Recalled; nothing better was read (rule 5). Use the supplier's certificate.",
    alternatives: [
      {
        of: "fatty-acids",
        percent: { "18:1": [50, 61] },
        source: "di-vincenzo-2005",
        at: "direction only: oleic acid dominates in Uganda; ends recalled",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [4, 6],
      "18:0": [25, 32],
      "18:1": [54, 61],
      "18:2": [6, 9],
      "20:0": [0.5, 2],
    },
    source: "recalled",
    at: "Di Vincenzo 2005 confirms the direction",
  },
  iodineValue: [{ low: 60, high: 72, source: "recalled" }],
  saponificationValue: [{ low: 175, high: 190, source: "recalled" }],
  meltingC: [{ low: 28, high: 34, source: "recalled" }],
  poreRating: {
    rated: true,
    value: 0,
    low: 0,
    high: 2,
    evidence: "Sold under the same label name as West African shea; no page separates the two.",
    confidence: "D",
    source: "trade-ratings",
  },
  allergens: {
    families: ["tree-nut-formerly-listed"],
    note: "Taken off the US list in January 2025.",
    source: "fda-allergens-2025",
  },
  appearance: {
    unrefined: { scent: "faint, nutty", colour: "ivory to pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 12, high: 24, source: "recalled" },
  usePercent: { low: 10, high: 100, source: "bench-habit" },
};

const SHEA_OLEIN: RecordedIngredient = {
  id: "shea-olein",
  name: "Shea olein",
  inci: { text: "Butyrospermum Parkii (Shea) Oil", source: "recalled" },
  kind: "oil",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: { "16:0": 5.08, "18:0": 27.41, "18:1": 57.87, "18:2": 8.63, "20:0": 1.02 },
      family: "seed",
      source: "recalled",
    },
    unsaponifiable: { value: 5, source: "own-calculation", at: "as for shea butter; not measured" },
    why: "Recalled; nothing better was read (rule 5). Use the supplier's certificate. A recalled triacylglycerol table stands beside it; the acids are preferred because certificates print them and the iodine value checks them.",
    alternatives: [
      {
        of: "triacylglycerols",
        percent: { SOO: 42, OOO: 18, SOS: 12, SLO: 9, POO: 5, OOL: 4, POS: 3 },
        source: "recalled",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [4, 6],
      "18:0": [18, 32],
      "18:1": [50, 63],
      "18:2": [7, 10],
      "20:0": [0.5, 1.5],
    },
    source: "recalled",
  },
  iodineValue: [{ low: 55, high: 75, source: "recalled" }],
  saponificationValue: [{ low: 165, high: 190, source: "recalled" }],
  meltingC: [{ low: 10, high: 25, source: "recalled" }],
  poreRating: { rated: false, why: "A fraction of its own; no number was found for it." },
  allergens: {
    families: ["tree-nut-formerly-listed"],
    note: "Taken off the US list in January 2025.",
    source: "fda-allergens-2025",
  },
  appearance: { refined: { scent: "almost none", colour: "pale yellow", source: "bench-habit" } },
  shelfMonths: { low: 12, high: 24, source: "recalled" },
  usePercent: { low: 5, high: 50, source: "bench-habit" },
  note: "Varies with where the maker of the oil cut the fraction.",
};

export const SHEA_FATS: readonly RecordedIngredient[] = [
  SHEA_BUTTER,
  SHEA_BUTTER_NILOTICA,
  SHEA_OLEIN,
];
