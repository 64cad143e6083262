/**
 * Essential oils: a drop or two per jar. Their composition in listed fragrance allergens, the limits on skin and the
 * flash point matter; for the fat they are a thin liquid.
 *
 * Molar masses are those of the main constituents, rounded (from memory, order of magnitude): they only dilute the
 * liquid fat. Constituents are working figures; the sheet of the lot goes first. Where a figure was not found, the
 * upper end errs towards naming an allergen.
 */
import type { SourceKey } from "../sources.ts";
import type { Constituent, ListedOil, RecordedIngredient, Value } from "./record.ts";

type Spans = Readonly<Record<string, readonly [low: number, high: number]>>;

/** Constituents of one source [% by mass of the oil] */
function held(source: SourceKey, spans: Spans, at?: string): Constituent[] {
  return Object.entries(spans).map(([name, [low, high]]) => ({
    name,
    low,
    high,
    source,
    ...(at === undefined ? {} : { at }),
  }));
}

const UNRATED = {
  rated: false,
  why: "The assay tables that were read grade no essential oil, and no page with a number was found.",
} as const;

const NO_FAMILY = {
  families: [],
  note: "Holds fragrance allergens that must be named; see its constituents.",
  source: "eu-2023-1545",
} as const;

/** Off the heat, because it evaporates and burns: below every flash point of the list but eucalyptus. */
const ADD_BELOW: Value = {
  value: 45,
  source: "bench-habit",
  at: "five degrees or more below the flash point of the oil",
};

function dissolves(molarMass: number): RecordedIngredient["composition"] {
  return {
    chosen: {
      kind: "inert-liquid",
      molarMass,
      source: "recalled",
      at: "main constituents, order of magnitude; only dilutes",
    },
    why: "A thin liquid that dissolves in fat: it needs only a molar mass, and that is recalled.",
  };
}

function listed(entry: number, name: string): ListedOil {
  return { entry, name, source: "eu-2023-1545", at: "entry and name of Annex III" };
}

