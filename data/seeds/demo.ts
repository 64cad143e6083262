/**
 * The demo shop: Quillfen, an invented maker with four products. Every name, price and word here is made up. What it
 * buys stands in `demo-shelf.ts`.
 */
import type { Base, Jar, Place, Product } from "#core/compose/product.ts";
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import { DEMO_INGREDIENTS } from "./demo-shelf.ts";

/** Prices of packs, by ingredient id. */
export const DEMO_COSTS: Readonly<Record<string, PackCost>> = Object.fromEntries(
  DEMO_INGREDIENTS.flatMap(({ id, pack }) => (pack ? [[id, pack]] : [])),
);

export interface DemoProduct {
  readonly product: Product;
  readonly pricePolicy: PricePolicy;
}

export const DEMO_SHOP = {
  id: "quillfen",
  name: "Quillfen",
  locale: "en-GB",
  currency: "GBP",
  currencyExponent: 2,
  particulars: {
    maker: "Quillfen Workshop",
    scaleStepMg: 10,
    country: "GB",
    timeZone: "Europe/London",
    vesselMg: 4_000_000,
    leadDays: 5,
    // Invented, as everything here: a real shop writes down what its own parcels met.
    zones: [
      {
        id: "near",
        name: "At home",
        monthsCelsius: [14, 14, 16, 19, 22, 25, 28, 27, 24, 20, 16, 14],
      },
      {
        id: "south",
        name: "Down south",
        monthsCelsius: [17, 18, 21, 24, 28, 32, 35, 35, 31, 26, 21, 18],
      },
    ],
  },
} as const;

const JARS: readonly Jar[] = [
  { id: "jar-60", name: "Small jar", fillG: 60 },
  { id: "jar-120", name: "Middle jar", fillG: 120 },
  { id: "jar-200", name: "Large jar", fillG: 200 },
];

const PRICE_POLICY: PricePolicy = {
  lossShare: 400,
  jarMinor: { "jar-60": 62, "jar-120": 85, "jar-200": 118 },
  labelMinor: 24,
  labourPerJarMinor: 180,
  labourPerBatchMinor: 1200,
  jarsPerBatch: 6,
  profit: { kind: "margin", share: 3000 },
  taxShare: 2000,
  roundUpToMinor: 10,
};

const butter = (ingredient: string, share: number, least: number, greatest: number) => ({
  ingredient,
  share: share * 100,
  least: least * 100,
  greatest: greatest * 100,
});

const oil = (
  place: string,
  ingredient: string,
  share: number,
  least: number,
  greatest: number,
) => ({
  place,
  ...butter(ingredient, share, least, greatest),
});

const GLIDE: Place = {
  id: "glide",
  name: "Gliding oil",
  allowed: ["jojoba-oil", "squalane", "fractionated-coconut-oil", "meadowfoam-oil"],
};

const CARE: Place = {
  id: "care",
  name: "Caring oil",
  allowed: [
    "sunflower-oil",
    "high-oleic-sunflower-oil",
    "sweet-almond-oil",
    "apricot-kernel-oil",
    "olive-oil",
    "argan-oil",
    "grapeseed-oil",
  ],
};

const EVERYDAY: Base[] = [
  {
    id: "soft-shea",
    name: "Soft shea",
    words: "Mostly shea with a little cocoa butter. Scoops easily and melts as you rub it in.",
    butters: [butter("shea-butter", 60, 45, 75), butter("cocoa-butter", 10, 0, 30)],
    oils: [oil("glide", "jojoba-oil", 15, 5, 30), oil("care", "sunflower-oil", 14.5, 5, 30)],
  },
  {
    id: "mild-mango",
    name: "Mild mango",
    words: "Mango and shea butter, with almost no scent of their own. A shade lighter to spread.",
    butters: [butter("mango-butter", 42, 25, 60), butter("shea-butter", 32, 15, 50)],
    oils: [oil("glide", "jojoba-oil", 12, 5, 30), oil("care", "sunflower-oil", 13.5, 5, 30)],
  },
];

const FEATHER_LIGHT: Place = {
  id: "light",
  name: "Light oil",
  allowed: ["grapeseed-oil", "hemp-seed-oil", "safflower-oil", "sunflower-oil", "argan-oil"],
};

