import { describe, expect, it } from "vitest";
import { ingredientsOf } from "#core/compose/product.ts";
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import { ingredientById } from "#data/library.ts";
import { DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { pricesAtPublishing, recordedPrices } from "#service/prices/at-publishing.ts";
import { type CostsNow, type ForSale, fallenMargins } from "#service/prices/fallen-margins.ts";

const { product, pricePolicy } = DEMO_PRODUCTS[0]!; // everyday: soft shea and mild mango in three jars
const kg = (packMinor: number): PackCost => ({ packMinor, packMg: 1_000_000 });
const COSTS: Readonly<Record<string, PackCost>> = {
  ...Object.fromEntries(ingredientsOf(product).map((id) => [id, kg(1_500)])),
  "shea-butter": kg(1_180),
  "cocoa-butter": kg(1_950),
};
const NOW: CostsNow = { packs: COSTS, dearestLots: {}, newestLots: {} };

function sale(change: Partial<PricePolicy> = {}, room: string | null = null): ForSale {
  return { product, policy: { ...pricePolicy, ...change }, recorded: recordedPrices(room) };
}

/** The room as publishing stores it. */
function published(change: Partial<PricePolicy> = {}, costs = COSTS): string {
  const policy = { ...pricePolicy, ...change };
  return JSON.stringify({ prices: pricesAtPublishing(product, policy, costs, ingredientById) });
}

const look = (sold: ForSale[], now: Partial<CostsNow> = {}) =>
  fallenMargins(sold, { ...NOW, ...now }, ingredientById);

describe("margins that have fallen", () => {
  it("are none while costs are those the price is made from", () => {
    expect(look([sale({}, published())])).toEqual({
      fallen: [],
      unsold: [],
      unrecorded: 0,
      looked: 6,
    });
  });

  it("are told when the newest lot came dearer than the pack, with the ingredient and both costs", () => {
    const { fallen, unrecorded } = look([sale()], {
      newestLots: { "shea-butter": kg(2_360), "cocoa-butter": kg(1_000) },
    });
    expect(unrecorded).toBe(1);
    const soft = fallen.find(({ base, jar }) => base.id === "soft-shea" && jar.id === "jar-200")!;
    expect(soft).toMatchObject({ at: "newest-lot", askedShare: 3_000, publishedShare: undefined });
    expect(soft.marginShare).toBeLessThan(3_000);
    expect(soft.rises).toEqual([{ ingredient: "shea-butter", from: kg(1_180), to: kg(2_360) }]);
    expect(soft.wouldMinor).toBeGreaterThan(soft.jarMinor);
  });

  it("stand worst first", () => {
    const { fallen } = look([sale()], { newestLots: { "shea-butter": kg(4_000) } });
    const margins = fallen.map(({ marginShare }) => marginShare);
    expect(margins.length).toBeGreaterThan(3);
    expect(margins).toEqual([...margins].sort((a, b) => a - b));
    expect(fallen[0]!.base.id).toBe("soft-shea"); // most shea
  });

  it("are told by the pack when the price follows a cheaper lot", () => {
    const cheap = { "shea-butter": kg(300) };
    const { fallen } = look([sale({ materialAt: "dearest-lot" })], {
      dearestLots: cheap,
      newestLots: cheap,
    });
    expect(fallen[0]).toMatchObject({
      at: "pack",
      rises: [{ ingredient: "shea-butter", from: kg(300), to: kg(1_180) }],
    });
  });

  it("are none at the newest lot when the price follows the dearest lot, which is that lot", () => {
    const dear = { "shea-butter": kg(2_360) };
    const now = { dearestLots: dear, newestLots: dear };
    expect(look([sale({ materialAt: "dearest-lot" })], now).fallen).toEqual([]);
  });

  it("are told against publishing where a least price held the jar far above the policy", () => {
    const least = { leastMinor: { "jar-60": 3_000, "jar-120": 3_000, "jar-200": 3_000 } };
    const now = { packs: { ...COSTS, "shea-butter": kg(1_900) } };
    const { fallen } = look([sale(least, published(least))], now);
    const jar = fallen.find(({ base }) => base.id === "soft-shea")!;
    expect(jar.marginShare).toBeGreaterThan(jar.askedShare);
    expect(jar.publishedShare! - jar.marginShare).toBeGreaterThanOrEqual(50);
    expect(jar.rises).toEqual([{ ingredient: "shea-butter", from: kg(1_180), to: kg(1_900) }]);
    expect(jar.wouldMinor).toBe(jar.jarMinor); // the least price asks the same
    expect(look([sale(least)], now).fallen).toEqual([]); // nothing recorded, nothing to hold it against
  });

  it("take a margin below nothing for what it is", () => {
    const { fallen } = look([sale()], { newestLots: { "shea-butter": kg(40_000) } });
    expect(fallen[0]!.marginShare).toBeLessThan(0);
  });
});

describe("what cannot be bought", () => {
  it("is named once for a product whose ingredient has no cost", () => {
    const { squalane: _, ...packs } = COSTS;
    expect(look([sale()], { packs }).unsold).toMatchObject([
      { product: { id: "everyday" }, because: "cost-missing", ingredient: "squalane" },
    ]);
  });

  it("is named for a jar that came above its greatest price", () => {
    const { unsold, fallen } = look([sale({ mostMinor: { "jar-200": 500 } })]);
    expect(unsold).toMatchObject([
      { base: { id: "soft-shea" }, jar: { id: "jar-200" }, because: "above-most" },
      { base: { id: "mild-mango" }, jar: { id: "jar-200" }, because: "above-most" },
    ]);
    expect(fallen).toEqual([]);
  });

  it("is named when nobody knows an ingredient any more", () => {
    const known = (id: string) => (id === "shea-butter" ? undefined : ingredientById(id));
    const { unsold } = fallenMargins([sale()], NOW, known);
    expect(unsold.map(({ because }) => because)).toEqual(Array(6).fill("not-a-blend"));
  });
});

describe("prices at publishing", () => {
  it("hold price and margin of every base in every jar, and what the materials cost", () => {
    const { jars, costs } = recordedPrices(published())!;
    expect(Object.keys(jars)).toEqual(["soft-shea", "mild-mango"]);
    expect(Object.keys(jars["soft-shea"]!)).toEqual(["jar-60", "jar-120", "jar-200"]);
    expect(jars["soft-shea"]!["jar-120"]!.marginShare).toBeGreaterThanOrEqual(3_000);
    expect(costs["shea-butter"]).toEqual(COSTS["shea-butter"]);
    expect(costs["argan-oil"]).toBeUndefined(); // allowed, but in no base
  });

  it("leave out what has no price", () => {
    const { "mango-butter": _, ...costs } = COSTS;
    expect(pricesAtPublishing(product, pricePolicy, costs, ingredientById).jars).toEqual({});
  });

  it("are nothing when none were recorded or something else stands there", () => {
    expect(recordedPrices(null)).toBeUndefined();
    expect(recordedPrices("{}")).toBeUndefined();
    expect(recordedPrices('{"prices":{"jars":7}}')).toBeUndefined();
  });
});
