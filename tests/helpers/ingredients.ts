/**
 * Ingredients for tests: real compositions, fixed here, so that a better figure in the library
 * moves no test of the core. Cocoa butter by measured triacylglycerols; the rest by fatty acids
 * [percent by mass].
 */
import { type Blend, makeBlend } from "#core/blend.ts";
import type { Composition, Ingredient, IngredientKind } from "#core/ingredient.ts";

type Extra = Partial<Pick<Ingredient, "allergenFamilies" | "addBelowC" | "measured">>;

function ingredient(
  id: string,
  name: string,
  inci: string,
  kind: IngredientKind,
  composition: Composition,
  extra: Extra = {},
): Ingredient {
  const poreRating = { rated: false } as const;
  return { id, name, inci, kind, composition, poreRating, allergenFamilies: [], ...extra };
}

function acids(percent: Readonly<Record<string, number>>, unsaponifiablePercent = 0): Composition {
  return { kind: "fatty-acids", percent, unsaponifiablePercent };
}

export const COCOA_BUTTER = ingredient(
  "cocoa-butter",
  "Cocoa butter",
  "Theobroma Cacao (Cocoa) Seed Butter",
  "butter",
  {
    kind: "triacylglycerols",
    percent: {
      ...{ POP: 19.6, POS: 40.3, SOS: 22.7, SOA: 0.9, PLP: 2, PLS: 3.3 },
      ...{ POO: 4.2, SOO: 4.1, PPS: 0.7, PSS: 0.5, PLO: 0.2, OOO: 1.7 },
    },
  },
);

export const SHEA_BUTTER = ingredient(
  "shea-butter",
  "Shea butter",
  "Butyrospermum Parkii (Shea) Butter",
  "butter",
  acids({ "16:0": 4, "18:0": 43.7, "18:1": 44.2, "18:2": 6.3, "18:3": 0.2, "20:0": 1.6 }, 5),
);

export const MANGO_BUTTER = ingredient(
  "mango-butter",
  "Mango butter",
  "Mangifera Indica (Mango) Seed Butter",
  "butter",
  acids({ "16:0": 8, "18:0": 38.1, "18:1": 45.1, "18:2": 6.5, "18:3": 0.6, "20:0": 1.7 }),
);

export const COCONUT_OIL = ingredient(
  "coconut-oil",
  "Coconut oil",
  "Cocos Nucifera (Coconut) Oil",
  "oil",
  acids({
    ...{ "6:0": 0.3, "8:0": 7.1, "10:0": 6.3, "12:0": 47.5, "14:0": 18.3 },
    ...{ "16:0": 8.6, "18:0": 2.9, "18:1": 7.3, "18:2": 1.7 },
  }),
);

export const SUNFLOWER_OIL = ingredient(
  "sunflower-oil",
  "Sunflower oil",
  "Helianthus Annuus (Sunflower) Seed Oil",
  "oil",
  acids({ "16:0": 6.2, "18:0": 4.6, "18:1": 28.2, "18:2": 59.1, "20:0": 0.3, "22:0": 0.9 }),
);

export const HIGH_OLEIC_SUNFLOWER_OIL = ingredient(
  "high-oleic-sunflower-oil",
  "High-oleic sunflower oil",
  "Helianthus Annuus (Sunflower) Seed Oil",
  "oil",
  acids({ "16:0": 4, "18:0": 3.5, "18:1": 83, "18:2": 8.5, "22:0": 1 }),
);

export const SWEET_ALMOND_OIL = ingredient(
  "sweet-almond-oil",
  "Sweet almond oil",
  "Prunus Amygdalus Dulcis (Sweet Almond) Oil",
  "oil",
  acids({ "16:0": 6.5, "16:1": 0.5, "18:0": 1.7, "18:1": 66.9, "18:2": 24.4 }),
  { allergenFamilies: ["tree-nut"] },
);

export const JOJOBA_OIL = ingredient(
  "jojoba-oil",
  "Jojoba oil",
  "Simmondsia Chinensis (Jojoba) Seed Oil",
  "oil",
  { kind: "inert-liquid", molarMass: 606 },
);

export const ROSEHIP_OIL = ingredient(
  "rosehip-oil",
  "Rosehip seed oil",
  "Rosa Canina Seed Oil",
  "oil",
  acids({ "16:0": 3.7, "18:0": 2, "18:1": 15.1, "18:2": 46.2, "18:3": 32.2, "20:0": 0.8 }),
  { addBelowC: 45 },
);

export const HEMP_SEED_OIL = ingredient(
  "hemp-seed-oil",
  "Hemp seed oil",
  "Cannabis Sativa Seed Oil",
  "oil",
  acids({ "16:0": 6.4, "18:0": 2.7, "18:1": 13.6, "18:2": 57.2, "18:3": 18.4, "18:3n6": 0.9 }),
  { addBelowC: 40 },
);

export const TAPIOCA_STARCH = ingredient(
  "tapioca-starch",
  "Tapioca starch",
  "Tapioca Starch",
  "powder",
  { kind: "undissolved" },
);

export const TOCOPHEROL = ingredient(
  "tocopherol",
  "Vitamin E (mixed tocopherols)",
  "Tocopherol",
  "additive",
  { kind: "inert-liquid", molarMass: 430.7 },
  { addBelowC: 45, allergenFamilies: ["soy-possible"] },
);

/** A wax whose composition nobody has measured. */
export const BEESWAX = ingredient("beeswax", "Beeswax", "Cera Alba (Beeswax)", "wax", {
  kind: "unknown",
});

/** A blend from percent by mass; throws when the parts make no blend. */
export function aBlend(...parts: readonly (readonly [Ingredient, number])[]): Blend {
  const made = makeBlend(
    parts.map(([each, percent]) => ({ ingredient: each, share: Math.round(percent * 100) })),
  );
  if ("findings" in made) throw new Error(made.findings.map(({ code }) => code).join());
  return made.blend;
}

/** Shea 60, cocoa 10, jojoba and sunflower: the trade's soft butter. */
export const SOFT_BLEND = aBlend(
  [SHEA_BUTTER, 60],
  [COCOA_BUTTER, 10],
  [JOJOBA_OIL, 15],
  [SUNFLOWER_OIL, 15],
);

/** Cocoa 60, shea 15, coconut and sunflower: the trade's hard butter. */
export const HARD_BLEND = aBlend(
  [COCOA_BUTTER, 60],
  [SHEA_BUTTER, 15],
  [COCONUT_OIL, 12],
  [SUNFLOWER_OIL, 13],
);

/** Seven ingredients, as a customer of a small shop might order them. */
export const SEVEN_BLEND = aBlend(
  [SHEA_BUTTER, 48],
  [COCOA_BUTTER, 12],
  [SWEET_ALMOND_OIL, 20],
  [JOJOBA_OIL, 10],
  [ROSEHIP_OIL, 5],
  [TAPIOCA_STARCH, 4],
  [TOCOPHEROL, 1],
);

/** Twelve ingredients. */
export const TWELVE_BLEND = aBlend(
  [SHEA_BUTTER, 34],
  [MANGO_BUTTER, 14],
  [COCOA_BUTTER, 9],
  [COCONUT_OIL, 8],
  [SWEET_ALMOND_OIL, 9],
  [HIGH_OLEIC_SUNFLOWER_OIL, 7],
  [SUNFLOWER_OIL, 5],
  [JOJOBA_OIL, 5],
  [ROSEHIP_OIL, 3],
  [HEMP_SEED_OIL, 2],
  [TAPIOCA_STARCH, 3],
  [TOCOPHEROL, 1],
);
