import { describe, expect, it } from "vitest";
import { meltOf } from "#core/judge/melt.ts";
import { COLDEST_C, WARMEST_C, settledHoldsTo, slipMeltingC } from "#core/judge/softening.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import * as ingredients from "../../helpers/ingredients.ts";

const soft = meltOf(ingredients.SOFT_BLEND)!;
const oil = meltOf(ingredients.aBlend([ingredients.JOJOBA_OIL, 100]))!;
const solids = (celsius: number) => solidFatPercent(soft, "settled", celsius);

describe("the temperature to which settled solids hold", () => {
  it.each([4, 10.4, 20, 30])(
    "has %d %% solids at it and fewer a hundredth of a degree above",
    (level) => {
      const holds = settledHoldsTo(soft, level)!;
      expect(solids(holds)).toBeGreaterThanOrEqual(level);
      expect(solids(holds + 0.0101)).toBeLessThan(level);
    },
  );

  it("is found within a hundredth of a degree, whatever the level", () => {
    for (let level = 0.5; level < 90; level += 0.37) {
      const holds = settledHoldsTo(soft, level);
      if (holds === undefined) continue;
      expect(solids(holds)).toBeGreaterThanOrEqual(level);
      expect(solids(holds + 0.0101)).toBeLessThan(level);
    }
  });

  it("is nothing when even the coldest judged temperature has too few", () => {
    expect(settledHoldsTo(oil, 1)).toBeUndefined();
    expect(settledHoldsTo(soft, solids(COLDEST_C) + 0.001)).toBeUndefined();
    expect(settledHoldsTo(soft, solids(COLDEST_C))).toBeGreaterThanOrEqual(COLDEST_C);
  });

  it("is the warmest judged temperature for what does not melt at all", () => {
    const composition = { kind: "triacylglycerols", percent: { SSS: 100 } } as const;
    const hard = { ...ingredients.SHEA_BUTTER, id: "tristearin", composition };
    expect(settledHoldsTo(meltOf(ingredients.aBlend([hard, 100]))!, 50)).toBe(WARMEST_C);
  });
});

describe("the slip melting point", () => {
  it("is where 4 % solids are left", () => {
    expect(solids(slipMeltingC(soft)!)).toBeCloseTo(4, 1);
  });

  it("is 32 °C for cocoa butter (handbooks: slip and clear melt at 31 to 35)", () => {
    const cocoa = meltOf(ingredients.aBlend([ingredients.COCOA_BUTTER, 100]))!;
    expect(slipMeltingC(cocoa)).toBeGreaterThan(31);
    expect(slipMeltingC(cocoa)).toBeLessThan(34);
  });

  it("is nothing for a liquid that never sets", () => {
    expect(slipMeltingC(oil)).toBeUndefined();
  });
});
