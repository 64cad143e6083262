import { describe, expect, it } from "vitest";
import type { Ingredient } from "#core/ingredient.ts";
import { meltOf } from "#core/judge/melt.ts";
import { oilPhase } from "#core/judge/oil-phase.ts";
import { slipMeltingC } from "#core/judge/softening.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
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

function thickness(...parts: readonly (readonly [Ingredient, number])[]) {
  return phase(...parts).viscosityMm2PerS;
}

function lab(percent: Readonly<Record<string, number>>): Ingredient {
  return { ...SUNFLOWER_OIL, id: "lab-fat", composition: { kind: "fatty-acids", percent } };
}

function measured(id: string, viscosityMm2PerS: number): Ingredient {
  return { ...JOJOBA_OIL, id, measured: { viscosityMm2PerS } };
}

describe("the thickness of the oil phase at 32 °C", () => {
  it("comes from composition for an ordinary oil: sunflower within 10 % of the 33 mm2/s at 37.8 °C of Rescorla & Carnahan 1936", () => {
    const viscosity = thickness([SUNFLOWER_OIL, 100])!;
    expect(Math.abs(viscosity / (33 * 1.24) - 1)).toBeLessThan(0.1); // 1.24 from 38 to 32 °C
  });

  it("takes a measured value where the fit does not hold", () => {
    expect(thickness([measured("jojoba", 30), 100])).toBeCloseTo(30, 9);
  });

  it("mixes by cube roots over moles", () => {
    expect(thickness([measured("thin", 8), 50], [measured("thick", 64), 50])).toBeCloseTo(27, 9);
  });

  it.each([
    [34.99, "thin"],
    [35.01, "ordinary"],
    [49.99, "ordinary"],
    [50.01, "thick"],
  ])("calls %d mm2/s %s", (viscosity, step) => {
    expect(phase([measured("liquid", viscosity), 100]).step).toBe(step);
  });

  it("is not told when a liquid of unknown thickness makes up more than 1 % of the fat", () => {
    expect(thickness([SUNFLOWER_OIL, 99], [TOCOPHEROL, 1])).toBeDefined();
    expect(thickness([SUNFLOWER_OIL, 98.99], [TOCOPHEROL, 1.01])).toBeUndefined();
    const other = { ...TOCOPHEROL, id: "other" };
    expect(thickness([SUNFLOWER_OIL, 98.9], [TOCOPHEROL, 0.6], [other, 0.5])).toBeUndefined();
    const { step, ...told } = phase([SUNFLOWER_OIL, 90], [JOJOBA_OIL, 10]);
    expect([step, told]).toEqual([undefined, { leftOnSkinPercent: 0, onSkin: "melts on contact" }]);
  });

  it("counts the butter that has melted at skin temperature", () => {
    const melted = thickness([COCOA_BUTTER, 20], [SUNFLOWER_OIL, 80])!;
    expect(melted).toBeGreaterThan(thickness([SUNFLOWER_OIL, 100])!);
  });

  it("does not change with powder", () => {
    const dry = thickness([SUNFLOWER_OIL, 50], [TAPIOCA_STARCH, 50]);
    expect(dry).toBeCloseTo(thickness([SUNFLOWER_OIL, 100])!, 9);
  });

  it("is not told outside the molar masses the fit was made on: no guess for medium chains or very long ones", () => {
    expect(thickness([lab({ "8:0": 60, "10:0": 40 }), 100])).toBeUndefined(); // M 502
    expect(thickness([lab({ "12:0": 70, "18:1": 30 }), 100])).toBeDefined(); // M 711
    expect(thickness([lab({ "22:1": 100 }), 100])).toBeUndefined(); // M 1053
    expect(thickness([lab({ "18:1": 60, "22:1": 40 }), 100])).toBeDefined(); // M 947
  });

  it("is not told by the fit for ricinoleic acid, however it is written", () => {
    const castor = lab({ "18:1-OH": 90, "18:1": 10 });
    const bySpecies: Ingredient = {
      ...castor,
      composition: { kind: "triacylglycerols", percent: { RRR: 100 } },
    };
    expect(thickness([castor, 100])).toBeUndefined();
    expect(thickness([bySpecies, 100])).toBeUndefined();
    expect(thickness([SUNFLOWER_OIL, 99], [castor, 1])).toBeDefined();
  });
});

describe("what stays on skin at 32 °C", () => {
  it("is the settled solid fat left there", () => {
    const blend = aBlend([COCOA_BUTTER, 60], [SUNFLOWER_OIL, 40]);
    const melt = meltOf(blend)!;
    expect(oilPhase(blend, melt).leftOnSkinPercent).toBe(solidFatPercent(melt, "settled", 32));
  });

  it("melts on contact below 4 % of solids and leaves a film from there on", () => {
    const seen = new Set<string>();
    for (let cocoa = 30; cocoa <= 100; cocoa += 2) {
      const { leftOnSkinPercent, onSkin } = phase(
        [COCOA_BUTTER, cocoa],
        [SUNFLOWER_OIL, 100 - cocoa],
      );
      expect(onSkin).toBe(leftOnSkinPercent < 4 ? "melts on contact" : "leaves a film");
      seen.add(onSkin);
    }
    expect(seen.size).toBe(2);
  });

  it("is told of a fat that holds a slip melting point above 32 °C as a film", () => {
    const blend = aBlend([COCOA_BUTTER, 100]);
    expect(slipMeltingC(meltOf(blend)!)).toBeGreaterThan(32);
    expect(phase([COCOA_BUTTER, 100]).onSkin).toBe("leaves a film");
  });
});
