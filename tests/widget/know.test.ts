/**
 * What is told before paying: fragrance allergens never below what the jar may hold, and what the maker chose to say of
 * changing one's mind.
 */
import { describe, expect, it } from "vitest";
import { inciOrder } from "#core/make/label-order.ts";
import { ingredientById } from "#data/library.ts";
import { sayFragrance, sayMind } from "#widget/views/know.ts";
import { SHEA_BUTTER, aBlend } from "../helpers/ingredients.ts";
import { inEnglish } from "../helpers/language.ts";

const said = (percent: number) => {
  const lavender = ingredientById("lavender-essential-oil")!;
  const { allergens } = inciOrder(aBlend([SHEA_BUTTER, 100 - percent], [lavender, percent]));
  return sayFragrance(allergens, inEnglish()).replaceAll("\u00a0", " ");
};

describe("fragrance allergens", () => {
  it("stand with their figure rounded up, and those under a hundredth of a percent by name", () => {
    expect(said(0.3)).toMatch(/Linalyl Acetate 0\.15 ?%, Linalool 0\.14 ?%/);
    expect(said(0.3)).toMatch(/; under 0\.01 %: Terpineol, Camphor/);
  });

  it("are all traces where there is very little of the oil", () => {
    expect(said(0.01)).toMatch(/Lavandula Oil\/Extract 0\.01 ?%; under 0\.01 %: Linalyl Acetate/);
  });

  it("are said to be none above the level where there are none", () => {
    expect(sayFragrance([], inEnglish())).toContain("None above 0.001");
  });
});

describe("changing one's mind", () => {
  it("is what the maker chose, or nothing", () => {
    expect(sayMind(undefined, inEnglish())).toBe("");
    expect(sayMind({ kind: "days", days: 30 }, inEnglish())).toContain("within 30 days");
    expect(sayMind({ kind: "made-to-wish" }, inEnglish())).toContain("Article 16(c)");
    expect(sayMind({ kind: "own-words", words: "Ask us." }, inEnglish())).toBe("Ask us.");
  });
});
