/**
 * Seed butters rich in stearic-oleic-stearic fats: they give a jar its body.
 */
import type { RecordedIngredient } from "./record.ts";

export const COCOA_BUTTER: RecordedIngredient = {
  id: "cocoa-butter",
  name: "Cocoa butter",
  inci: { text: "Theobroma Cacao (Cocoa) Seed Butter", source: "inci-names" },
  kind: "butter",
  composition: {
    chosen: {
      kind: "triacylglycerols",
      percent: {
        POP: 16.23,
        POS: 38.17,
        SOS: 25.9,
        SOA: 1.01,
        PLP: 2.24,
        PLS: 3.69,
        POO: 4.7,
        SOO: 4.59,
        PPS: 0.78,
        PSS: 0.56,
        PLO: 0.22,
        SLO: 0.95,
        OOO: 0.95,
      },
      source: "own-calculation",
      at: "mean of three: the complete table of the fractionation study, and twice the middle of the ranges that Scientific Reports quotes from two works; the rest shared out as in the table",
    },
    why: "Measured triacylglycerols, because cocoa butter is less random than the rule, which would give POS 35 and POP 15 (rule 1). All that was read counts (rule 2): the one complete table by itself (POP 19.6, SOS 22.7) amounts to 31 % palmitic acid, where butters hold 24 to 30.",
    alternatives: [
      {
        of: "triacylglycerols",
        percent: {
          ...{ POP: 19.6, POS: 40.3, SOS: 22.7, SOA: 0.9, PLP: 2, PLS: 3.3 },
          ...{ POO: 4.2, SOO: 4.1, PPS: 0.7, PSS: 0.5, PLO: 0.2, SLO: 0.85, OOO: 0.85 },
        },
        source: "cocoa-fractionation",
        at: "printed SLO+OOO 1.7, halved between the two",
      },
      {
        of: "triacylglycerols",
        percent: { POP: [13.6, 15.5], POS: [33.7, 40.5], SOS: [23.8, 31.2] },
        source: "scirep-2016-cocoa",
      },
      {
        of: "fatty-acids",
        percent: { "16:0": 26, "18:0": 34, "18:1": 33, "18:2": 3 },
        source: "mcn-2011",
      },
      {
        of: "fatty-acids",
        percent: { "16:0": 25, "18:0": 37, "18:1": 34, "18:2": 3 },
        source: "belitz",
      },
      {
        of: "triacylglycerols",
        percent: { POS: 47, SOS: 33, POP: 19 },
        source: "takagi-1995",
        at: "mole percent of the monounsaturated fraction",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [24, 30],
      "18:0": [30, 38],
      "18:1": [31, 38],
      "18:2": [1.5, 4.5],
      "18:3": [0, 0.4],
      "20:0": [0.5, 1.5],
    },
    source: "recalled",
  },
  iodineValue: [
    { low: 33, high: 42, source: "supplier-sheets", at: "CRC 36.5 and Merck 35 to 43 agree" },
  ],
  saponificationValue: [
    { low: 188, high: 198, source: "supplier-sheets", at: "CRC 193.8 and Merck 188 to 195 agree" },
  ],
  unsaponifiablePercent: [
    { low: 0, high: 0.7, source: "codex-86", at: "maximum; press cocoa butter 0.35" },
  ],
  meltingC: [
    {
      low: 31,
      high: 35,
      source: "bpc-1911",
      at: "31 to 34; upper end from other handbooks; clear melt of the stable form",
    },
  ],
  density: [
    {
      celsius: 25,
      low: 0.97,
      high: 0.976,
      unit: "relative to water",
      state: "solid",
      source: "bpc-1911",
    },
    {
      low: 0.858,
      high: 0.864,
      unit: "g/mL",
      source: "cameo",
      at: "Merck; temperature not given, probably near 100 C",
    },
    { low: 0.89, high: 0.91, unit: "g/mL", source: "cameo", at: "CRC; temperature not given" },
  ],
  poreRating: {
    rated: true,
    value: 4,
    low: 4,
    high: 4,
    evidence:
      "Assay grade 4; the prose of p. 327 confirms it is positive. Another handbook gives 2.6 to 4 of 4 by batch; the one small human study saw no effect. Trade pages 4.",
    confidence: "B",
    source: "fulton-1989-copied",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "chocolate", colour: "pale yellow", source: "bench-habit" },
    refined: { scent: "almost none", colour: "ivory", source: "bench-habit" },
  },
  shelfMonths: { low: 24, high: 36, source: "shelf-pages" },
  usePercent: { low: 5, high: 60, source: "bench-habit" },
  note: "Several crystal forms; overheating lowers the setting point.",
};

