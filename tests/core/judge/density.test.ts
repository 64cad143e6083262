import { describe, expect, it } from "vitest";
import { fatDensityGPerMl, liquidDensityGPerMl } from "#core/judge/density.ts";

const SHEA = { saponificationValue: 180, iodineValue: 60 };

describe("the density of a fat", () => {
  it("falls by 0.00067 g/ml for each degree", () => {
    const fall = liquidDensityGPerMl(20, SHEA)! - liquidDensityGPerMl(21, SHEA)!;
    expect(fall).toBeCloseTo(0.00067, 9);
  });

  it("rises with saponification and iodine value", () => {
    const shea = liquidDensityGPerMl(20, SHEA)!;
    expect(liquidDensityGPerMl(20, { ...SHEA, saponificationValue: 255 })).toBeGreaterThan(shea);
    expect(liquidDensityGPerMl(20, { ...SHEA, iodineValue: 130 })).toBeGreaterThan(shea);
  });

  it("has no figure for what is no glyceride, and one from there on", () => {
    expect(
      liquidDensityGPerMl(20, { saponificationValue: 149.9, iodineValue: 80 }),
    ).toBeUndefined();
    expect(fatDensityGPerMl(20, { saponificationValue: 92, iodineValue: 82 }, 0)).toBeUndefined();
    expect(liquidDensityGPerMl(20, { saponificationValue: 150, iodineValue: 80 })).toBeDefined();
  });

  it("takes 7.5 % less room when it is all solid, and none when it is liquid", () => {
    const liquid = liquidDensityGPerMl(20, SHEA)!;
    expect(fatDensityGPerMl(20, SHEA, 0)).toBe(liquid);
    expect(liquid / fatDensityGPerMl(20, SHEA, 100)!).toBeCloseTo(0.925, 9);
  });
});
