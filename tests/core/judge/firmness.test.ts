import { describe, expect, it } from "vitest";
import {
  FIRMNESS_CLASSES,
  PUBLISHED_LAW,
  firmnessClass,
  solidFatFrom,
  yieldPa,
} from "#core/judge/firmness.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { SOFT_BLEND } from "../../helpers/ingredients.ts";

const PA = 98.0665; // one gf/cm2

describe("firmness classes", () => {
  it.each([
    [0, "fluid"],
    [49.999, "fluid"],
    [50, "soft"],
    [449.999, "soft"],
    [450, "firm"],
    [799.999, "firm"],
    [800, "hard"],
    [8_900, "hard"],
  ])("take a yield value of %d gf/cm2 for %s", (gfPerCm2, firmness) => {
    expect(firmnessClass(gfPerCm2 * PA)).toBe(firmness);
  });

  it("put the plastic window, 15 to 30 % solids without air, on Haighton's 200 to 800 gf/cm2", () => {
    expect(yieldPa(15, 0) / PA).toBeCloseTo(200, -0.5);
    expect(yieldPa(30, 0) / PA).toBeCloseTo(801, 0);
  });
});

describe("the yield value", () => {
  it("grows fourfold when the solids double", () => {
    expect(yieldPa(40, 0.35) / yieldPa(20, 0.35)).toBeCloseTo(4, 10);
  });

  it("falls with the air by the power 1.5, and is untouched by no air", () => {
    expect(yieldPa(20, 0.36) / yieldPa(20, 0)).toBeCloseTo(0.64 ** 1.5, 10);
    expect(yieldPa(100, 0)).toBeCloseTo(8_900 * PA, 6);
  });

  it("is nothing without solids", () => {
    expect(yieldPa(0, 0.35)).toBe(0);
  });
});

describe("the solids at which a class begins", () => {
  it.each([0, 0.35, 0.8])(
    "turn the law round at %d air: one step above is in, below is out",
    (air) => {
      for (const [at, firmness] of FIRMNESS_CLASSES.entries()) {
        if (at === 0) continue;
        const from = solidFatFrom(firmness, air);
        expect(firmnessClass(yieldPa(from + 1e-9, air))).toBe(firmness);
        expect(firmnessClass(yieldPa(from - 1e-9, air))).toBe(FIRMNESS_CLASSES[at - 1]);
      }
    },
  );

  it("are nothing for fluid", () => {
    expect(solidFatFrom("fluid", 0.35)).toBe(0);
  });

  it("lie near 10, 31 and 41 % for a butter grown by half", () => {
    expect(solidFatFrom("soft", 0.35)).toBeCloseTo(10.4, 1);
    expect(solidFatFrom("firm", 0.35)).toBeCloseTo(31.1, 1);
    expect(solidFatFrom("hard", 0.35)).toBeCloseTo(41.4, 1);
  });

  it("can lie beyond all solid when there is very much air", () => {
    expect(solidFatFrom("hard", 0.8)).toBeGreaterThan(100);
  });
});

describe("a kitchen's own law", () => {
  const law = { scalePa: 5_000 * PA, solidsExponent: 1.6, airExponent: 2 };

  it("is published with three constants", () => {
    expect(PUBLISHED_LAW).toEqual({ scalePa: 8_900 * PA, solidsExponent: 2, airExponent: 1.5 });
    expect(yieldPa(25, 0.3, PUBLISHED_LAW)).toBe(yieldPa(25, 0.3));
  });

  it("moves the yield value and is turned round as the published one is", () => {
    expect(yieldPa(25, 0.5, law)).toBeCloseTo(5_000 * PA * 0.25 ** 1.6 * 0.25, 6);
    for (const firmness of ["soft", "firm", "hard"] as const) {
      const from = solidFatFrom(firmness, 0.35, law);
      expect(firmnessClass(yieldPa(from + 1e-9, 0.35, law))).toBe(firmness);
      expect(firmnessClass(yieldPa(from - 1e-9, 0.35, law))).not.toBe(firmness);
    }
  });

  it("moves the verdict, the class and where the jar softens", () => {
    const softer = { ...PUBLISHED_LAW, scalePa: PUBLISHED_LAW.scalePa / 8 };
    const question = { celsius: [], useCelsius: 21, rules: { firmness: ["soft"] } } as const;
    const usual = judgeBlend(SOFT_BLEND, question);
    const own = judgeBlend(SOFT_BLEND, { ...question, law: softer });
    expect(usual.verdict).toBe("orderable");
    expect(own.verdict).toBe("refused");
    expect(own.firmness!.yieldPa).toBeCloseTo(usual.firmness!.yieldPa / 8, 6);
    expect(own.softensAboveCelsius).toBeLessThan(usual.softensAboveCelsius!);
    expect(own.slipMeltingCelsius).toBe(usual.slipMeltingCelsius);
  });
});