export const MANGO_BUTTER: RecordedIngredient = {
  id: "mango-butter",
  name: "Mango butter",
  inci: { text: "Mangifera Indica (Mango) Seed Butter", source: "inci-names" },
  kind: "butter",
  composition: {
    chosen: {
      kind: "triacylglycerols",
      percent: {
        ...{ SOS: 40, POS: 15.7, SOO: 18.6 },
        ...{ OOO: 4.22, POO: 4.0, SLS: 3.14, SLO: 2.97, SOL: 1.98, SOA: 1.59 },
        ...{ PLS: 1.41, POP: 0.94, OOL: 0.94, OOA: 0.75, OLO: 0.7, PLO: 0.67 },
        ...{ SSS: 0.51, SSO: 0.49, POL: 0.44, POA: 0.36, SLL: 0.33, SLA: 0.26 },
      },
      source: "own-calculation",
      at: "middles of Jin 2016 (11 varieties), Wang 1990 (4) and Kouassi (7), weighted by varieties; the rest, 25.7, as the rule shares it out",
    },
    unsaponifiable: { value: 2.5, source: "muchiri-2012", at: "middle of 2.26 to 2.74" },
    why: "Measured triacylglycerols of 22 varieties (rules 1 and 2). The acids used before gave SOS 25 by the rule, at the edge of what was ever measured (24 to 55), so a lot without a certificate is still a guess.",
    alternatives: [
      {
        of: "fatty-acids",
        percent: {
          "16:0": 8.02,
          "18:0": 38.08,
          "18:1": 45.09,
          "18:2": 6.51,
          "18:3": 0.6,
          "20:0": 1.7,
        },
        source: "own-calculation",
        at: "between the fats of Muchiri 2012, Jahurul 2020 and an Iranian study, brought to 100",
      },
      {
        of: "triacylglycerols",
        percent: { SOS: [23.9, 45.8], SOO: [15.5, 25.8], SLS: [10.4, 12.5] },
        source: "kouassi-mango",
        at: "7 varieties of the Ivory Coast",
      },
      {
        of: "triacylglycerols",
        percent: { SOS: [29.99, 55.44], SOO: [11.17, 23.34], POS: [13.1, 19.79] },
        source: "jin-2016",
        at: "11 varieties",
      },
      {
        of: "triacylglycerols",
        percent: { SOS: [34, 49], POS: [13, 14] },
        source: "wang-1990",
        at: "4 varieties",
      },
      {
        of: "fatty-acids",
        percent: {
          "16:0": [6.7, 9.7],
          "18:0": [32.7, 44],
          "18:1": [43.7, 53.4],
          "18:2": [3.6, 6.9],
          "20:0": [1.1, 2.5],
        },
        source: "van-pee",
        at: "9 varieties",
      },
      {
        of: "fatty-acids",
        percent: { "16:0": 9.29, "18:0": 39.07, "18:1": 40.81 },
        source: "solis-fuentes-2004",
      },
      {
        of: "fatty-acids",
        percent: { "16:0": [6.67, 7.51], "18:0": [42.3, 48.95], "18:1": [32.9, 38.1] },
        source: "jahurul-2020",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [4.87, 10.57],
      "18:0": [24.2, 48.95],
      "18:1": [32.9, 58.6],
      "18:2": [1, 13],
      "18:3": [0, 1.8],
      "20:0": [0.62, 2.6],
    },
    source: "muchiri-2012",
    at: "widened by Jahurul 2020 and an Indian supplier sheet",
  },
  iodineValue: [
    {
      low: 41.8,
      high: 57,
      source: "muchiri-2012",
      at: "51.1 to 56.8; Indian fats mostly 45 to 50; low end Solis-Fuentes 2004",
    },
  ],
  saponificationValue: [
    {
      low: 181,
      high: 196,
      source: "muchiri-2012",
      at: "188.8 to 195.9; low end from Jahurul 2020",
    },
  ],
  unsaponifiablePercent: [
    {
      low: 2.26,
      high: 2.9,
      source: "muchiri-2012",
      at: "2.26 to 2.74; upper end from an Iranian study",
    },
  ],
  meltingC: [
    {
      low: 25,
      high: 35.2,
      source: "muchiri-2012",
      at: "25 to 33; upper end a slip point of Jahurul 2020",
    },
  ],
  density: [
    {
      low: 0.9017,
      high: 0.9087,
      unit: "relative to water",
      source: "muchiri-2012",
      at: "temperature not in the abstract",
    },
    { celsius: 40, low: 0.9, high: 0.9, unit: "relative to water", source: "iran-mango" },
  ],
  poreRating: {
    rated: true,
    value: 2,
    low: 0,
    high: 2,
    evidence: "Three trade pages disagree: 2, 0 and below 2. The higher is taken.",
    confidence: "D",
    source: "trade-ratings",
  },
  allergens: {
    families: [],
    note: "Of the cashew and pistachio family; a caution is optional.",
    source: "recalled",
  },
  appearance: {
    unrefined: { scent: "almost none", colour: "white to ivory", source: "bench-habit" },
    refined: { scent: "none", colour: "white", source: "bench-habit" },
  },
  shelfMonths: { low: 12, high: 24, source: "shelf-pages", at: "upper end recalled" },
  usePercent: { low: 10, high: 100, source: "bench-habit" },
};

const KOKUM_BUTTER: RecordedIngredient = {
  id: "kokum-butter",
  name: "Kokum butter",
  inci: { text: "Garcinia Indica Seed Butter", source: "recalled" },
  kind: "butter",
  composition: {
    chosen: {
      kind: "triacylglycerols",
      percent: {
        SOS: 72,
        SOO: 17.1,
        POS: 4.2,
        SLS: 2.2,
        OOO: 1.3,
        SLO: 0.7,
        POO: 0.6,
        SSO: 0.6,
        SOL: 0.3,
        SSS: 1,
      },
      source: "own-calculation",
      at: "SOS at the low end of what is reported (72 to 83.4), trisaturates held to 1, the rest from the acids of Sridhar 1991 by the rule",
    },
    unsaponifiable: { value: 1.2, source: "wikipedia", at: "Kokum butter" },
    why: "The rule gives SOS 66 and 2.8 % trisaturates from the acids; 72 or more is reported, so the reported figure is used (rule 1).",
    alternatives: [
      {
        of: "fatty-acids",
        percent: { "16:0": 2, "18:0": 57, "18:1": 39, "18:2": 1.3 },
        source: "sridhar-1991",
      },
      {
        of: "fatty-acids",
        percent: { "16:0": 3.4, "18:0": 67.4, "18:1": 28.1, "18:2": 0.6, "20:0": 0.3 },
        source: "supplier-sheets",
        at: "Indian supplier; would give iodine value 25",
      },
      {
        of: "triacylglycerols",
        percent: { SOS: [72, 83.4] },
        source: "supplier-sheets",
        at: "72 recalled from the literature of cocoa butter equivalents; 83.4 an Indian supplier",
      },
      {
        of: "triacylglycerols",
        percent: { SOS: 75, POS: 6, SOO: 14, OOO: 1.5, SSS: 1.2 },
        source: "recalled",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [2, 5.3],
      "18:0": [50, 67.4],
      "18:1": [28.1, 42],
      "18:2": [0.4, 2],
      "20:0": [0, 0.5],
    },
    source: "sridhar-1991",
    at: "upper 18:0 from a supplier sheet; ends recalled",
  },
  iodineValue: [{ low: 34, high: 40, source: "wikipedia", at: "Kokum butter" }],
  saponificationValue: [{ low: 187, high: 193, source: "wikipedia", at: "Kokum butter" }],
  unsaponifiablePercent: [{ low: 1.2, high: 1.2, source: "wikipedia", at: "Kokum butter" }],
  meltingC: [
    {
      low: 34,
      high: 40,
      source: "wikipedia",
      at: "Kokum butter, slip point; the cell repeats the iodine values, so doubtful",
    },
  ],
  density: [
    { low: 0.898, high: 0.914, unit: "relative to water", source: "wikipedia", at: "Kokum butter" },
  ],
  poreRating: {
    rated: true,
    value: 0,
    low: 0,
    high: 0,
    evidence: "Two trade pages say it clogs no pores but print no number; the 0 is recalled.",
    confidence: "E",
    source: "recalled",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: {
      scent: "almost none",
      colour: "off-white to pale grey-yellow",
      source: "bench-habit",
    },
    refined: { scent: "none", colour: "white", source: "bench-habit" },
  },
  shelfMonths: { low: 9, high: 24, source: "shelf-pages" },
  usePercent: { low: 5, high: 60, source: "bench-habit" },
  note: "Hard and crumbly.",
};

const ILLIPE_BUTTER: RecordedIngredient = {
  id: "illipe-butter",
  name: "Illipe butter",
  inci: { text: "Shorea Stenoptera Seed Butter", source: "inci-names" },
  kind: "butter",
  composition: {
    chosen: {
      kind: "triacylglycerols",
      percent: {
        POS: 36.3,
        SOS: 35.8,
        POP: 9.2,
        SOO: 8.1,
        POO: 4.1,
        SOA: 1.6,
        PLS: 1.2,
        SLS: 1.1,
        POA: 0.8,
        OOO: 0.5,
        PLP: 0.3,
        PSS: 0.5,
        SSS: 0.5,
      },
      source: "own-calculation",
      at: "acids of Belitz (16:0 20, 18:0 42, 18:1 36, 18:2 1, 20:0 1 recalled) by the rule, trisaturates held to 1",
    },
    why: "Published acids rather than recalled triacylglycerols (rule 2); the rule alone leaves 3.7 % trisaturates, which cocoa-like fats do not hold.",
    alternatives: [
      {
        of: "fatty-acids",
        percent: { "16:0": 18, "18:0": 43.3, "18:1": 37.4, "18:2": 0.2, "20:0": 1.1 },
        source: "wikipedia",
        at: "Borneo tallow nut oil",
      },
      {
        of: "fatty-acids",
        percent: { "16:0": 20, "18:0": 42, "18:1": 36, "18:2": 1 },
        source: "belitz",
        at: "Shorea stenoptera; 18:2 printed as below 1",
      },
      {
        of: "triacylglycerols",
        percent: { SOS: 45, POS: 34, POP: 7, SOA: 4, SOO: 3, POO: 1 },
        source: "recalled",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [15, 21],
      "18:0": [39, 46],
      "18:1": [32, 38],
      "18:2": [0, 1.5],
      "20:0": [0.5, 2],
    },
    source: "recalled",
  },
  iodineValue: [{ low: 28, high: 38, source: "recalled" }],
  saponificationValue: [{ low: 189, high: 200, source: "recalled" }],
  unsaponifiablePercent: [{ low: 0.5, high: 2, source: "recalled" }],
  meltingC: [{ low: 34, high: 39, source: "recalled" }],
  poreRating: { rated: false, why: "No number was found on any page read." },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "faint", colour: "cream to greenish", source: "bench-habit" },
    refined: { scent: "none", colour: "white", source: "bench-habit" },
  },
  shelfMonths: { low: 24, high: 24, source: "shelf-pages" },
  usePercent: { low: 5, high: 40, source: "bench-habit" },
  note: "Shorea, not the mowrah fat (Madhuca) that is also called illipe in India.",
};

const SAL_BUTTER: RecordedIngredient = {
  id: "sal-butter",
  name: "Sal butter",
  inci: { text: "Shorea Robusta Seed Butter", source: "inci-names" },
  kind: "butter",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: { "16:0": 5.56, "18:0": 43.43, "18:1": 42.42, "18:2": 2.02, "20:0": 6.57 },
      family: "seed",
      source: "own-calculation",
      at: "between note 645 of the Solvent Extractors' Association of India and Srivastava & Prasad 2000, brought to 100",
    },
    why: "Published acids rather than recalled triacylglycerols, which name only 92 % (rule 4).",
    alternatives: [
      {
        of: "fatty-acids",
        percent: { "16:0": 4, "18:0": 47, "18:1": 44, "18:2": 0.5, "20:0": 2.8 },
        source: "sal-note-645",
      },
      {
        of: "triacylglycerols",
        percent: { SOS: 42, SOA: 13, POS: 11, SOO: 16, POO: 3, OOO: 3, AOO: 4 },
        source: "recalled",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [4, 8.6],
      "18:0": [34.2, 47],
      "18:1": [34.2, 44.8],
      "18:2": [0.5, 2.7],
      "20:0": [2.8, 12.2],
    },
    source: "srivastava-2000",
    at: "widened by note 645 of the Solvent Extractors' Association of India",
  },
  iodineValue: [{ low: 31, high: 45, source: "recalled" }],
  saponificationValue: [{ low: 175, high: 192, source: "recalled" }],
  meltingC: [{ low: 30, high: 38, source: "recalled" }],
  poreRating: { rated: false, why: "No number was found on any page read." },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: { scent: "faint", colour: "white to pale green", source: "bench-habit" },
    refined: { scent: "none", colour: "off-white", source: "bench-habit" },
  },
  shelfMonths: { low: 9, high: 24, source: "shelf-pages", at: "upper end recalled" },
  usePercent: { low: 5, high: 40, source: "bench-habit" },
  note: "Raw sal holds glycerides of epoxystearic acid that blunt its melting; refined sal is meant.",
};

