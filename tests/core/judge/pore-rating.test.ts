import { describe, expect, it } from "vitest";
import type { Ingredient } from "#core/ingredient.ts";
import { ratePores } from "#core/judge/pore-rating.ts";
import { COCOA_BUTTER, SHEA_BUTTER, SUNFLOWER_OIL, aBlend } from "../../helpers/ingredients.ts";

function rated(ingredient: Ingredient, value: number, high = value): Ingredient {
  return { ...ingredient, poreRating: { rated: true, value, low: value, high } };
}

const cocoa = rated(COCOA_BUTTER, 4);
const shea = rated(SHEA_BUTTER, 0, 2);
const unrated = SUNFLOWER_OIL;

describe("the pore rating of a blend", () => {
  it("is that of its highest-rated ingredient, however little of it there is", () => {
    expect(ratePores(aBlend([shea, 99.99], [cocoa, 0.01])).highest).toEqual({
      ingredient: "cocoa-butter",
      value: 4,
    });
  });

  it("tells the mean by share beside it", () => {
    expect(ratePores(aBlend([shea, 75], [cocoa, 25])).mean).toBeCloseTo(1, 12);
  });

  it("names unrated ingredients, and never counts them as 0", () => {
    const summary = ratePores(aBlend([cocoa, 50], [unrated, 50]));
    expect(summary.unrated).toEqual(["sunflower-oil"]);
    expect(summary.mean).toBe(4);
  });

  it("has no highest and no mean when nothing is rated", () => {
    expect(ratePores(aBlend([unrated, 100]))).toEqual({ unrated: ["sunflower-oil"] });
  });

  it("takes the highest figure in circulation when the maker asks for it", () => {
    const blend = aBlend([shea, 100]);
    expect(ratePores(blend).highest!.value).toBe(0);
    expect(ratePores(blend, "high").highest!.value).toBe(2);
  });

  it("names the first of two equals", () => {
    const twin = { ...rated(SUNFLOWER_OIL, 4), id: "twin" };
    expect(ratePores(aBlend([cocoa, 50], [twin, 50])).highest!.ingredient).toBe("cocoa-butter");
  });
});
