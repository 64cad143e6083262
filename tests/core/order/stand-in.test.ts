import { makeBlend } from "#core/blend.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { sayStandIn } from "#core/order/stand-in-words.ts";
import { allowedInstead, rankStandIns } from "#core/order/stand-in.ts";
import { ingredientById } from "#data/library.ts";
import { DEMO_COSTS, DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { describe, expect, it } from "vitest";

const named = (id: string): Ingredient => ingredientById(id)!;

function blendOf(shares: Record<string, number>) {
  const made = makeBlend(
    Object.entries(shares).map(([id, share]) => ({ ingredient: named(id), share })),
  );
  if ("findings" in made) throw new Error("the blend of the test is whole");
  return made.blend;
}

const BLEND = blendOf({
  "shea-butter": 6000,
  "cocoa-butter": 1000,
  "sunflower-oil": 1500,
  "olive-oil": 1500,
});
const GROUND = {
  useCelsius: 21,
  airFraction: 0.35,
  rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 26, poreRatingMost: 4 },
  costs: DEMO_COSTS,
} as const;

const rank = (missing: string, ids: string[], ground: object = {}) =>
  rankStandIns(BLEND, missing, ids.map(named), { ...GROUND, ...ground });

describe("what stands in for an oil that ran out", () => {
  it("ranks a near twin before an oil of another kind", () => {
    const order = rank("sunflower-oil", [
      "castor-oil",
      "argan-oil",
      "safflower-oil",
      "sesame-oil",
    ]).map(({ ingredient }) => ingredient);
    expect(order[0]).toBe("safflower-oil");
    expect(order.at(-1)).not.toBe("safflower-oil");
  });

  it("minds an allergen family that comes in, and says so", () => {
    const [plain, nut] = ["safflower-oil", "sesame-oil"].map(
      (id) => rank("sunflower-oil", [id])[0]!,
    );
    expect(plain!.brings).toEqual([]);
    expect(nut!.brings.length).toBeGreaterThan(0);
    expect(nut!.distance).toBeGreaterThan(plain!.distance + 3.9);
    expect(sayStandIn(nut!)).toContain(nut!.brings[0]);
  });

  it("puts a refused blend last, however near, and says that and why first", () => {
    const rules = { ...GROUND.rules, softensAboveLeastCelsius: 26 };
    const soft = blendOf({ "shea-butter": 5000, "cocoa-butter": 1500, "sunflower-oil": 3500 });
    const ranked = rankStandIns(
      soft,
      "cocoa-butter",
      [named("sunflower-oil"), named("kokum-butter")],
      {
        ...GROUND,
        rules,
      },
    );
    expect(ranked.map(({ ingredient, verdict }) => [ingredient, verdict])).toEqual([
      ["kokum-butter", "orderable"],
      ["sunflower-oil", "refused"],
    ]);
    const sentence = sayStandIn(ranked[1]!, (id) => ingredientById(id)?.name ?? id);
    expect(sentence).toMatch(/^At these shares the base could not be ordered\. /);
    expect(sentence).toMatch(/lose its body|too soft/);
  });

  it("puts what cannot be judged between the two", () => {
    const order = rank("sunflower-oil", ["squalane", "coconut-oil", "safflower-oil"], {
      rules: { poreRatingMost: 3, poreConfidenceLeast: "A" },
    }).map(({ verdict }) => verdict);
    const places = order.map((verdict) =>
      ["orderable", "cannot-judge", "refused"].indexOf(verdict),
    );
    expect(places).toEqual([...places].sort());
  });

  it("names a figure that is not known instead of guessing it", () => {
    const [standIn] = rank("sunflower-oil", ["camellia-oil"]);
    expect(DEMO_COSTS["camellia-oil"]).toBeUndefined();
    expect(standIn!.unknown).toContain("cost");
    expect(standIn!.costMinorPerKg).toBeUndefined();
    expect(sayStandIn(standIn!)).toContain("Not known: ");
    const [unknownFat] = rankStandIns(
      BLEND,
      "olive-oil",
      [{ ...named("olive-oil"), id: "new-oil", composition: { kind: "unknown" } }],
      GROUND,
    );
    expect(unknownFat).toMatchObject({ verdict: "cannot-judge" });
    expect(unknownFat!.unknown).toEqual(
      expect.arrayContaining(["firmness", "softens-above", "oil-phase"]),
    );
  });

  it("tells cost by what a kilogram of the blend costs", () => {
    const [standIn] = rank("sunflower-oil", ["safflower-oil"]);
    // 60 % at 1180, 10 % at 1950, 15 % at 890 a kilogram, and 15 % at 420 against 680.
    const others = 0.6 * 1180 + 0.1 * 1950 + 0.15 * 890;
    expect(standIn!.costMinorPerKg!.from).toBeCloseTo(others + 0.15 * 420, 6);
    expect(standIn!.costMinorPerKg!.to).toBeCloseTo(others + 0.15 * 680, 6);
  });

  it("is no distance away when it is the same fat under another name", () => {
    const twin = { ...named("sunflower-oil"), id: "sunflower-oil-of-another-farm" };
    const costs = { ...DEMO_COSTS, [twin.id]: DEMO_COSTS["sunflower-oil"]! };
    const [standIn] = rankStandIns(BLEND, "sunflower-oil", [twin], { ...GROUND, costs });
    expect(standIn!.distance).toBeCloseTo(0, 6);
    expect(standIn!.unknown).toEqual([]);
  });

  it("passes the missing one over and refuses to replace what is not there", () => {
    expect(rank("sunflower-oil", ["sunflower-oil"])).toEqual([]);
    expect(() => rank("argan-oil", ["olive-oil"])).toThrow(RangeError);
  });

  it("takes an oil's candidates from its places and none for a butter", () => {
    const { product } = DEMO_PRODUCTS[0]!;
    const [base] = product.bases;
    expect(allowedInstead(product, base!, "jojoba-oil")).toEqual([
      "squalane",
      "fractionated-coconut-oil",
      "meadowfoam-oil",
    ]);
    expect(allowedInstead(product, base!, "shea-butter")).toEqual([]);
  });
});
