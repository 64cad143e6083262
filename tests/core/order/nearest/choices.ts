/** Products and choices for the search: the demo's bases under many rules, and bases drawn from the library. */
import type { Base, BaseButter, BasePlace, Choice, Place, Product } from "#core/compose/product.ts";
import type { FirmnessClass } from "#core/judge/firmness.ts";
import { DEMO_PRODUCTS } from "#data/seeds/demo.ts";

/** The same numbers every time, from a seed (a linear congruential generator, constants of ISO C's example). */
export function dice(seed: number) {
  let state = seed;
  const roll = () => {
    state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff;
    return state / 0x80000000;
  };
  const pick = <T>(list: readonly T[]): T => list[Math.floor(roll() * list.length)]!;
  return { roll, pick, below: (limit: number) => Math.floor(roll() * limit) };
}
type Dice = ReturnType<typeof dice>;

const WINDOWS: readonly (readonly FirmnessClass[])[] = [
  ["soft"],
  ["soft", "firm"],
  ["firm"],
  ["firm", "hard"],
  ["fluid", "soft"],
];

/** A product of the demo, as it is or under other rules. */
export function demoProduct(at: Dice, isAsItIs: boolean): Product {
  const { product } = at.pick(DEMO_PRODUCTS);
  if (isAsItIs) return product;
  const rules = {
    firmness: at.pick(WINDOWS),
    softensAboveLeastCelsius: at.pick([20, 24, 27, 29, 31]),
    poreRatingMost: at.pick([2, 3, 4, 5]),
    strictness: at.pick(["whole-band", "central"] as const),
    ...(at.roll() < 0.3 ? { poreTraceBelowShare: 600 } : {}),
    ...(at.roll() < 0.5 ? { unrated: "tell" as const } : {}),
  };
  return { ...product, rules };
}

const BUTTERS = [
  ...["shea-butter", "cocoa-butter", "mango-butter", "kokum-butter", "illipe-butter", "sal-butter"],
  ...["cupuacu-butter", "coconut-oil", "babassu-oil", "palm-oil", "beeswax", "stearic-acid"],
];
const OILS = [
  ...["sunflower-oil", "jojoba-oil", "olive-oil", "grapeseed-oil", "castor-oil", "squalane"],
  ...["sweet-almond-oil", "fractionated-coconut-oil", "rice-bran-oil", "avocado-oil"],
];

/** A product with one base of two butters or three, and one place or two of two oils each. */
export function drawnProduct(at: Dice): Product {
  const butters = draw(at, BUTTERS, 2 + at.below(2)).map((ingredient): BaseButter => {
    const least = 100 * at.below(20);
    return { ingredient, share: 0, least, greatest: least + 100 * (10 + at.below(40)) };
  });
  const places = Array.from(
    { length: butters.length === 3 ? 1 : 1 + at.below(2) },
    (_, i): Place => {
      return { id: `place-${i}`, name: "Place", allowed: draw(at, OILS, 2) };
    },
  );
  const oils = places.map(({ id: place, allowed }): BasePlace => {
    const least = 100 * at.below(10);
    return { place, ingredient: allowed[0]!, share: 0, least, greatest: least + 4000 };
  });
  const base: Base = { id: "base", name: "Base", words: "", butters, oils };
  return { ...demoProduct(at, false), places, bases: [base] };
}

function draw(at: Dice, list: readonly string[], count: number): string[] {
  const left = [...list];
  return Array.from({ length: count }, () => left.splice(at.below(left.length), 1)[0]!);
}

/** A choice of a product's base: inside its bounds more often than not, always summing to the whole. */
export function drawnChoice(at: Dice, product: Product): Choice {
  const base = at.pick(product.bases);
  const total = product.additives.reduce((left, { share }) => left - share, 10_000);
  const isWide = at.roll() < 0.3;
  const claims = [...base.butters, ...base.oils].map(({ least, greatest }) =>
    isWide ? at.roll() : least + at.roll() * (greatest - least),
  );
  const sum = claims.reduce((whole, claim) => whole + claim, 0);
  const shares = claims.map((claim) => Math.floor((claim * total) / sum));
  shares[0]! += total - shares.reduce((whole, share) => whole + share, 0);
  const oilOf = (place: string) => at.pick(product.places.find(({ id }) => id === place)!.allowed);
  return {
    base: base.id,
    butters: base.butters.map(({ ingredient }, i) => ({ ingredient, share: shares[i]! })),
    oils: base.oils.map(({ place }, i) => ({
      ...{ place, ingredient: oilOf(place) },
      share: shares[base.butters.length + i]!,
    })),
  };
}
