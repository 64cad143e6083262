/** Small products, wishes and tariffs, drawn from a seed. */
import { type Product, ingredientsOf } from "#core/compose/product.ts";
import type { Wishes } from "#core/order/wishes/wish.ts";
import { makeTariff } from "#core/price/tariff.ts";
import { DEMO_COSTS, DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import type { dice as Dice } from "../nearest/choices.ts";

const SWAPS = [
  "jojoba-oil",
  "squalane",
  "sunflower-oil",
  "sweet-almond-oil",
  "olive-oil",
  "argan-oil",
];
const BUTTERS = ["shea-butter", "cocoa-butter", "mango-butter", "kokum-butter", "coconut-oil"];

/** Two butters, one or two places with two or three oils each, bounds some ten or twenty percent wide. */
export function smallProduct(at: ReturnType<typeof Dice>): Product {
  const butters = [...BUTTERS].sort(() => at.roll() - 0.5).slice(0, 2);
  const oils = [...SWAPS].sort(() => at.roll() - 0.5);
  const places = at.roll() < 0.5 ? [oils.slice(0, 3)] : [oils.slice(0, 2), oils.slice(2, 4)];
  const width = () => 600 + 100 * at.below(10);
  const share = Math.floor(4200 / places.length / 100) * 100;
  const rest = 9950 - share * places.length;
  const first = Math.floor((rest * (0.3 + 0.5 * at.roll())) / 100) * 100;
  const around = (own: number) => {
    const half = width();
    return { share: own, least: Math.max(0, own - half), greatest: own + half };
  };
  return {
    ...{ id: "small", name: "Small", words: "", quantityMost: 9 },
    places: places.map((allowed, i) => ({ id: `p${i}`, name: `P${i}`, allowed })),
    bases: [
      {
        ...{ id: "b", name: "B", words: "" },
        butters: [
          { ingredient: butters[0]!, ...around(first) },
          { ingredient: butters[1]!, ...around(rest - first) },
        ],
        oils: places.map((allowed, i) => ({
          place: `p${i}`,
          ingredient: allowed[0]!,
          ...around(share),
        })),
      },
    ],
    additives: [{ ingredient: "tocopherol", share: 50 }],
    jars: [{ id: "jar-120", name: "Jar", fillG: 120 }],
    useCelsius: 21,
    airFraction: 0.35,
    rules: {
      firmness: at.pick([
        ["soft", "firm"],
        ["soft", "firm", "hard"],
        ["fluid", "soft", "firm"],
      ]),
      softensAboveLeastCelsius: at.pick([18, 22, 26]),
      strictness: at.pick(["central", "whole-band"]),
    },
  };
}

export function someWishes(at: ReturnType<typeof Dice>, oils: readonly string[]): Wishes {
  const maybe = <T extends object>(chance: number, wish: T) => (at.roll() < chance ? wish : {});
  return {
    ...maybe(0.5, { feel: at.pick(["softer", "firmer"]) }),
    ...maybe(0.4, { oilPhase: at.pick(["thinner", "richer"]) }),
    ...maybe(0.15, { holdsToCelsius: 24 + at.below(8) }),
    ...maybe(0.25, { without: [at.pick(oils)] }),
    ...maybe(0.15, { withoutFamilies: ["tree-nut"] }),
  };
}

export function tariffFor(product: Product) {
  const { pricePolicy } = DEMO_PRODUCTS[0]!;
  const costs = { ...DEMO_COSTS };
  for (const [i, id] of ingredientsOf(product).entries()) {
    costs[id] ??= { packMinor: 1500 + 300 * i, packMg: 1_000_000 };
  }
  const made = makeTariff(pricePolicy, product.jars[0]!, costs, ingredientsOf(product));
  if (!("tariff" in made)) throw new Error("no tariff");
  return made.tariff;
}
