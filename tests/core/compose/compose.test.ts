import { describe, expect, it } from "vitest";
import { composeBlend } from "#core/compose/compose.ts";
import type { Choice } from "#core/compose/product.ts";
import * as ingredients from "../../helpers/ingredients.ts";
import { A_PRODUCT, aChoice } from "./a-product.ts";

const SHELF = new Map(
  [
    ...[ingredients.SHEA_BUTTER, ingredients.COCOA_BUTTER, ingredients.SUNFLOWER_OIL],
    ...[ingredients.JOJOBA_OIL, ingredients.TOCOPHEROL, ingredients.SWEET_ALMOND_OIL],
  ].map((each) => [each.id, each]),
);

function compose(choice: Choice) {
  return composeBlend(A_PRODUCT, choice, (id) => SHELF.get(id));
}

function codes(choice: Choice): string[] {
  const composed = compose(choice);
  return "findings" in composed ? composed.findings.map(({ code }) => code) : [];
}

describe("composing a blend from a choice", () => {
  it("puts butters, oils and the maker's additives together, in that order", () => {
    const composed = compose(aChoice(6_000, 1_000, 2_900));
    if (!("blend" in composed)) throw new Error("refused");
    expect(composed.blend.parts.map(({ ingredient, share }) => [ingredient.id, share])).toEqual([
      ["shea-butter", 6_000],
      ["cocoa-butter", 1_000],
      ["sunflower-oil", 2_900],
      ["tocopherol", 100],
    ]);
  });

  it("lets another offered oil take the place", () => {
    expect(codes(aChoice(6_000, 1_000, 2_900, "jojoba-oil"))).toEqual([]);
  });

  it("refuses an oil that is not offered there, though it stands on the shelf", () => {
    expect(codes(aChoice(6_000, 1_000, 2_900, "sweet-almond-oil"))).toEqual([
      "compose.oil.not-allowed",
    ]);
  });

  it("takes shares on their bounds", () => {
    expect(codes(aChoice(7_000, 900, 2_000))).toEqual([]);
    expect(codes(aChoice(5_000, 1_500, 3_400))).toEqual([]);
    expect(codes(aChoice(5_900, 500, 3_500))).toEqual([]);
  });

  it.each([
    ["shea-butter", aChoice(7_001, 899, 2_000), "compose.share.above-bound", 70.01, 70],
    ["shea-butter", aChoice(4_999, 1_500, 3_401), "compose.share.below-bound", 49.99, 50],
    ["cocoa-butter", aChoice(6_000, 499, 3_401), "compose.share.below-bound", 4.99, 5],
    ["sunflower-oil", aChoice(5_899, 500, 3_501), "compose.share.above-bound", 35.01, 35],
    ["sunflower-oil", aChoice(6_901, 1_000, 1_999), "compose.share.below-bound", 19.99, 20],
  ])("refuses %s one step past its bound", (subject, choice, code, measured, limit) => {
    expect(compose(choice)).toEqual({
      findings: [{ code, subject, measured, limit, unit: "%", mend: "customer" }],
    });
  });

  it("refuses shares inside their bounds that miss the whole by one step", () => {
    expect(codes(aChoice(6_000, 1_000, 2_901))).toEqual(["compose.shares.not-whole"]);
  });

  it.each([-1, 0.5, Number.NaN])("refuses %d as a share", (share) => {
    expect(codes(aChoice(6_000, share, 2_900))).toEqual(["compose.share.not-a-share"]);
  });

  it("names a butter or place that was left out, or told twice", () => {
    const choice = aChoice(6_000, 1_000, 2_900);
    const [shea, cocoa] = choice.butters;
    expect(codes({ ...choice, butters: [shea!] })).toEqual(["compose.part.missing"]);
    expect(codes({ ...choice, butters: [shea!, cocoa!, cocoa!] })).toEqual([
      "compose.part.missing",
    ]);
    expect(codes({ ...choice, oils: [] })).toEqual(["compose.part.missing"]);
  });

  it("refuses butters and places the base does not have", () => {
    const choice = aChoice(6_000, 1_000, 2_900);
    const extraButter = { ingredient: "mango-butter", share: 0 };
    const extraOil = { place: "rich", ingredient: "jojoba-oil", share: 0 };
    expect(codes({ ...choice, butters: [...choice.butters, extraButter] })).toEqual([
      "compose.part.unexpected",
    ]);
    expect(codes({ ...choice, oils: [...choice.oils, extraOil] })).toEqual([
      "compose.part.unexpected",
    ]);
  });

  it("tells all findings at once, not only the first", () => {
    expect(codes(aChoice(7_001, 499, 1_999, "castor-oil"))).toEqual([
      "compose.share.above-bound",
      "compose.share.below-bound",
      "compose.oil.not-allowed",
      "compose.share.below-bound",
    ]);
  });

  it("refuses a base the product does not have", () => {
    expect(codes({ ...aChoice(6_000, 1_000, 2_900), base: "winter" })).toEqual([
      "compose.base.unknown",
    ]);
  });

  it("names an ingredient the shelf does not know", () => {
    const bare = composeBlend(A_PRODUCT, aChoice(6_000, 1_000, 2_900), (id) =>
      id === "tocopherol" ? undefined : SHELF.get(id),
    );
    expect(bare).toMatchObject({
      findings: [{ code: "compose.ingredient.unknown", subject: "tocopherol" }],
    });
  });
});
