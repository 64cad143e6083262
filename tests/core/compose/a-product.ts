/** A small product for the tests of this chapter: one base, one oil place, one additive. */
import type { Choice, Product } from "#core/compose/product.ts";

export const A_PRODUCT: Product = {
  id: "evening-butter",
  name: "Evening butter",
  words: "Whipped slowly.",
  places: [{ id: "light", name: "Light oil", allowed: ["sunflower-oil", "jojoba-oil"] }],
  bases: [
    {
      id: "everyday",
      name: "Everyday",
      words: "Soft and plain.",
      butters: [
        { ingredient: "shea-butter", share: 6_000, least: 5_000, greatest: 7_000 },
        { ingredient: "cocoa-butter", share: 1_000, least: 500, greatest: 1_500 },
      ],
      oils: [
        {
          place: "light",
          ingredient: "sunflower-oil",
          share: 2_900,
          least: 2_000,
          greatest: 3_500,
        },
      ],
    },
  ],
  additives: [{ ingredient: "tocopherol", share: 100 }],
  jars: [{ id: "jar-100", name: "100 g", fillG: 100 }],
  quantityMost: 12,
  useCelsius: 21,
  airFraction: 0.35,
  rules: {},
};

/** A choice inside the bounds of that product, in steps of a hundredth of a percent. */
export function aChoice(shea: number, cocoa: number, light: number, oil = "sunflower-oil"): Choice {
  return {
    base: "everyday",
    butters: [
      { ingredient: "shea-butter", share: shea },
      { ingredient: "cocoa-butter", share: cocoa },
    ],
    oils: [{ place: "light", ingredient: oil, share: light }],
  };
}
