/**
 * How fast the room of a product is surveyed: 3 bases of two butters and 4 oil places, 6 oils allowed in each.
 */
import { type Product, ingredientsOf } from "#core/compose/product.ts";
import { openRoom } from "#core/order/room/room.ts";
import { makeTariff } from "#core/price/tariff.ts";
import { ingredientById } from "#data/library.ts";
import { DEMO_COSTS, DEMO_PRODUCTS } from "#data/seeds/demo.ts";

const OILS = [
  ...["grapeseed-oil", "hemp-seed-oil", "safflower-oil", "sunflower-oil", "argan-oil"],
  ...["olive-oil", "sweet-almond-oil", "apricot-kernel-oil", "jojoba-oil", "squalane"],
  ...["castor-oil", "macadamia-oil"],
];
const PLACES = ["first", "second", "third", "fourth"].map((id, at) => ({
  ...{ id, name: id },
  allowed: Array.from({ length: 6 }, (_, i) => OILS[(i + 3 * at) % OILS.length]!),
}));
const BUTTERS = [
  ["shea-butter", "cocoa-butter"],
  ["shea-butter", "mango-butter"],
  ["mango-butter", "kokum-butter"],
] as const;

const { product: demo, pricePolicy } = DEMO_PRODUCTS[2]!;

export const WIDE_PRODUCT: Product = {
  ...demo,
  places: PLACES,
  bases: BUTTERS.map(([main, other]) => ({
    ...{ id: `${main} ${other}`, name: main, words: "" },
    butters: [
      { ingredient: main, share: 5000, least: 3500, greatest: 6500 },
      { ingredient: other, share: 1950, least: 500, greatest: 4000 },
    ],
    oils: PLACES.map(({ id: place, allowed }, at) => ({
      ...{ place, ingredient: allowed[0]!, share: at < 2 ? 1000 : 500 },
      ...{ least: 200, greatest: 2000 },
    })),
  })),
};

/** What a page or a server would let pass without others having their turn. */
const SLICE = 500;
const RUNS = 3;

/** Nothing can be ordered, no proof says so, and every bound and rule is let go in turn: the longest way round. */
const CLOSED_PRODUCT: Product = {
  ...WIDE_PRODUCT,
  rules: { ...WIDE_PRODUCT.rules, firmness: ["soft"], softensAboveLeastCelsius: 31 },
};

/** The whole answer, in slices as a server drives it; the quickest of a few runs, because others share the core. */
export function roomSpeed(product: Product = WIDE_PRODUCT) {
  const tariffs = Object.fromEntries(
    product.jars.flatMap((jar) => {
      const made = makeTariff(pricePolicy, jar, DEMO_COSTS, ingredientsOf(product));
      return "tariff" in made ? [[jar.id, made.tariff] as const] : [];
    }),
  );
  const runs = Array.from({ length: RUNS }, (_, seed) => {
    const began = performance.now();
    const work = openRoom(product, { ingredientOf: ingredientById }, { seed, tariffs });
    const slices: number[] = [];
    for (let done = false; !done;) {
      const before = performance.now();
      done = work.step(SLICE);
      slices.push(performance.now() - before);
    }
    const seconds = (performance.now() - began) / 1000;
    slices.sort((one, other) => one - other);
    const { judged } = work.progress();
    const p99Ms = slices[Math.floor(0.99 * slices.length)]!;
    const open = work.result().bases.filter(({ isOpen }) => isOpen).length;
    return { seconds, perSecond: judged / seconds, judged, p99Ms, open };
  });
  return runs.sort((one, other) => one.seconds - other.seconds)[0]!;
}

/** The same where no base has an orderable blend. */
export function closedRoomSpeed() {
  const speed = roomSpeed(CLOSED_PRODUCT);
  if (speed.open > 0) throw new Error("a base that should be closed is open");
  return speed;
}