export const LAVENDER: RecordedIngredient = {
  id: "lavender-essential-oil",
  name: "Lavender essential oil",
  inci: { text: "Lavandula Angustifolia Oil", source: "eu-2023-1545" },
  kind: "additive",
  composition: dissolves(170),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: { unrefined: { scent: "floral, herbal", colour: "pale", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "recalled" },
  usePercent: { low: 0.1, high: 1, source: "bench-habit" },
  addBelowC: ADD_BELOW,
  essentialOil: {
    annexIIIEntry: listed(360, "Lavandula Oil/Extract"),
    constituents: [
      ...held("iso-3515-copied", { Linalool: [20, 45] }, "ISO to 43, Ph. Eur. 10 to 45"),
      ...held("iso-3515-copied", {
        "Linalyl Acetate": [25, 47],
        Limonene: [0, 1],
        Camphor: [0, 1.5],
        Terpineol: [0, 2],
      }),
      ...held("recalled", {
        Geraniol: [0, 1],
        "Beta-Caryophyllene": [0, 6],
        "Geranyl Acetate": [0, 1.5],
        Coumarin: [0, 0.1],
        Pinene: [0, 0.5],
      }),
    ],
    flashC: { low: 50, high: 60, source: "flash-pages", at: "citrus, lavender and tea tree" },
  },
  note: "Lavandin is another oil, with more camphor. Oils measured from four harvests lay outside the standard in places.",
};

const SWEET_ORANGE: RecordedIngredient = {
  id: "sweet-orange-essential-oil",
  name: "Sweet orange essential oil",
  inci: { text: "Citrus Aurantium Dulcis Peel Oil", source: "eu-2023-1545" },
  kind: "additive",
  composition: dissolves(136),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: {
    unrefined: { scent: "fresh orange peel", colour: "yellow to orange", source: "bench-habit" },
  },
  shelfMonths: { low: 6, high: 12, source: "recalled" },
  usePercent: { low: 0.1, high: 1, source: "bench-habit" },
  addBelowC: ADD_BELOW,
  essentialOil: {
    annexIIIEntry: listed(351, "Citrus Aurantium Peel Oil"),
    constituents: [
      ...held("ph-eur-citrus-copied", { Limonene: [92, 97], Linalool: [0.2, 0.7] }),
      ...held(
        "ph-eur-citrus-copied",
        { Citral: [0.05, 0.3], Pinene: [0.42, 0.9] },
        "neral and geranial, alpha and beta added up",
      ),
    ],
    flashC: { low: 50, high: 60, source: "flash-pages", at: "citrus, lavender and tea tree" },
  },
  note: "Cold pressed. Outside the rule for oils that burn in the sun (Tisserand & Young 2014, quoted). Old oil sensitises: mind its peroxides.",
};

export const LEMON: RecordedIngredient = {
  id: "lemon-essential-oil",
  name: "Lemon essential oil",
  inci: { text: "Citrus Limon Peel Oil", source: "eu-2023-1545" },
  kind: "additive",
  composition: dissolves(136),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: {
    unrefined: { scent: "fresh lemon peel", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 6, high: 12, source: "recalled" },
  usePercent: { low: 0.1, high: 1, source: "bench-habit" },
  addBelowC: ADD_BELOW,
  essentialOil: {
    annexIIIEntry: listed(353, "Citrus Limon Peel Oil"),
    constituents: [
      ...held("ph-eur-citrus-copied", {
        Limonene: [56, 78],
        "Geranyl Acetate": [0.1, 0.8],
        "Beta-Caryophyllene": [0, 0.5],
        Terpineol: [0, 0.6],
      }),
      ...held("ph-eur-citrus-copied", { Citral: [0.8, 3.8] }, "neral and geranial added up"),
      ...held("ph-eur-citrus-copied", { Pinene: [7, 20] }, "beta 7 to 17; alpha near 2.7"),
      ...held("citrus-2015", { Terpinolene: [0.2, 0.6] }, "0.3 and 0.34 read; span is ours"),
      ...held("recalled", { Linalool: [0, 0.5], Geraniol: [0, 0.2] }),
    ],
    phototoxicMostPercent: { value: 2, source: "tisserand-quoted", at: "cold pressed, leave-on" },
    flashC: { low: 50, high: 60, source: "flash-pages", at: "citrus, lavender and tea tree" },
  },
  note: "Cold pressed: skin that meets the sun may burn above its limit. Shares of such oils are added up against their limits.",
};

const PEPPERMINT: RecordedIngredient = {
  id: "peppermint-essential-oil",
  name: "Peppermint essential oil",
  inci: { text: "Mentha Piperita Oil", source: "eu-2023-1545" },
  kind: "additive",
  composition: dissolves(155),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: { unrefined: { scent: "mint, cooling", colour: "pale", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "recalled" },
  usePercent: { low: 0.1, high: 0.5, source: "bench-habit" },
  addBelowC: ADD_BELOW,
  essentialOil: {
    annexIIIEntry: listed(361, "Mentha Piperita Oil"),
    constituents: [
      ...held("ph-eur-peppermint-quoted", {
        Menthol: [30, 55],
        Limonene: [1, 5],
        Carvone: [0, 1],
      }),
      ...held("recalled", {
        Pinene: [0.5, 2.5],
        "Beta-Caryophyllene": [0, 3],
        Linalool: [0, 0.5],
        Terpineol: [0, 0.5],
      }),
    ],
    rules: [
      {
        where: "everywhere",
        rule: "Not for children under three, nor near the nose and mouth of any child: menthol can stop their breath.",
        source: "recalled",
        at: "German risk institute, 2008",
      },
    ],
    flashC: { low: 60, high: 75, source: "recalled", at: "low confidence" },
  },
  note: "None of 26 published oils met every range of one national standard.",
};

export const TEA_TREE: RecordedIngredient = {
  id: "tea-tree-essential-oil",
  name: "Tea tree essential oil",
  inci: { text: "Melaleuca Alternifolia Leaf Oil", source: "recalled" },
  kind: "additive",
  composition: dissolves(150),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: { unrefined: { scent: "camphor, medicinal", colour: "pale", source: "bench-habit" } },
  shelfMonths: { low: 12, high: 24, source: "recalled" },
  usePercent: { low: 0.1, high: 0.5, source: "bench-habit" },
  addBelowC: ADD_BELOW,
  essentialOil: {
    constituents: [
      ...held("iso-4730-copied", {
        "Alpha-Terpinene": [5, 13],
        Terpinolene: [1.5, 5],
        Pinene: [1, 6],
        Terpineol: [1.5, 8],
        Limonene: [0.5, 4],
      }),
      ...held("recalled", { "Methyl Eugenol": [0, 0.03] }),
    ],
    rules: [
      {
        where: "EU",
        rule: "The opinion supports shampoo, shower gel, face wash and face cream at stated levels for adults, and no body butter: block it there. A ban is drafted.",
        source: "sccs-1681-25",
      },
    ],
    mostUntold: {
      why: "The opinion names no level for a body butter; a maker needs a figure from their own safety assessor.",
      source: "sccs-1681-25",
    },
    flashC: { low: 50, high: 60, source: "flash-pages", at: "citrus, lavender and tea tree" },
  },
  note: "Old oil sensitises: mind its peroxides.",
};

export const GERANIUM: RecordedIngredient = {
  id: "geranium-essential-oil",
  name: "Geranium essential oil",
  inci: { text: "Pelargonium Graveolens Oil", source: "eu-2023-1545" },
  kind: "additive",
  composition: dissolves(160),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: { unrefined: { scent: "rosy, green", colour: "greenish", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "recalled" },
  usePercent: { low: 0.1, high: 1, source: "bench-habit" },
  addBelowC: ADD_BELOW,
  essentialOil: {
    annexIIIEntry: listed(364, "Pelargonium Graveolens Flower Oil"),
    constituents: [
      ...held(
        "gauvin-2004",
        { Citronellol: [18, 45], Geraniol: [5, 20], Linalool: [2, 16] },
        "21.9, 18.3 and 16.0 read in one oil of Réunion; other ends recalled",
      ),
      ...held("recalled", {
        Citral: [0, 2],
        "Geranyl Acetate": [0, 1],
        "Beta-Caryophyllene": [0, 2],
        Limonene: [0, 0.5],
        Pinene: [0, 0.7],
        Eugenol: [0, 0.3],
      }),
    ],
    flashC: { low: 70, high: 85, source: "recalled", at: "low confidence" },
  },
};

const PATCHOULI: RecordedIngredient = {
  id: "patchouli-essential-oil",
  name: "Patchouli essential oil",
  inci: { text: "Pogostemon Cablin Oil", source: "eu-2023-1545" },
  kind: "additive",
  composition: dissolves(215),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: { unrefined: { scent: "earthy, sweet", colour: "amber", source: "bench-habit" } },
  shelfMonths: { low: 36, high: 60, source: "recalled" },
  usePercent: { low: 0.1, high: 1, source: "bench-habit" },
  addBelowC: ADD_BELOW,
  essentialOil: {
    annexIIIEntry: listed(365, "Pogostemon Cablin Oil"),
    constituents: [
      ...held("recalled", { "Beta-Caryophyllene": [2, 5], Pinene: [0, 0.5] }),
      ...held("chemical-catalogue", { Eugenol: [0, 0.1] }, "named without figure; 0.1 recalled"),
    ],
    flashC: { low: 90, high: 100, source: "recalled", at: "low confidence" },
  },
};

const CEDARWOOD: RecordedIngredient = {
  id: "cedarwood-essential-oil",
  name: "Cedarwood essential oil, Atlas",
  inci: { text: "Cedrus Atlantica Wood Oil", source: "eu-2023-1545" },
  kind: "additive",
  composition: dissolves(205),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: { unrefined: { scent: "woody, warm", colour: "yellow", source: "bench-habit" } },
  shelfMonths: { low: 36, high: 60, source: "recalled" },
  usePercent: { low: 0.1, high: 1, source: "bench-habit" },
  addBelowC: ADD_BELOW,
  essentialOil: {
    annexIIIEntry: listed(122, "Cedrus Atlantica Oil/Extract"),
    constituents: held(
      "cedar-summary",
      { Limonene: [0, 6.1], Pinene: [0, 14.9] },
      "highest of two oils",
    ),
    rules: [
      {
        where: "EU",
        rule: "Peroxides of the oil below 10 mmol/L.",
        source: "eu-2023-1545",
        at: "entry 122",
      },
    ],
    flashC: { low: 90, high: 105, source: "recalled", at: "low confidence" },
  },
  note: "Virginian cedarwood (Juniperus Virginiana) is another oil with an entry of its own; its ranges were not found.",
};

export const YLANG_YLANG: RecordedIngredient = {
  id: "ylang-ylang-essential-oil",
  name: "Ylang ylang essential oil",
  inci: { text: "Cananga Odorata Flower Oil", source: "eu-2023-1545" },
  kind: "additive",
  composition: dissolves(190),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: {
    unrefined: { scent: "sweet, floral", colour: "pale yellow", source: "bench-habit" },
  },
  shelfMonths: { low: 24, high: 36, source: "recalled" },
  usePercent: { low: 0.1, high: 0.5, source: "bench-habit" },
  addBelowC: ADD_BELOW,
  essentialOil: {
    annexIIIEntry: listed(347, "Cananga Odorata Oil/Extract"),
    constituents: held(
      "recalled",
      {
        Linalool: [0.5, 30],
        "Geranyl Acetate": [2, 17],
        "Beta-Caryophyllene": [3, 19],
        "Benzyl Benzoate": [3, 15],
        "Benzyl Salicylate": [1, 6],
        Farnesol: [0.5, 3],
        Geraniol: [0, 3],
        Eugenol: [0, 1],
        Isoeugenol: [0, 1],
        "Benzyl Alcohol": [0, 0.7],
        "Methyl Salicylate": [0, 0.5],
        Pinene: [0, 0.5],
      },
      "complete to III; grade and island shift it",
    ),
    rules: [
      {
        where: "trade",
        rule: "The oil has an IFRA standard of its own whose figure was not found: use the supplier's certificate only.",
        source: "ifra-51-transcribed",
      },
    ],
    mostUntold: {
      why: "A standard of the trade limits the whole oil; its figure was not found and stands on the supplier's certificate.",
      source: "ifra-51-transcribed",
    },
    flashC: { low: 80, high: 95, source: "recalled", at: "low confidence" },
  },
};

const EUCALYPTUS: RecordedIngredient = {
  id: "eucalyptus-essential-oil",
  name: "Eucalyptus essential oil",
  inci: { text: "Eucalyptus Globulus Leaf Oil", source: "eu-2023-1545" },
  kind: "additive",
  composition: dissolves(152),
  poreRating: UNRATED,
  allergens: NO_FAMILY,
  appearance: { unrefined: { scent: "fresh, camphor", colour: "pale", source: "bench-habit" } },
  shelfMonths: { low: 24, high: 36, source: "recalled" },
  usePercent: { low: 0.1, high: 0.5, source: "bench-habit" },
  addBelowC: {
    value: 39,
    source: "own-calculation",
    at: "five degrees below the lowest flash point read, 44 C",
  },
  essentialOil: {
    annexIIIEntry: listed(355, "Eucalyptus Globulus Oil"),
    constituents: [
      ...held("bp-eucalyptus", { Limonene: [0, 12], Pinene: [0, 10.5], Camphor: [0, 0.1] }),
      ...held("recalled", { Terpineol: [0, 3] }),
    ],
    rules: [
      {
        where: "everywhere",
        rule: "Not for children under three, nor near the nose and mouth of any child.",
        source: "recalled",
        at: "German risk institute, 2008; Commission E, 1990",
      },
    ],
    flashC: { low: 44, high: 49, source: "flash-pages" },
  },
};

export const ESSENTIAL_OILS: readonly RecordedIngredient[] = [
  LAVENDER,
  SWEET_ORANGE,
  LEMON,
  PEPPERMINT,
  TEA_TREE,
  GERANIUM,
  PATCHOULI,
  CEDARWOOD,
  YLANG_YLANG,
  EUCALYPTUS,
];
