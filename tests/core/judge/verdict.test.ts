import { describe, expect, it } from "vitest";
import { weightOf } from "#core/finding.ts";
import { type Rules, judgeBlend } from "#core/judge/verdict.ts";
import * as ingredients from "../../helpers/ingredients.ts";

const { SOFT_BLEND, HARD_BLEND, aBlend } = ingredients;
const QUESTION = { celsius: [10, 20, 30], useCelsius: 21 };

function judge(blend: typeof SOFT_BLEND, rules: Rules = {}, change = {}) {
  return judgeBlend(blend, { ...QUESTION, ...change, rules });
}

function codes(blend: typeof SOFT_BLEND, rules: Rules): string[] {
  return judge(blend, rules)
    .findings.filter((found) => weightOf(found) !== "tells")
    .map(({ code }) => code);
}

describe("a verdict without rules", () => {
  it("judges everything and refuses nothing: what is not asked for is no rule", () => {
    for (const blend of [SOFT_BLEND, HARD_BLEND]) expect(judge(blend).verdict).toBe("orderable");
  });

  it("gives the curve at the temperatures asked for, fresh below settled, inside the band", () => {
    const { solidFat } = judge(SOFT_BLEND);
    expect(solidFat.map(({ celsius }) => celsius)).toEqual([10, 20, 30]);
    for (const { fresh, settled, low, high } of solidFat) {
      expect(fresh).toBeLessThanOrEqual(settled);
      expect(low).toBeLessThanOrEqual(settled);
      expect(high).toBeGreaterThanOrEqual(settled);
    }
  });

  it("takes butter grown by half when nobody tells the air", () => {
    expect(judge(SOFT_BLEND).firmness).toEqual(
      judge(SOFT_BLEND, {}, { airFraction: 0.35 }).firmness,
    );
    const solid = judge(SOFT_BLEND, {}, { airFraction: 0 }).firmness!;
    expect(solid.yieldPa).toBeGreaterThan(judge(SOFT_BLEND).firmness!.yieldPa);
  });

  it("tells of unrated ingredients without refusing", () => {
    const { findings, verdict } = judge(SOFT_BLEND);
    expect(new Set(findings.map(({ code }) => code))).toEqual(
      new Set(["judge.pore-rating.unrated-told"]),
    );
    expect(findings).toHaveLength(4);
    expect(verdict).toBe("orderable");
  });
});

describe("the firmness window", () => {
  it("passes a blend whose whole band lies inside", () => {
    expect(codes(SOFT_BLEND, { firmness: ["soft"] })).toEqual([]);
    expect(codes(HARD_BLEND, { firmness: ["hard"] })).toEqual([]);
  });

  it("refuses a blend that may set too hard, naming the hardest class it reaches", () => {
    const { verdict, findings } = judge(HARD_BLEND, { firmness: ["soft", "firm"] });
    expect(verdict).toBe("refused");
    expect(findings).toContainEqual({
      code: "judge.firmness.too-hard",
      subject: "blend",
      measured: "hard",
      limit: 21,
      mend: "customer",
    });
  });

  it("refuses a blend that may not set", () => {
    expect(codes(SOFT_BLEND, { firmness: ["firm", "hard"] })).toEqual(["judge.firmness.too-soft"]);
  });

  it("judges by the whole band, or by the middle when the maker says so", () => {
    const shea = aBlend([ingredients.SHEA_BUTTER, 85], [ingredients.JOJOBA_OIL, 15]);
    const { firmness } = judge(shea);
    expect(firmness).toMatchObject({ settled: "soft", highest: "firm" });
    expect(codes(shea, { firmness: ["soft"] })).toEqual(["judge.firmness.too-hard"]);
    expect(codes(shea, { firmness: ["soft"], strictness: "central" })).toEqual([]);
  });
});

