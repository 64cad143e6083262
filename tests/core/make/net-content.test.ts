import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkNetContent } from "#core/make/net-content.ts";
import { allowableVariationMg, tolerableErrorMg } from "#core/make/net-content-tables.ts";

const grams = (...values: number[]) => values.map((value) => value * 1000);
const jars = (count: number, massG: number) => grams(...Array<number>(count).fill(massG));

describe("how far one jar may be below its label", () => {
  // Council Directive 76/211/EEC, Annex I 2.4, as read; nominal quantity and tolerable negative error in grams.
  it.each([
    [15, 1.4],
    [30, 2.7],
    [50, 4.5],
    [60, 4.5],
    [100, 4.5],
    [113, 5.1],
    [120, 5.4],
    [150, 6.8],
    [200, 9],
    [250, 9],
    [400, 12],
    [750, 15],
    [1000, 15],
    [2000, 30],
  ])("is in the EU, at %d g, %d g", (nominal, error) => {
    expect(tolerableErrorMg(nominal * 1000)).toBe(error * 1000);
  });

  // NIST Handbook 133, Table 2-5, as quoted: 3 oz -> 1/4 oz, 8 oz -> 7/16 oz, 113 g -> 7.2 g, 1 lb -> 19.9 g.
  it.each([
    [85.05, 7.2],
    [226.8, 12.7],
    [113, 7.2],
    [453.6, 19.9],
    [30, 3],
  ])("is in the US, at %d g, %d g", (nominal, variation) => {
    expect(allowableVariationMg(nominal * 1000)).toBeCloseTo(variation * 1000, 6);
  });

  it("agrees in the US with the ounces of the table to half a hundredth of an ounce", () => {
    const ounce = 28_349.523_125;
    const quoted = { 3: 1 / 4, 8: 7 / 16, 4: 1 / 4, 2: 3 / 16, 16: 11 / 16 };
    for (const [ounces, variation] of Object.entries(quoted)) {
      const mg = allowableVariationMg(Math.floor(Number(ounces) * ounce))!;
      expect(Math.abs(mg / ounce - variation)).toBeLessThan(0.02);
    }
  });

  it("is continuous in the EU at every step of the table", () => {
    for (const step of [50, 100, 200, 300, 500, 1000]) {
      const [below, above] = [step * 1000 - 1, step * 1000 + 1].map((mg) => tolerableErrorMg(mg)!);
      expect(Math.abs(above! - below!)).toBeLessThanOrEqual(100);
    }
  });

  it("has no figure outside the tables", () => {
    expect([4.9, 10_001].map((g) => tolerableErrorMg(g * 1000))).toEqual([undefined, undefined]);
    expect([0, 1121].map((g) => allowableVariationMg(g * 1000))).toEqual([undefined, undefined]);
    expect(checkNetContent("eu", 3000, [3000], 1)).toEqual({
      verdict: "cannot-judge",
      because: "no-figure",
    });
  });
});

describe("a batch of jars", () => {
  it("of one must hold what its label says, whatever the law lets a jar fall short", () => {
    expect(checkNetContent("eu", 60_000, grams(60), 1).verdict).toBe("holds");
    expect(checkNetContent("eu", 60_000, grams(59.9), 1).verdict).toBe("falls-short");
    expect(checkNetContent("us", 60_000, grams(59.9), 1).verdict).toBe("falls-short");
  });

  it("holds on the average though some jars lie a little below", () => {
    const contents = grams(60.4, 59.2, 60.9, 59.7, 60.1);
    expect(checkNetContent("eu", 60_000, contents, 5)).toMatchObject({
      verdict: "holds",
      meanMg: 60_060,
      meanLeastMg: 60_000,
      shortBelowMg: 55_500,
      neverBelowMg: 51_000,
      short: 0,
    });
  });

  it("falls short by one jar below T1 when it is small, and may have one in forty when all are weighed", () => {
    const small = [...jars(9, 61), ...grams(55.4)];
    expect(checkNetContent("eu", 60_000, small, 10)).toMatchObject({
      verdict: "falls-short",
      short: 1,
      shortMost: 0,
    });
    const larger = [...jars(39, 61), ...grams(55.4)];
    expect(checkNetContent("eu", 60_000, larger, 40)).toMatchObject({
      verdict: "holds",
      shortMost: 1,
    });
  });

  it("never holds with a jar below T2, which is named", () => {
    const contents = [...jars(45, 61), ...grams(50.9), ...jars(4, 61)];
    const check = checkNetContent("eu", 60_000, contents, 50);
    expect(check).toMatchObject({ verdict: "falls-short", notForSale: [45] });
  });

  it("in the US has no jar short by more than the variation", () => {
    const contents = [...jars(11, 61), ...grams(54.5)];
    expect(checkNetContent("us", 60_000, contents, 200)).toMatchObject({
      verdict: "falls-short",
      notForSale: [11],
      shortBelowMg: 54_600,
    });
  });

  it("in the US passes on a sample by the average and what so small a sample leaves open", () => {
    // Mean 59.9 g, deviation 0.3 g: 59.9 >= 60 - 0.635 x 0.3 = 59.81.
    const contents = grams(...[59.6, 60.2].flatMap((mass) => Array<number>(6).fill(mass)));
    const check = checkNetContent("us", 60_000, contents, 200);
    expect(check).toMatchObject({ verdict: "holds", weighed: 12 });
    expect((check as { meanLeastMg: number }).meanLeastMg).toBeCloseTo(60_000 - 0.635 * 313.34, 0);
    expect(checkNetContent("us", 60_000, contents, 12).verdict).toBe("falls-short"); // all were weighed
  });

  it("asks for more weighings before it says anything", () => {
    const asked = [
      [1, 99],
      [60, 100],
      [100, 501],
      [160, 3201],
    ].map(([, batch]) => {
      const check = checkNetContent("eu", 60_000, [], batch!);
      return "needed" in check ? check.needed : undefined;
    });
    expect(asked).toEqual([99, 60, 100, 160]);
  });

  it("cannot be judged by what is no weight", () => {
    for (const contents of [[NaN], [-1], [Infinity]]) {
      expect(checkNetContent("eu", 60_000, contents, 1)).toEqual({
        verdict: "cannot-judge",
        because: "not-a-weight",
      });
    }
  });

  it("never gets worse by more in every jar", () => {
    const batch = fc.array(fc.integer({ min: 40_000, max: 70_000 }), {
      minLength: 1,
      maxLength: 60,
    });
    fc.assert(
      fc.property(batch, fc.constantFrom("eu" as const, "us" as const), (contents, rule) => {
        const verdictOf = (more: number) =>
          checkNetContent(
            rule,
            60_000,
            contents.map((mg) => mg + more),
            contents.length,
          ).verdict;
        if (verdictOf(0) === "holds") expect(verdictOf(250)).toBe("holds");
      }),
    );
  });
});