const CUPUACU_BUTTER: RecordedIngredient = {
  id: "cupuacu-butter",
  name: "Cupuaçu butter",
  inci: { text: "Theobroma Grandiflorum Seed Butter", source: "inci-names" },
  kind: "butter",
  composition: {
    chosen: {
      kind: "fatty-acids",
      percent: { "16:0": 7.5, "18:0": 33.5, "18:1": 43, "18:2": 4.5, "20:0": 10.5 },
      family: "seed",
      source: "recalled",
      at: "18:0 near the one figure read, 34.15",
    },
    why: "All recalled; of two recalled sets the one nearer the abstract that was read (rule 5).",
    alternatives: [
      { of: "fatty-acids", percent: { "18:0": 34.15, "18:1": 38.9 }, source: "aocs-2020-cupuacu" },
      {
        of: "fatty-acids",
        percent: {
          "16:0": 7.33,
          "18:0": 31.57,
          "18:1": 43.79,
          "18:2": 4.07,
          "20:0": 11.2,
          "22:0": 2.04,
        },
        source: "recalled",
      },
      {
        of: "triacylglycerols",
        percent: { SOS: 14, SOA: 15, SOO: 25, POS: 9, POO: 8, AOO: 10, OOO: 5 },
        source: "recalled",
      },
    ],
  },
  fattyAcidRanges: {
    percent: {
      "16:0": [6, 11],
      "18:0": [28, 38],
      "18:1": [38, 47],
      "18:2": [2, 7],
      "20:0": [8, 13],
      "22:0": [1, 2.5],
    },
    source: "recalled",
  },
  iodineValue: [{ low: 40, high: 50, source: "recalled" }],
  saponificationValue: [{ low: 174, high: 188, source: "recalled" }],
  meltingC: [{ low: 28, high: 34, source: "supplier-sheets", at: "about 30; ends recalled" }],
  poreRating: {
    rated: true,
    value: 4,
    low: 1,
    high: 4,
    evidence:
      "One thread prints 4; trade tables are recalled as 1. What was read beats what is recalled. Strongly disputed.",
    confidence: "D",
    source: "trade-ratings",
  },
  allergens: { families: [], source: "recalled" },
  appearance: {
    unrefined: {
      scent: "mild cocoa, fruity",
      colour: "ivory to pale yellow",
      source: "bench-habit",
    },
    refined: { scent: "almost none", colour: "ivory", source: "bench-habit" },
  },
  shelfMonths: { low: 18, high: 24, source: "shelf-pages" },
  usePercent: { low: 5, high: 50, source: "bench-habit" },
};

export const SEED_BUTTERS: readonly RecordedIngredient[] = [
  COCOA_BUTTER,
  MANGO_BUTTER,
  KOKUM_BUTTER,
  ILLIPE_BUTTER,
  SAL_BUTTER,
  CUPUACU_BUTTER,
];
