import { describe, expect, it } from "vitest";
import { firmnessClass } from "#core/judge/firmness.ts";
import { yieldByConePa } from "#core/judge/penetration.ts";

const PA = 98.0665;
const byCone = (change = {}) =>
  yieldByConePa({ weightG: 80, angleDegrees: 40, depthTenthMm: 100, ...change });

describe("the yield value by a cone", () => {
  it("is 5840 W / p^1.6 gf/cm2 at 40 degrees (Haighton 1959, JAOCS 36:345; K from memory)", () => {
    expect(byCone() / PA).toBeCloseTo((5840 * 80) / 100 ** 1.6, 6);
  });

  it("doubles with the weight and falls with the depth by the power 1.6", () => {
    expect(byCone({ weightG: 160 }) / byCone()).toBeCloseTo(2, 10);
    expect(byCone({ depthTenthMm: 200 }) / byCone()).toBeCloseTo(2 ** -1.6, 10);
  });

  it.each([
    [30, 9670],
    [60, 2815],
  ])("at %d degrees lies within 2 %% of the table's factor %d (from memory)", (angle, factor) => {
    const own = (byCone({ angleDegrees: angle }) / PA / 80) * 100 ** 1.6;
    expect(Math.abs(own / factor - 1)).toBeLessThan(0.02);
  });

  it("puts good shortenings of 250 to 710 gf/cm2 on soft and firm (Noraini 1995, Fett 97:253)", () => {
    const depth = (gfPerCm2: number) => ((5840 * 80) / gfPerCm2) ** (1 / 1.6);
    expect(firmnessClass(byCone({ depthTenthMm: depth(250) }))).toBe("soft");
    expect(firmnessClass(byCone({ depthTenthMm: depth(710) }))).toBe("firm");
  });
});
