/** Wishes on the demo's products and under pressure: kept, distinct, priced, and plainly refused. */
import { startingChoice } from "#core/compose/product.ts";
import { sayGives, sayWishConflict } from "#core/order/wishes-words.ts";
import { areDistinct } from "#core/order/wishes/distinct.ts";
import type { Wishes } from "#core/order/wishes/wish.ts";
import { atOnce, type Wished, type WishesMet, wishFor } from "#core/order/wishes/wishes.ts";
import { priceJar } from "#core/price/price.ts";
import { ingredientById, recordOf, scentedOf } from "#data/library.ts";
import { DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { describe, expect, it } from "vitest";
import { dice } from "../nearest/choices.ts";
import { judged, keeps } from "./grid.ts";
import { someWishes, tariffFor } from "./small-products.ts";

const { product } = DEMO_PRODUCTS[0]!;
const own = startingChoice(product.bases[0]!);
const ground = { ingredientOf: ingredientById };
const names = { nameOf: (id: string) => ingredientById(id)?.name ?? id, money: String };

function wish(wishes: Wishes, tariff = tariffFor(product)): Wished {
  return wishFor(product, own, wishes, ground, { tariff });
}

function met(wishes: Wishes): WishesMet {
  const wished = wish(wishes);
  if (wished.kind !== "found") throw new Error(`${wished.kind} for ${JSON.stringify(wishes)}`);
  return wished;
}

function explained(wishes: Wishes) {
  const wished = wish(wishes);
  if (wished.kind !== "none") throw new Error(wished.kind);
  return atOnce(wished.explain());
}

describe("wishes", () => {
  it("are kept by every offer, each distinct, the best first, whatever the demo's customer asks", () => {
    const at = dice(31);
    let offers = 0;
    for (let run = 0; run < 60; run++) {
      const demo = at.pick(DEMO_PRODUCTS).product;
      const choice = startingChoice(at.pick(demo.bases));
      const oils = demo.places.flatMap(({ allowed }) => allowed);
      const tariff = tariffFor(demo);
      const mine = judged(demo, choice)!;
      const priced = priceJar(tariff, mine.blend);
      const now = "jarMinor" in priced ? priced.jarMinor : 0;
      const wishes = {
        ...someWishes(at, oils),
        ...(at.roll() < 0.3 ? { priceMostMinor: now - 20 + 10 * at.below(4) } : {}),
      };
      const wished = wishFor(demo, choice, wishes, ground, { tariff });
      if (wished.kind !== "found") continue;
      expect(wished.offers.length).toBeLessThanOrEqual(3);
      for (const [i, offer] of wished.offers.entries()) {
        const is = judged(demo, offer.choice)!;
        expect(keeps(wishes, mine, is, tariff), JSON.stringify({ run, wishes })).toBe(true);
        expect(is.blend).toEqual(offer.blend);
        for (const before of wished.offers.slice(0, i)) {
          expect(before.score).toBeLessThanOrEqual(offer.score);
          expect(areDistinct(before.blend.parts, offer.blend.parts)).toBe(true);
        }
        offers++;
      }
    }
    expect(offers).toBeGreaterThan(40);
  });

  it("give the same answer twice", () => {
    expect(wish({ feel: "firmer" })).toEqual(wish({ feel: "firmer" }));
  });

  it("leave a blend alone that already has what is wished", () => {
    expect(met({ without: ["olive-oil"] }).offers[0]).toMatchObject({ score: 0, moved: 0 });
  });

  it("say in words what is given up", () => {
    const { gives } = met({ feel: "firmer" }).offers[0]!;
    expect(sayGives(gives, names)).toMatch(/^gives up: .*\d % (more|less) /);
  });

  it("keep the price by the exact tariff, rounding included", () => {
    const tariff = tariffFor(product);
    const priced = priceJar(tariff, judged(product, own)!.blend);
    const limit = ("jarMinor" in priced ? priced.jarMinor : 0) - 10;
    for (const { blend } of met({ priceMostMinor: limit }).offers) {
      const jar = priceJar(tariff, blend);
      expect("jarMinor" in jar && jar.jarMinor <= limit).toBe(true);
    }
  });
});

describe("wishes no blend can keep", () => {
  it("name the butter that is in every jar", () => {
    const { because, nearest } = explained({ without: ["shea-butter"], feel: "firmer" });
    expect(because).toMatchObject([
      {
        wish: { wish: "without", ingredient: "shea-butter" },
        against: "always-in-the-jar",
        subjects: ["shea-butter"],
      },
    ]);
    expect(nearest?.gains.map(({ code }) => code)).toContain("firmer");
    expect(sayWishConflict(because[0]!, names)).toMatch(/^No blend can be without shea butter/);
  });

  it("say how warm a parcel could be", () => {
    const { because, nearest } = explained({ holdsToCelsius: 55 });
    const [conflict] = because;
    expect(conflict).toMatchObject({ wish: { wish: "holds-to" }, against: "rules-and-bounds" });
    expect(wish({ holdsToCelsius: conflict!.couldBe! }).kind).toBe("found");
    expect(wish({ holdsToCelsius: conflict!.couldBe! + 0.5 }).kind).toBe("none");
    expect(nearest?.without).toEqual({ wish: "holds-to", celsius: 55 });
  });

  it("tell a scent that is not on record from one that is there", () => {
    expect(explained({ unscented: true }).because).toMatchObject([{ against: "scent-untold" }]);
  });

  it("say that more than one would have to go", () => {
    const { because, isOrderable } = explained({ without: ["shea-butter"], priceMostMinor: 1 });
    expect({ because, isOrderable }).toEqual({ because: [], isOrderable: true });
  });
});

describe("wishes that cannot be judged", () => {
  it.each<[string, Wishes, string]>([
    ["an oil nobody knows", { without: ["moon-oil"] }, "compose.ingredient.unknown"],
    ["a temperature nobody reckons", { holdsToCelsius: 90 }, "judge.temperature.out-of-range"],
  ])("name %s", (_, wishes, code) => {
    expect(wish(wishes)).toMatchObject({ kind: "cannot-judge", findings: [{ code }] });
  });

  it("name a price without a tariff", () => {
    expect(wishFor(product, own, { priceMostMinor: 900 }, ground)).toMatchObject({
      kind: "cannot-judge",
      findings: [{ code: "price.cost.unknown" }],
    });
  });
});

describe("the scent of an ingredient", () => {
  it("follows from the record, and from the coat where coats differ", () => {
    expect(ingredientById("lavender-oil")?.scented ?? true).toBe(true);
    expect(ingredientById("shea-butter")?.scented).toBeUndefined();
    expect(scentedOf(recordOf("shea-butter")!, "refined")).toBe(false);
    expect(scentedOf(recordOf("shea-butter")!, "unrefined")).toBe(true);
    expect(ingredientById("squalane")?.scented).toBe(false);
  });

  it("lets unscented be kept where it is known", () => {
    const plain = {
      ...ground,
      ingredientOf: (id: string) => {
        const known = ingredientById(id);
        return known && id !== "tocopherol" && id !== "cocoa-butter"
          ? { ...known, scented: false }
          : known;
      },
    };
    const wished = wishFor(product, own, { unscented: true }, plain);
    if (wished.kind !== "found") throw new Error(wished.kind);
    for (const { blend, gives } of wished.offers) {
      expect(blend.parts.map(({ ingredient }) => ingredient.id)).not.toContain("cocoa-butter");
      expect(gives).toContainEqual({ code: "scent-untold", subject: "tocopherol" });
    }
  });
});