describe("the least 'softens above'", () => {
  const { softensAboveCelsius, softensAboveLeastCelsius } = judge(SOFT_BLEND);

  it("passes on the lower edge of the band and refuses a hair above it", () => {
    const edge = softensAboveLeastCelsius!;
    expect(codes(SOFT_BLEND, { softensAboveLeastCelsius: edge })).toEqual([]);
    expect(codes(SOFT_BLEND, { softensAboveLeastCelsius: edge + 0.001 })).toEqual([
      "judge.softens-above.too-low",
    ]);
  });

  it("takes the middle of the band when the maker says so", () => {
    const rules = {
      softensAboveLeastCelsius: softensAboveCelsius!,
      strictness: "central",
    } as const;
    expect(codes(SOFT_BLEND, rules)).toEqual([]);
    expect(
      codes(SOFT_BLEND, { ...rules, softensAboveLeastCelsius: softensAboveCelsius! + 0.001 }),
    ).toEqual(["judge.softens-above.too-low"]);
  });

  it("never names the limit as what was measured, however close", () => {
    for (let shea = 50; shea <= 90; shea += 2) {
      const blend = aBlend([ingredients.SHEA_BUTTER, shea], [ingredients.JOJOBA_OIL, 100 - shea]);
      const limit = Math.ceil(judge(blend).softensAboveLeastCelsius! * 10) / 10;
      const { findings } = judge(blend, { softensAboveLeastCelsius: limit });
      const found = findings.find(({ code }) => code === "judge.softens-above.too-low");
      expect(found!.measured).toBeLessThan(limit);
    }
  });

  it("refuses an oil that never sets", () => {
    const oil = aBlend([ingredients.JOJOBA_OIL, 100]);
    expect(judge(oil).softensAboveCelsius).toBeUndefined();
    expect(codes(oil, { softensAboveLeastCelsius: 20 })).toEqual(["judge.softens-above.too-low"]);
  });
});

describe("the pore-rating ceiling", () => {
  const cocoa = {
    ...ingredients.COCOA_BUTTER,
    poreRating: { rated: true, value: 3, low: 3, high: 4 },
  } as const;
  const rated = aBlend([cocoa, 100]);
  const mixed = aBlend([cocoa, 50], [ingredients.JOJOBA_OIL, 50]);

  it("passes a rating on the ceiling and refuses one above it, naming the ingredient", () => {
    expect(codes(rated, { poreRatingMost: 3 })).toEqual([]);
    const { findings } = judge(rated, { poreRatingMost: 2.9 });
    expect(findings.filter((found) => weightOf(found) === "refuses")).toMatchObject([
      { code: "judge.pore-rating.above-limit", subject: "cocoa-butter", measured: 3, limit: 2.9 },
    ]);
  });

  it("takes the highest figure in circulation when the maker asks for it", () => {
    expect(codes(rated, { poreRatingMost: 3, poreReading: "high" })).toEqual([
      "judge.pore-rating.above-limit",
    ]);
  });

  it("cannot judge an unrated ingredient, unless the maker only wants to be told", () => {
    expect(judge(mixed, { poreRatingMost: 4 }).verdict).toBe("cannot-judge");
    expect(judge(mixed, { poreRatingMost: 4, unrated: "tell" }).verdict).toBe("orderable");
  });

  it("refuses rather than leave undecided when both are there", () => {
    expect(judge(mixed, { poreRatingMost: 2 }).verdict).toBe("refused");
  });
});

describe("what cannot be judged", () => {
  it("is a blend with an ingredient nobody measured; its pore rating is told all the same", () => {
    const waxed = aBlend([ingredients.SHEA_BUTTER, 95], [ingredients.BEESWAX, 5]);
    const judgement = judge(waxed);
    expect(judgement).toMatchObject({ verdict: "cannot-judge", solidFat: [] });
    expect(judgement.firmness).toBeUndefined();
    expect(judgement.poreRating.unrated).toContain("beeswax");
  });

  it("is a blend without fat", () => {
    const { verdict, findings } = judge(aBlend([ingredients.TAPIOCA_STARCH, 100]));
    expect(verdict).toBe("cannot-judge");
    expect(findings.map(({ code }) => code)).toContain("judge.solid-fat.no-fat");
  });

  it.each([-10.01, 60.01, Number.NaN])("is a question at %d °C", (celsius) => {
    for (const change of [{ celsius: [celsius] }, { useCelsius: celsius }]) {
      expect(judge(SOFT_BLEND, {}, change)).toMatchObject({
        verdict: "cannot-judge",
        solidFat: [],
      });
    }
  });

  it("is not a question on the edges of the range", () => {
    const judgement = judge(SOFT_BLEND, {}, { celsius: [-10, 60], useCelsius: 60 });
    expect(judgement.verdict).toBe("orderable");
  });

  it.each([-0.01, 0.81, Number.NaN])("is an air fraction of %d", (airFraction) => {
    expect(judge(SOFT_BLEND, {}, { airFraction }).findings).toContainEqual(
      expect.objectContaining({ code: "judge.air.out-of-range" }),
    );
  });

  it.each([0, 0.8])("is not an air fraction of %d", (airFraction) => {
    expect(judge(SOFT_BLEND, {}, { airFraction }).verdict).toBe("orderable");
  });

  it("is a blend that nobody checked: shares that miss the whole are a fault of the caller", () => {
    const broken = { parts: [{ ingredient: ingredients.SHEA_BUTTER, share: 5_000 }] };
    expect(() => judge(broken)).toThrow("makeBlend");
  });
});
