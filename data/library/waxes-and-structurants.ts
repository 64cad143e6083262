/**
 * Waxes, fatty acid and fatty alcohol: each crystallises by itself out of the fat, and a wax holds more than its
 * solids would.
 */
import type { RecordedIngredient } from "./record.ts";

export const BEESWAX: RecordedIngredient = {
  id: "beeswax",
  name: "Beeswax",
  inci: { text: "Cera Alba (Beeswax)", source: "inci-names" },
  kind: "wax",
  composition: {
    chosen: {
      kind: "wax",
      molarMass: 650,
      meltingCelsius: 63.5,
      fusionKJPerMol: 85,
      structure: 1.5,
      source: "own-calculation",
      at: "melts at 62 to 65 and weighs about 650 g/mol (both recalled); heat set so that it melts out of cocoa butter as in Martindale, within 4 C; structure by its gelling share",
    },
    why: "One crystal that stands for hydrocarbons, long esters and free acids; how far it can be trusted is in core/README.md (rule 4).",
    inOil: {
      gellingPercent: [
        { low: 1.5, high: 1.5, source: "penagos-2023", at: "sunflower oil" },
        { low: 3, high: 3, source: "gels-2024-beeswax", at: "olive and peanut oil" },
      ],
      inCocoaButter: {
        points: [
          [2.5, 32.5],
          [10, 39.5],
          [15, 46],
          [20, 50],
        ],
        source: "martindale-copied",
      },
    },
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

const CANDELILLA_WAX: RecordedIngredient = {
  id: "candelilla-wax",
  name: "Candelilla wax",
  inci: { text: "Euphorbia Cerifera (Candelilla) Wax", source: "inci-names" },
  kind: "wax",
  composition: {
    chosen: {
      kind: "wax",
      molarMass: 500,
      meltingCelsius: 70.5,
      fusionKJPerMol: 64.5,
      structure: 1.5,
      source: "own-calculation",
      at: "middle of 68.5 to 72.5 C; 129 J/g times a molar mass recalled to be about 500 (half of it hentriacontane, 437); structure by its gelling share",
    },
    why: "One crystal that stands for hydrocarbons, long esters and free acids; how far it can be trusted is in core/README.md (rule 4).",
    inOil: {
      gellingPercent: [
        { low: 2, high: 2, source: "blake-2014", at: "canola oil" },
        { low: 2, high: 2, source: "dassanayake-2009", at: "olive oil, 20 C" },
      ],
      heatJPerG: { value: 129, source: "dassanayake-2009" },
    },
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

const CARNAUBA_WAX: RecordedIngredient = {
  id: "carnauba-wax",
  name: "Carnauba wax",
  inci: { text: "Copernicia Cerifera (Carnauba) Wax", source: "inci-names" },
  kind: "wax",
  composition: {
    chosen: {
      kind: "wax",
      molarMass: 750,
      meltingCelsius: 84,
      fusionKJPerMol: 103,
      structure: 1,
      source: "own-calculation",
      at: "middle of 82 to 86 C; 137.6 J/g times a molar mass recalled to be about 750; no structure beyond its solids, because it needs twice as much to gel as the others",
    },
    why: "One crystal that stands for hydrocarbons, long esters and free acids; how far it can be trusted is in core/README.md (rule 4).",
    inOil: {
      gellingPercent: [
        { low: 4, high: 4, source: "blake-2014", at: "canola oil" },
        { low: 4, high: 4, source: "dassanayake-2009", at: "olive oil, 20 C" },
        { low: 5, high: 5, source: "penagos-2023", at: "sunflower oil" },
      ],
      heatJPerG: { value: 137.6, source: "dassanayake-2009" },
    },
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

const STEARIC_ACID: RecordedIngredient = {
  id: "stearic-acid",
  name: "Stearic acid",
  inci: { text: "Stearic Acid", source: "inci-names" },
  kind: "additive",
  composition: {
    chosen: {
      kind: "wax",
      molarMass: 270,
      meltingCelsius: 55,
      fusionKJPerMol: 57,
      structure: 1,
      source: "recalled",
      at: "trade grade, about half palmitic acid, which melts near 55 C; pure stearic acid 69 C and 61 kJ/mol",
    },
    why: "Recalled (rule 5): a small crystal whose solubility follows its melting point. Ask for the grade: pure acid melts 14 C higher.",
  },
  measured: {
    iodineValue: { value: 0, source: "own-calculation", at: "saturated; no double bond" },
    saponificationValue: {
      value: 207.8,
      source: "own-calculation",
      at: "one acid group: 56 105 over the molar mass",
    },
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

const CETYL_ALCOHOL: RecordedIngredient = {
  id: "cetyl-alcohol",
  name: "Cetyl alcohol",
  inci: { text: "Cetyl Alcohol", source: "inci-names" },
  kind: "additive",
  composition: {
    chosen: {
      kind: "wax",
      molarMass: 242.4,
      meltingCelsius: 49.3,
      fusionKJPerMol: 57,
      structure: 1,
      source: "recalled",
      at: "1-hexadecanol, both heats of its two steps together",
    },
    why: "Recalled (rule 5): a small crystal whose solubility follows its melting point.",
  },
  measured: {
    iodineValue: { value: 0, source: "own-calculation", at: "C16H34O holds no double bond" },
    saponificationValue: { value: 0, source: "own-calculation", at: "an alcohol, no ester" },
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
