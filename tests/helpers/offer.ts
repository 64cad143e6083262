/**
 * A fixed product offer with real compositions, for tests of the page. Shop, product, prices and
 * bounds are invented.
 *
 * Compositions: usual literature means, from memory; they are here to behave like fats, not to be
 * quoted.
 */
import type { Ingredient } from "#core/ingredient.ts";
import type { Product } from "#core/compose/product.ts";
import { ingredientsOf } from "#core/compose/product.ts";
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import { makeTariff } from "#core/price/tariff.ts";
import type { ProductOffer } from "#core/wire.ts";

type Facts = Partial<Ingredient> & Pick<Ingredient, "id" | "name" | "inci" | "composition">;

const rated = (value: number): Ingredient["poreRating"] => ({
  rated: true,
  value,
  low: value,
  high: value,
});

function ingredient(facts: Facts): Ingredient {
  return { kind: "oil", poreRating: { rated: false }, allergenFamilies: [], ...facts };
}

const fattyAcids = (
  percent: Readonly<Record<string, number>>,
  unsaponifiablePercent = 0.5,
): Ingredient["composition"] => ({ kind: "fatty-acids", percent, unsaponifiablePercent });

export const INGREDIENTS: readonly Ingredient[] = [
  ingredient({
    id: "cocoa-butter",
    name: "Cocoa butter",
    inci: "Theobroma Cacao Seed Butter",
    kind: "butter",
    composition: {
      kind: "triacylglycerols",
      percent: {
        POP: 19.6,
        POS: 40.3,
        SOS: 22.7,
        SOA: 0.9,
        PLP: 2,
        PLS: 3.3,
        POO: 4.2,
        SOO: 4.1,
        PPS: 0.7,
        PSS: 0.5,
        PLO: 0.2,
        OOO: 1.7,
      },
    },
    poreRating: rated(4),
  }),
  ingredient({
    id: "shea-butter",
    name: "Shea butter",
    inci: "Butyrospermum Parkii Butter",
    kind: "butter",
    composition: fattyAcids(
      { "16:0": 4.1, "18:0": 43.5, "18:1": 44.6, "18:2": 6.4, "20:0": 1.4 },
      5,
    ),
    poreRating: rated(0),
  }),
  ingredient({
    id: "mango-butter",
    name: "Mango butter",
    inci: "Mangifera Indica Seed Butter",
    kind: "butter",
    composition: fattyAcids({ "16:0": 8, "18:0": 41.5, "18:1": 43, "18:2": 5, "20:0": 2 }, 1.5),
    poreRating: rated(2),
  }),
  ingredient({
    id: "sunflower-oil",
    name: "Sunflower oil",
    inci: "Helianthus Annuus Seed Oil",
    composition: fattyAcids({ "16:0": 6.5, "18:0": 4.5, "18:1": 27, "18:2": 62 }),
    poreRating: rated(0),
  }),
  ingredient({
    id: "jojoba-oil",
    name: "Jojoba oil",
    inci: "Simmondsia Chinensis Seed Oil",
    composition: { kind: "inert-liquid", molarMass: 606 },
    measured: { iodineValue: 82, saponificationValue: 92, viscosityMm2PerS: 31 },
    poreRating: rated(2),
  }),
  ingredient({
    id: "sweet-almond-oil",
    name: "Sweet almond oil",
    inci: "Prunus Amygdalus Dulcis Oil",
    composition: fattyAcids({ "16:0": 6.5, "18:0": 1.7, "18:1": 66, "18:2": 25 }),
    poreRating: rated(2),
    allergenFamilies: ["tree-nut"],
  }),
  ingredient({
    id: "grapeseed-oil",
    name: "Grapeseed oil",
    inci: "Vitis Vinifera Seed Oil",
    composition: fattyAcids({ "16:0": 7, "18:0": 4, "18:1": 17, "18:2": 71 }),
    poreRating: rated(1),
  }),
  ingredient({
    id: "coconut-oil",
    name: "Coconut oil",
    inci: "Cocos Nucifera Oil",
    composition: fattyAcids({
      "8:0": 7.5,
      "10:0": 6,
      "12:0": 48,
      "14:0": 18.5,
      "16:0": 9,
      "18:0": 3,
      "18:1": 6.5,
      "18:2": 1.5,
    }),
    poreRating: rated(4),
  }),
  ingredient({
    id: "village-oil",
    name: "Village press oil",
    inci: "Seed Oil Blend",
    composition: { kind: "unknown" },
  }),
  ingredient({
    id: "tapioca-starch",
    name: "Tapioca starch",
    inci: "Tapioca Starch",
    kind: "powder",
    composition: { kind: "undissolved" },
    poreRating: rated(0),
  }),
  ingredient({
    id: "tocopherol",
    name: "Vitamin E",
    inci: "Tocopherol",
    kind: "additive",
    composition: { kind: "inert-liquid", molarMass: 430.7 },
    measured: { iodineValue: 0, saponificationValue: 0, viscosityMm2PerS: 3000 },
    poreRating: rated(2),
  }),
];

