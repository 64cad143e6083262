import { describe, expect, it } from "vitest";
import type { Ingredient, RatingConfidence } from "#core/ingredient.ts";
import { listPores } from "#core/judge/pore-list.ts";
import { type PoreRules, poreFindings, ratePores } from "#core/judge/pore-rating.ts";
import { COCOA_BUTTER, SHEA_BUTTER, SUNFLOWER_OIL, aBlend } from "../../helpers/ingredients.ts";

function rated(ingredient: Ingredient, value: number, high = value): Ingredient {
  return { ...ingredient, poreRating: { rated: true, value, low: value, high } };
}

function known(ingredient: Ingredient, confidence: RatingConfidence): Ingredient {
  return { ...ingredient, poreRating: { rated: true, value: 4, low: 4, high: 4, confidence } };
}

const cocoa = rated(COCOA_BUTTER, 4);
const shea = rated(SHEA_BUTTER, 0, 2);
const unrated = SUNFLOWER_OIL;

function codes(blend: ReturnType<typeof aBlend>, rules: PoreRules): string[] {
  return poreFindings(blend, rules).map(({ code, subject }) => `${code} ${subject}`);
}

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
    expect(ratePores(blend, { poreReading: "high" }).highest!.value).toBe(2);
  });

  it("names the first of two equals", () => {
    const twin = { ...rated(SUNFLOWER_OIL, 4), id: "twin" };
    expect(ratePores(aBlend([cocoa, 50], [twin, 50])).highest!.ingredient).toBe("cocoa-butter");
  });
});

describe("the trace threshold", () => {
  const rules = { poreRatingMost: 2, poreTraceBelowShare: 100 };

  it("lets an ingredient below it pass the ceiling, and one on it not", () => {
    const below = aBlend([shea, 99.01], [cocoa, 0.99]);
    const on = aBlend([shea, 99], [cocoa, 1]);
    expect(codes(below, rules)).toEqual([]);
    expect(codes(on, rules)).toEqual(["judge.pore-rating.above-limit cocoa-butter"]);
    expect(ratePores(below, rules).highest!.ingredient).toBe("shea-butter");
    expect(ratePores(on, rules).highest!.ingredient).toBe("cocoa-butter");
  });

  it("counts every ingredient when the maker sets none", () => {
    const { poreRatingMost } = rules;
    expect(codes(aBlend([shea, 99.99], [cocoa, 0.01]), { poreRatingMost })).toHaveLength(1);
  });

  it("tells of an unrated trace and does not let it leave the verdict open", () => {
    const tiny = aBlend([shea, 99.5], [unrated, 0.5]);
    const more = aBlend([shea, 99], [unrated, 1]);
    expect(codes(tiny, rules)).toEqual(["judge.pore-rating.unrated-told sunflower-oil"]);
    expect(codes(more, rules)).toEqual(["judge.pore-rating.unrated sunflower-oil"]);
  });

  it("still lists the trace, with its rating", () => {
    expect(listPores(aBlend([shea, 99.5], [cocoa, 0.5]), rules)).toEqual([
      { ingredient: "shea-butter", share: 9950, rating: shea.poreRating, counts: "yes" },
      { ingredient: "cocoa-butter", share: 50, rating: cocoa.poreRating, counts: "trace" },
    ]);
  });

  it("has no highest when nothing but a trace is rated", () => {
    const summary = ratePores(aBlend([unrated, 99.5], [cocoa, 0.5]), rules);
    expect(summary.highest).toBeUndefined();
    expect(summary.mean).toBe(4);
  });
});

describe("the least confidence", () => {
  const rules = { poreRatingMost: 5, poreConfidenceLeast: "C" } as const;

  it("counts a figure of that grade and takes one below it as unrated", () => {
    const good = aBlend([known(COCOA_BUTTER, "C"), 100]);
    const poor = aBlend([known(COCOA_BUTTER, "D"), 100]);
    expect(codes(good, rules)).toEqual([]);
    expect(codes(poor, rules)).toEqual(["judge.pore-rating.unrated cocoa-butter"]);
    expect(ratePores(good, rules)).toMatchObject({ highest: { value: 4 }, unrated: [] });
    expect(ratePores(poor, rules)).toEqual({ unrated: ["cocoa-butter"] });
    expect(listPores(poor, rules)[0]!.counts).toBe("too-poorly-known");
  });

  it("takes a figure that nobody graded as unrated, and counts it when no grade is asked for", () => {
    expect(codes(aBlend([cocoa, 100]), rules)).toEqual(["judge.pore-rating.unrated cocoa-butter"]);
    expect(codes(aBlend([cocoa, 100]), { poreRatingMost: 5 })).toEqual([]);
  });

  it("tells the difference from an ingredient without any figure", () => {
    expect(listPores(aBlend([unrated, 100]), rules)[0]!.counts).toBe("unrated");
  });
});
