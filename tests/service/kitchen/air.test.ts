import { describe, expect, it } from "vitest";
import { airByWeight } from "#service/kitchen/air.ts";
import { settledSolids } from "#service/kitchen/evidence.ts";
import { libraryBlend } from "../../helpers/library-blend.ts";

const SHEA = libraryBlend({ "shea-butter": 100 });

function air(netG: number, jarMl = 100, blend = SHEA) {
  return airByWeight(blend, 20, settledSolids(blend, 20)!.percent, netG, jarMl);
}

describe("air by the weight of a jar", () => {
  it("is none where shea weighs what its standard says, 0.91 to 0.98 g/ml at 20 °C (CXS 325R-2017)", () => {
    for (const grams of [92, 94, 96]) {
      expect((air(grams) as { airFraction: number }).airFraction).toBeLessThan(0.04);
    }
  });

  it("is a half when half the weight fits in", () => {
    const solid = (air(60) as { airFraction: number }).airFraction;
    const half = (air(30) as { airFraction: number }).airFraction;
    expect(1 - half).toBeCloseTo((1 - solid) / 2, 10);
    expect((air(60, 120) as { airFraction: number }).airFraction).toBeCloseTo(
      1 - (1 - solid) / 1.2,
      10,
    );
  });

  it("is more in a jar of the same weight with starch, which is heavier than fat", () => {
    const starched = libraryBlend({ "shea-butter": 90, "tapioca-starch": 10 });
    const plain = (air(60) as { airFraction: number }).airFraction;
    expect((air(60, 100, starched) as { airFraction: number }).airFraction).toBeGreaterThan(plain);
  });

  it("is reckoned for blends without a density rule as well", () => {
    const jojoba = libraryBlend({ "jojoba-oil": 100 });
    expect((air(91, 100, jojoba) as { airFraction: number }).airFraction).toBeCloseTo(0, 1);
  });

  it("is taken for none when the jar is a little too heavy, and refused when it is far too heavy", () => {
    const most = 60 / (1 - (air(60) as { airFraction: number }).airFraction);
    expect(air(most * 1.04)).toEqual({ airFraction: 0 });
    expect(air(most * 1.06)).toHaveProperty("impossible");
    expect((air(120) as { impossible: string }).impossible).toMatch(/120 g cannot fit into 100 ml/);
  });

  it("is refused above four fifths", () => {
    const most = 60 / (1 - (air(60) as { airFraction: number }).airFraction);
    expect(air(most * 0.21)).toHaveProperty("airFraction");
    expect(air(most * 0.19)).toHaveProperty("impossible");
  });
});