const butter = (id: string, share: number, least: number, greatest: number) => ({
  ingredient: id,
  share: share * 100,
  least: least * 100,
  greatest: greatest * 100,
});
const oil = (place: string, id: string, share: number, least: number, greatest: number) => ({
  place,
  ...butter(id, share, least, greatest),
});

export const PRODUCT: Product = {
  id: "evening-butter",
  name: "Evening butter",
  words: "Whipped by hand the week you order it. Start from one of our bases and make it your own.",
  places: [
    {
      id: "first-oil",
      name: "First oil",
      allowed: ["sunflower-oil", "sweet-almond-oil", "grapeseed-oil", "jojoba-oil", "village-oil"],
    },
    { id: "second-oil", name: "Second oil", allowed: ["jojoba-oil", "sunflower-oil"] },
  ],
  bases: [
    {
      id: "soft-shea",
      name: "Soft shea",
      words: "Mostly shea, with a little cocoa butter to carry it through warm rooms.",
      butters: [butter("shea-butter", 57, 35, 75), butter("cocoa-butter", 10, 0, 45)],
      oils: [
        oil("first-oil", "sunflower-oil", 18, 5, 35),
        oil("second-oil", "jojoba-oil", 10, 5, 20),
      ],
    },
    {
      id: "mango-and-cocoa",
      name: "Mango and cocoa",
      words: "Denser and slower to melt, for cold hands and dry elbows.",
      butters: [
        butter("mango-butter", 40, 25, 55),
        butter("cocoa-butter", 15, 5, 25),
        butter("shea-butter", 10, 10, 10),
      ],
      oils: [
        oil("first-oil", "sweet-almond-oil", 20, 10, 35),
        oil("second-oil", "jojoba-oil", 10, 5, 15),
      ],
    },
  ],
  additives: [
    { ingredient: "tapioca-starch", share: 400 },
    { ingredient: "tocopherol", share: 100 },
  ],
  jars: [
    { id: "small", name: "Small", fillG: 60 },
    { id: "large", name: "Large", fillG: 120 },
  ],
  quantityMost: 12,
  useCelsius: 21,
  airFraction: 0.35,
  rules: {
    firmness: ["soft", "firm"],
    softensAboveLeastCelsius: 26,
    poreRatingMost: 4,
    unrated: "tell",
  },
};

const POLICY: PricePolicy = {
  lossShare: 500,
  jarMinor: { small: 95, large: 120 },
  labelMinor: 35,
  labourPerJarMinor: 250,
  labourPerBatchMinor: 1800,
  jarsPerBatch: 12,
  profit: { kind: "margin", share: 3500 },
  taxShare: 2000,
  roundUpToMinor: 10,
};

/** Price of a kilogram [minor units]. */
const PER_KG: Readonly<Record<string, number>> = {
  "cocoa-butter": 1890,
  "shea-butter": 1240,
  "mango-butter": 2150,
  "sunflower-oil": 520,
  "jojoba-oil": 3980,
  "sweet-almond-oil": 1450,
  "grapeseed-oil": 980,
  "coconut-oil": 890,
  "village-oil": 1100,
  "tapioca-starch": 640,
  tocopherol: 5400,
};

/** The offer as the service would answer it; `change` overrides fields of the product. */
export function anOffer(change: Partial<Product> = {}): ProductOffer {
  const product = { ...PRODUCT, ...change };
  const used = ingredientsOf(product);
  const costs = Object.fromEntries(
    used.map((id): [string, PackCost] => [id, { packMinor: PER_KG[id]!, packMg: 1_000_000 }]),
  );
  const tariffs = Object.fromEntries(
    product.jars.map((jar) => {
      const made = makeTariff(POLICY, jar, costs, used);
      if ("findings" in made) throw new Error(JSON.stringify(made.findings));
      return [jar.id, made.tariff];
    }),
  );
  return {
    product,
    version: 3,
    ingredients: INGREDIENTS.filter(({ id }) => used.includes(id)),
    tariffs,
    currency: { code: "GBP", exponent: 2 },
    locale: "en-GB",
    practice: true,
  };
}