const FEATHER: Base[] = [
  {
    id: "mango-cloud",
    name: "Mango cloud",
    words: "Mango butter whipped with light oils and a touch of starch. Soft, with a dry finish.",
    butters: [butter("mango-butter", 42, 25, 55), butter("shea-butter", 27, 10, 45)],
    oils: [
      oil("glide", "squalane", 10, 0, 25),
      oil("care", "apricot-kernel-oil", 8, 0, 25),
      oil("light", "grapeseed-oil", 8.5, 0, 25),
    ],
  },
  {
    id: "kokum-cloud",
    name: "Kokum cloud",
    words: "A little firm kokum carries more oil than you would think. The lightest jar we make.",
    butters: [butter("kokum-butter", 18, 8, 28), butter("mango-butter", 38, 20, 50)],
    oils: [
      oil("glide", "jojoba-oil", 18, 5, 30),
      oil("care", "high-oleic-sunflower-oil", 11, 0, 25),
      oil("light", "hemp-seed-oil", 10.5, 0, 20),
    ],
  },
];

const RICH: Place = {
  id: "rich",
  name: "Rich oil",
  allowed: ["olive-oil", "avocado-oil", "castor-oil", "macadamia-oil", "sesame-oil"],
};

const WINTER: Base[] = [
  {
    id: "hearth",
    name: "Hearth",
    words: "Shea with a good measure of cocoa butter. Firm in the jar, for cold hands and heels.",
    butters: [butter("shea-butter", 48, 35, 65), butter("cocoa-butter", 22, 5, 40)],
    oils: [oil("care", "apricot-kernel-oil", 14.5, 5, 30), oil("rich", "olive-oil", 15, 5, 30)],
  },
  {
    id: "stone",
    name: "Stone",
    words: "Shea made steadier with kokum, which keeps its body on warm days. No cocoa scent.",
    butters: [butter("shea-butter", 53, 40, 65), butter("kokum-butter", 15, 5, 25)],
    oils: [oil("care", "sweet-almond-oil", 14.5, 5, 30), oil("rich", "avocado-oil", 17, 5, 30)],
  },
];

const SCENT: Place = {
  id: "scent",
  name: "Scent",
  allowed: [
    "lavender-essential-oil",
    "sweet-orange-essential-oil",
    "geranium-essential-oil",
    "patchouli-essential-oil",
  ],
};

const EVENING: Base[] = [
  {
    id: "dusk",
    name: "Dusk",
    words:
      "Mango and shea butter with a breath of essential oil. Take the scent down to nothing if you like.",
    butters: [butter("mango-butter", 40, 25, 60), butter("shea-butter", 32, 15, 50)],
    oils: [
      oil("glide", "jojoba-oil", 13, 5, 30),
      oil("care", "sunflower-oil", 14.2, 5, 30),
      oil("scent", "lavender-essential-oil", 0.3, 0, 0.4),
    ],
  },
];

const TOCOPHEROL = { ingredient: "tocopherol", share: 50 };

export const DEMO_PRODUCTS: readonly DemoProduct[] = [
  {
    product: {
      id: "everyday",
      name: "Everyday butter",
      words: "The jar that stands by the basin. Start from our base and choose your own two oils.",
      places: [GLIDE, CARE],
      bases: EVERYDAY,
      additives: [TOCOPHEROL],
      jars: JARS,
      quantityMost: 24,
      useCelsius: 21,
      airFraction: 0.35,
      rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 26, poreRatingMost: 4 },
    },
    pricePolicy: PRICE_POLICY,
  },
  {
    product: {
      id: "featherlight",
      name: "Featherlight butter",
      words: "For those who find body butter too rich: three oil places, starch for a dry finish.",
      places: [GLIDE, CARE, FEATHER_LIGHT],
      bases: FEATHER,
      additives: [{ ingredient: "tapioca-starch", share: 400 }, TOCOPHEROL],
      jars: JARS,
      quantityMost: 24,
      useCelsius: 21,
      airFraction: 0.4,
      rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 26, poreRatingMost: 2 },
    },
    pricePolicy: PRICE_POLICY,
  },
  {
    product: {
      id: "deep-winter",
      name: "Deep winter butter",
      words: "Firmer and richer, for wind and frost. Keeps its body a little longer in the warm.",
      places: [CARE, RICH],
      bases: WINTER,
      additives: [TOCOPHEROL],
      jars: JARS,
      quantityMost: 24,
      useCelsius: 20,
      airFraction: 0.3,
      rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 27, poreRatingMost: 4 },
    },
    pricePolicy: PRICE_POLICY,
  },
  {
    product: {
      id: "evening",
      name: "Evening butter",
      words: "Softly scented with one essential oil of your choice, for the end of the day.",
      places: [GLIDE, CARE, SCENT],
      bases: EVENING,
      additives: [TOCOPHEROL],
      jars: JARS,
      quantityMost: 24,
      useCelsius: 21,
      airFraction: 0.35,
      rules: {
        firmness: ["soft", "firm"],
        softensAboveLeastCelsius: 26,
        poreRatingMost: 4,
        unrated: "tell",
      },
    },
    pricePolicy: PRICE_POLICY,
  },
];
