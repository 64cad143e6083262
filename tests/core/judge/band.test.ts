import { describe, expect, it } from "vitest";
import { bandHoldsTo, bandOf } from "#core/judge/band.ts";
import { meltOf } from "#core/judge/melt.ts";
import { settledHoldsTo } from "#core/judge/softening.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import {
  COCOA_BUTTER,
  COCONUT_OIL,
  JOJOBA_OIL,
  SHEA_BUTTER,
  aBlend,
} from "../../helpers/ingredients.ts";

const COCOA = meltOf(aBlend([COCOA_BUTTER, 100]))!;
const MIXED = meltOf(
  aBlend([COCOA_BUTTER, 20], [SHEA_BUTTER, 40], [COCONUT_OIL, 20], [JOJOBA_OIL, 20]),
)!;
const settled = (celsius: number, melt = COCOA) => solidFatPercent(melt, "settled", celsius);

describe("the band round a reckoned solid fat", () => {
  it("looks a degree to each side and strays by a part of the solids, less the fuller the fat", () => {
    // One fat of the usual spread: r = hypot(0.05, 0.1).
    const r = Math.hypot(0.05, 0.1);
    const { low, high } = bandOf(COCOA)(25);
    expect(low).toBeCloseTo(settled(26) * (1 - r * (1 - settled(26) / 100)), 9);
    expect(high).toBeCloseTo(settled(24) * (1 + r * (1 - settled(24) / 100)), 9);
  });

  it("holds the value, stays within 0 to 100 % and never rises, whatever the temperature", () => {
    for (const melt of [COCOA, MIXED]) {
      const band = bandOf(melt);
      let before = { low: 100, high: 100 };
      for (let celsius = -10; celsius <= 60; celsius += 0.25) {
        const { low, high } = band(celsius);
        expect(low).toBeLessThanOrEqual(settled(celsius, melt) + 1e-9);
        expect(high).toBeGreaterThanOrEqual(settled(celsius, melt) - 1e-9);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(100 + 1e-9);
        expect(low).toBeLessThanOrEqual(before.low + 1e-8);
        expect(high).toBeLessThanOrEqual(before.high + 1e-8);
        before = { low, high };
      }
    }
  });

  it("is nothing above the clear point, and for oil that never sets", () => {
    expect(bandOf(COCOA)(45).high).toBeLessThan(0.9); // its trisaturated traces
    expect(bandOf(COCOA)(58).high).toBeLessThan(1e-9);
    expect(bandOf(meltOf(aBlend([JOJOBA_OIL, 100]))!)(20)).toEqual({ low: 0, high: 0 });
  });

  it("narrows for a lot that was analysed, and widens for a fat that strays", () => {
    const width = (compositionSpread: number) => {
      const melt = meltOf(aBlend([{ ...SHEA_BUTTER, compositionSpread }, 100]))!;
      const { low, high } = bandOf(melt)(20);
      return high - low;
    };
    expect(width(0.03)).toBeLessThan(width(0.1));
    expect(width(0.1)).toBeLessThan(width(0.17));
  });

  it("lets independent lots even out: two fats stray less together than the worse one alone", () => {
    const strays = { ...SHEA_BUTTER, compositionSpread: 0.2 };
    const twin = { ...strays, id: "another-shea" };
    const of = (melt: NonNullable<ReturnType<typeof meltOf>>) => bandOf(melt)(20).high;
    expect(of(meltOf(aBlend([strays, 50], [twin, 50]))!)).toBeLessThan(
      of(meltOf(aBlend([strays, 100]))!),
    );
  });
});

describe("the temperature to which the lower edge holds", () => {
  it.each([5, 10.4, 30])("is where the lower edge crosses %d %%", (level) => {
    for (const melt of [COCOA, MIXED]) {
      const holds = bandHoldsTo(melt, level)!;
      expect(bandOf(melt)(holds).low).toBeGreaterThanOrEqual(level - 1e-6);
      expect(bandOf(melt)(holds + 0.0102).low).toBeLessThan(level);
      expect(holds).toBeLessThan(settledHoldsTo(melt, level)!);
    }
  });

  it("is nothing for an oil", () => {
    expect(bandHoldsTo(meltOf(aBlend([JOJOBA_OIL, 100]))!, 5)).toBeUndefined();
  });
});
