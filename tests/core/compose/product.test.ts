import { describe, expect, it } from "vitest";
import { ingredientsOf, startingChoice } from "#core/compose/product.ts";
import { A_PRODUCT } from "./a-product.ts";

describe("a product", () => {
  it("starts the customer at the maker's own base, untouched", () => {
    expect(startingChoice(A_PRODUCT.bases[0]!)).toEqual({
      base: "everyday",
      butters: [
        { ingredient: "shea-butter", share: 6_000 },
        { ingredient: "cocoa-butter", share: 1_000 },
      ],
      oils: [{ place: "light", ingredient: "sunflower-oil", share: 2_900 }],
    });
  });

  it("lists every ingredient it may use once: butters, oils, additives and the oils offered", () => {
    expect(ingredientsOf(A_PRODUCT)).toEqual([
      "shea-butter",
      "cocoa-butter",
      "sunflower-oil",
      "tocopherol",
      "jojoba-oil",
    ]);
  });
});
