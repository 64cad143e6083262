import { describe, expect, it } from "vitest";
import type { Ingredient } from "#core/ingredient.ts";
import { meltOf } from "#core/judge/melt.ts";
import { oilPhase } from "#core/judge/oil-phase.ts";
import {
  COCOA_BUTTER,
  JOJOBA_OIL,
  SUNFLOWER_OIL,
  TAPIOCA_STARCH,
  TOCOPHEROL,
  aBlend,
} from "../../helpers/ingredients.ts";

function phase(...parts: readonly (readonly [Ingredient, number])[]) {
  const blend = aBlend(...parts);
  return oilPhase(blend, meltOf(blend)!);
}

function measured(id: string, viscosityMm2PerS: number): Ingredient {
  return { ...JOJOBA_OIL, id, measured: { viscosityMm2PerS } };
}

describe("the thickness of the oil phase at 32 °C", () => {
  it("comes from composition for an ordinary oil: sunflower within 10 % of the 33 mm2/s at 37.8 °C of Rescorla & Carnahan 1936", () => {
    const { viscosityMm2PerS } = phase([SUNFLOWER_OIL, 100])!;
    expect(Math.abs(viscosityMm2PerS / (33 * 1.24) - 1)).toBeLessThan(0.1); // 1.24 from 38 to 32 °C
  });

  it("takes a measured value where the fit does not hold", () => {
    expect(phase([measured("jojoba", 30), 100])!.viscosityMm2PerS).toBeCloseTo(30, 9);
  });

  it("mixes by cube roots over moles", () => {
    const { viscosityMm2PerS } = phase([measured("thin", 8), 50], [measured("thick", 64), 50])!;
    expect(viscosityMm2PerS).toBeCloseTo(27, 9);
  });

  it.each([
    [34.99, "thin"],
    [35.01, "ordinary"],
    [49.99, "ordinary"],
    [50.01, "thick"],
  ])("calls %d mm2/s %s", (viscosity, step) => {
    expect(phase([measured("liquid", viscosity), 100])!.step).toBe(step);
  });

  it("is not told when a liquid of unknown thickness makes up more than 1 % of the fat", () => {
    expect(phase([SUNFLOWER_OIL, 99], [TOCOPHEROL, 1])).toBeDefined();
    expect(phase([SUNFLOWER_OIL, 98.99], [TOCOPHEROL, 1.01])).toBeUndefined();
    expect(phase([SUNFLOWER_OIL, 90], [JOJOBA_OIL, 10])).toBeUndefined();
  });

  it("counts the butter that has melted at skin temperature", () => {
    const melted = phase([COCOA_BUTTER, 20], [SUNFLOWER_OIL, 80])!;
    expect(melted.viscosityMm2PerS).toBeGreaterThan(phase([SUNFLOWER_OIL, 100])!.viscosityMm2PerS);
  });

  it("does not change with powder", () => {
    const dry = phase([SUNFLOWER_OIL, 50], [TAPIOCA_STARCH, 50])!;
    expect(dry.viscosityMm2PerS).toBeCloseTo(phase([SUNFLOWER_OIL, 100])!.viscosityMm2PerS, 9);
  });
});
