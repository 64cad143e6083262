import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { adviseOn, adviseOnScale } from "#core/make/net-content-advice.ts";
import { type NetContentRule, checkNetContent } from "#core/make/net-content.ts";

const advice = (
  rule: NetContentRule,
  labelG: number,
  contentsG: readonly number[],
  jars?: number,
) => {
  const contents = contentsG.map((g) => Math.round(g * 1000));
  const check = checkNetContent(rule, labelG * 1000, contents, jars ?? contents.length);
  return adviseOn(check, contents, labelG * 1000);
};

const codesOf = (found: ReturnType<typeof advice>) => found.map(({ code }) => code);

describe("what is said of weighed jars", () => {
  it("is one sentence when the label is kept", () => {
    const plain = { code: "holds", jars: [], more: 0 };
    expect(advice("eu", 120, [120.4, 119.8])).toEqual([
      { ...plain, massesMg: { mean: 120_100, below: 114_600 }, counts: { weighed: 2, short: 0 } },
    ]);
    expect(advice("us", 120, [120])).toEqual([
      { ...plain, massesMg: { mean: 120_000, below: 111_000 }, counts: { weighed: 1, short: 0 } },
    ]);
  });

  it("says how much is missing in all when every jar was weighed, rounded so that it is enough", () => {
    // 119.9 + 119.9 + 119.996 = 359.796: 0.204 g are missing.
    expect(advice("eu", 120, [119.9, 119.9, 119.996])).toContainEqual(
      expect.objectContaining({ code: "fill-more", massesMg: { missing: 210 } }),
    );
  });

  it("asks for all jars when only some were weighed", () => {
    const contents = Array.from({ length: 12 }, (_, at) => 118 + (at % 2) / 10);
    expect(codesOf(advice("us", 120, contents, 200))).toEqual(["average", "fill-all"]);
  });

  it("names the jars that may not be sold, and those far below, each once", () => {
    const contents = [...Array<number>(18).fill(121), 108, 112];
    const found = advice("eu", 120, contents);
    expect(found.find(({ code }) => code === "not-for-sale")).toMatchObject({
      ...{ massesMg: { below: 109_200 }, jars: [{ place: 19, mg: 108_000 }], more: 0 },
    });
    expect(found.find(({ code }) => code === "too-many")).toMatchObject({
      ...{ massesMg: { below: 114_600 }, counts: { most: 0 } },
      ...{ jars: [{ place: 20, mg: 112_000 }], more: 0 },
    });
    const many = advice("eu", 120, Array<number>(20).fill(100));
    const [named] = many.filter(({ code }) => code === "not-for-sale");
    expect([named?.jars.length, named?.more]).toEqual([12, 8]);
  });

  it("says what is missing for a judgement", () => {
    expect(advice("eu", 120, [121], 3)).toMatchObject([
      { code: "too-few", counts: { weighed: 1, needed: 3 } },
    ]);
    expect(advice("eu", 3, [3])).toMatchObject([{ code: "no-figure", massesMg: { label: 3000 } }]);
    expect(codesOf(advice("eu", 120, [-1]))).toEqual(["not-a-weight"]);
  });

  it("never is silent, and speaks of filling up only when the check falls short", () => {
    const batch = fc.array(fc.integer({ min: 80_000, max: 130_000 }), {
      minLength: 1,
      maxLength: 60,
    });
    fc.assert(
      fc.property(fc.constantFrom("eu" as const, "us" as const), batch, (rule, contents) => {
        const check = checkNetContent(rule, 120_000, contents, contents.length);
        const codes = codesOf(adviseOn(check, contents, 120_000));
        expect(codes.length).toBeGreaterThan(0);
        const mends = codes.some((code) => /fill|sale|many/.test(code));
        expect(mends).toBe(check.verdict === "falls-short");
      }),
    );
  });
});

describe("the scale", () => {
  it("may be off by a fifth of the law’s error in the EU and UK, and is named when it is coarser", () => {
    // 120 g: 5.4 g is tolerable, a fifth of it 1.08 g.
    expect(adviseOnScale("eu", 120_000, 1000)).toBeUndefined();
    expect(adviseOnScale("eu", 120_000, 2000)).toMatchObject({
      ...{ code: "scale", massesMg: { step: 2000, error: 1080 } },
    });
    expect(adviseOnScale("us", 120_000, 2000)).toBeUndefined();
    expect(adviseOnScale("eu", 3000, 2000)).toBeUndefined();
  });
});
