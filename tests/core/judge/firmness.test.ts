import { describe, expect, it } from "vitest";
import { FIRMNESS_CLASSES, firmnessClass, solidFatFrom, yieldPa } from "#core/judge/firmness.ts";

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
