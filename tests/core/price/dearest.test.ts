/** The dearest blend of a base, against every blend on a grid of one percent. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Base, Product } from "#core/compose/product.ts";
import { dearestChoice } from "#core/price/dearest.ts";

const RATES: Readonly<Record<string, number>> = { shea: 12, cocoa: 20, jojoba: 29, sunflower: 4 };
const rateOf = (id: string) => RATES[id];

const bound = fc
  .tuple(fc.integer({ min: 0, max: 100 }), fc.integer({ min: 0, max: 100 }))
  .map(([a, b]) => ({ least: Math.min(a, b) * 100, greatest: Math.max(a, b) * 100 }));

const aProduct = (allowed: readonly string[], additive = 0) => ({
  places: [{ id: "oil", name: "Oil", allowed }],
  additives: additive > 0 ? [{ ingredient: "shea", share: additive }] : [],
});

function aBase(...[shea, cocoa, oil]: { least: number; greatest: number }[]): Base {
  return {
    id: "base",
    name: "Base",
    words: "",
    butters: [
      { ingredient: "shea", share: 0, ...shea! },
      { ingredient: "cocoa", share: 0, ...cocoa! },
    ],
    oils: [{ place: "oil", ingredient: "sunflower", share: 0, ...oil! }],
  };
}

function priceOf(choice: ReturnType<typeof dearestChoice>): number {
  const parts = choice ? [...choice.butters, ...choice.oils] : [];
  return parts.reduce((sum, { ingredient, share }) => sum + RATES[ingredient]! * share, 0);
}

/** The greatest price on the grid, by trying every one. */
function byTrying(product: Pick<Product, "places" | "additives">, base: Base): number {
  const [shea, cocoa] = base.butters;
  const oil = base.oils[0]!;
  const whole = 10_000 - product.additives.reduce((sum, { share }) => sum + share, 0);
  let best = -1;
  for (let a = shea!.least; a <= shea!.greatest; a += 100) {
    for (let b = cocoa!.least; b <= cocoa!.greatest; b += 100) {
      const c = whole - a - b;
      if (c < oil.least || c > oil.greatest) continue;
      for (const id of product.places[0]!.allowed) {
        best = Math.max(best, a * RATES["shea"]! + b * RATES["cocoa"]! + c * RATES[id]!);
      }
    }
  }
  return best;
}

describe("the dearest blend of a base", () => {
  it("is as dear as the dearest on a grid of one percent, and none where none adds up", () => {
    const allowed = fc.constantFrom(["sunflower"], ["jojoba"], ["sunflower", "jojoba"]);
    fc.assert(
      fc.property(bound, bound, bound, allowed, fc.constantFrom(0, 500), (a, b, c, oils, extra) => {
        const [product, base] = [aProduct(oils, extra), aBase(a, b, c)];
        const choice = dearestChoice(product, base, rateOf);
        const best = byTrying(product, base);
        if (best < 0) expect(choice).toBeUndefined();
        else expect(priceOf(choice)).toBe(best);
      }),
      { numRuns: 200 },
    );
  });

  it("is not told while the cost of an allowed oil is missing", () => {
    const base = aBase(...Array.from({ length: 3 }, () => ({ least: 0, greatest: 10_000 })));
    expect(dearestChoice(aProduct(["sunflower", "argan"]), base, rateOf)).toBeUndefined();
  });

  it("keeps the oil of a place that the product does not open to others", () => {
    const base = aBase(...Array.from({ length: 3 }, () => ({ least: 1_000, greatest: 10_000 })));
    const closed = { places: [], additives: [] };
    expect(dearestChoice(closed, base, rateOf)?.oils).toEqual([
      { place: "oil", ingredient: "sunflower", share: 1_000 },
    ]);
  });

  it("takes the first of two oils that are as dear, and names base and places", () => {
    const base = aBase(
      { least: 2_000, greatest: 2_000 },
      { least: 3_000, greatest: 3_000 },
      { least: 0, greatest: 5_000 },
    );
    const asDear = (id: string) => (id === "argan" ? RATES["jojoba"] : RATES[id]);
    expect(dearestChoice(aProduct(["sunflower", "jojoba", "argan"]), base, asDear)).toEqual({
      base: "base",
      butters: [
        { ingredient: "shea", share: 2_000 },
        { ingredient: "cocoa", share: 3_000 },
      ],
      oils: [{ place: "oil", ingredient: "jojoba", share: 5_000 }],
    });
  });

  it("fills each place with its own oil, also where the least shares are the whole already", () => {
    const locked = (ingredient: string, share: number) => {
      return { ingredient, share, least: share, greatest: share };
    };
    const base: Base = {
      ...{ id: "base", name: "Base", words: "" },
      butters: [locked("shea", 4_000), locked("cocoa", 3_000)],
      oils: [
        { place: "glide", ...locked("sunflower", 2_000) },
        { place: "care", ...locked("sunflower", 1_000) },
      ],
    };
    const places = [
      { id: "glide", name: "Glide", allowed: ["sunflower"] },
      { id: "care", name: "Care", allowed: ["sunflower", "jojoba"] },
    ];
    expect(dearestChoice({ places, additives: [] }, base, rateOf)?.oils).toEqual([
      { place: "glide", ingredient: "sunflower", share: 2_000 },
      { place: "care", ingredient: "jojoba", share: 1_000 },
    ]);
  });
});
