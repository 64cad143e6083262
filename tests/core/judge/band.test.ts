import { describe, expect, it } from "vitest";
import { around, bandOf } from "#core/judge/band.ts";
import { meltOf } from "#core/judge/melt.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import { COCOA_BUTTER, JOJOBA_OIL, aBlend } from "../../helpers/ingredients.ts";

const melt = meltOf(aBlend([COCOA_BUTTER, 100]))!;
const atZero = solidFatPercent(melt, "settled", 0) / 100;

describe("the band round a reckoned solid fat", () => {
  it.each([
    [-10, 6],
    [24, 6],
    [25, 6],
    [26.5, 8],
    [28, 10],
    [29, 10],
    [60, 10],
  ])("at %d °C is %d points for a fat that can set whole", (celsius, points) => {
    expect(bandOf(melt)(celsius)).toBeCloseTo(points * atZero, 10);
  });

  it("widens without a jump", () => {
    const halfWidth = bandOf(melt);
    for (let celsius = 24; celsius < 29; celsius += 0.01) {
      expect(halfWidth(celsius + 0.01) - halfWidth(celsius)).toBeLessThan(0.02);
    }
  });

  it("shrinks with oil that never sets, and is nothing for such an oil alone", () => {
    const half = meltOf(aBlend([COCOA_BUTTER, 50], [JOJOBA_OIL, 50]))!;
    expect(bandOf(half)(20)).toBeLessThan(0.51 * bandOf(melt)(20));
    expect(bandOf(meltOf(aBlend([JOJOBA_OIL, 100]))!)(20)).toBe(0);
  });

  it("stops at 0 and 100 %", () => {
    expect(around(50, 6)).toEqual({ low: 44, high: 56 });
    expect(around(3, 6)).toEqual({ low: 0, high: 9 });
    expect(around(98, 6)).toEqual({ low: 92, high: 100 });
  });
});
