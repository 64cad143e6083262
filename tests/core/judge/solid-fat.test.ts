import { describe, expect, it } from "vitest";
import type { Ingredient } from "#core/ingredient.ts";
import { meltOf } from "#core/judge/melt.ts";
import { liquidMoles } from "#core/judge/equilibrium.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import { COCOA_BUTTER, COCONUT_OIL, JOJOBA_OIL, aBlend } from "../../helpers/ingredients.ts";

function pure(name: string): Ingredient {
  const composition = { kind: "triacylglycerols", percent: { [name]: 100 } } as const;
  return { ...COCOA_BUTTER, id: name, composition };
}

function solids(celsius: number, ...parts: readonly (readonly [Ingredient, number])[]): number {
  return solidFatPercent(meltOf(aBlend(...parts))!, "settled", celsius);
}

describe("solid fat of a pure species", () => {
  it("is all solid just below its melting point and all liquid at and above it", () => {
    const sos = pure("SOS"); // 41 °C, beta-2
    expect(solids(40.99, [sos, 100])).toBe(100);
    expect(solids(41, [sos, 100])).toBe(0);
    expect(solids(41.01, [sos, 100])).toBe(0);
  });

  it("jumps for a lauric species too", () => {
    const trilaurin = pure("LaLaLa");
    const melting = meltOf(aBlend([trilaurin, 100]))!.settled.meltingK[0]! - 273.15;
    expect(solids(melting - 0.01, [trilaurin, 100])).toBe(100);
    expect(solids(melting + 0.01, [trilaurin, 100])).toBe(0);
  });
});

describe("solid fat of a species in oil", () => {
  it("follows the ideal solubility: ln x = -(dH/R)(1/T - 1/Tm)", () => {
    const sos = pure("SOS");
    const kelvin = 293.15;
    const soluble = Math.exp((-143_000 / 8.314462618) * (1 / kelvin - 1 / 314.15));
    const melt = meltOf(aBlend([sos, 50], [JOJOBA_OIL, 50]))!;
    const [dissolved] = liquidMoles(melt, "settled", 20);
    expect(dissolved! / (dissolved! + melt.liquidMoles)).toBeCloseTo(soluble, 9);
  });

  it("is nothing when all of it dissolves, and something as soon as more is added", () => {
    const sos = pure("SOS");
    // At 35 °C jojoba dissolves this much SOS, by the same law.
    const x = Math.exp((-143_000 / 8.314462618) * (1 / 308.15 - 1 / 314.15));
    const massRatio = ((x / (1 - x)) * 889.5) / 606;
    const most = 100 * (massRatio / (1 + massRatio));
    const less = Math.floor(most) - 1;
    const more = Math.ceil(most) + 1;
    expect(solids(35, [sos, less], [JOJOBA_OIL, 100 - less])).toBeLessThan(1e-9);
    expect(solids(35, [sos, more], [JOJOBA_OIL, 100 - more])).toBeGreaterThan(0.1);
  });

  it("does not let two species share a crystal: each melts into the other's liquid (eutectic)", () => {
    const half = solids(34, [pure("SOS"), 50], [pure("POP"), 50]);
    expect(half).toBeGreaterThan(0);
    expect(half).toBeLessThan(
      (solids(34, [pure("SOS"), 100]) + solids(34, [pure("POP"), 100])) / 2,
    );
  });
});

describe("the lauric solid solution", () => {
  it("keeps to its two equations: mole fractions of the crystal sum to one", () => {
    const melt = meltOf(aBlend([COCONUT_OIL, 70], [COCOA_BUTTER, 30]))!;
    const liquid = liquidMoles(melt, "settled", 15);
    const total = liquid.reduce((sum, moles) => sum + moles, melt.liquidMoles);
    const { heat, meltingK } = melt.settled;
    let crystal = 0;
    for (let i = melt.lauricFrom; i < melt.species.length; i++) {
      const k = Math.exp(heat[i]! * (1 / 288.15 - 1 / meltingK[i]!));
      crystal += (k * liquid[i]!) / total;
    }
    expect(crystal).toBeCloseTo(1, 8);
  });

  it("never leaves more liquid of a species than there is", () => {
    const melt = meltOf(aBlend([COCONUT_OIL, 70], [COCOA_BUTTER, 30]))!;
    for (const celsius of [-10, 0, 10, 20, 25, 30, 60]) {
      liquidMoles(melt, "fresh", celsius).forEach((moles, i) => {
        expect(moles).toBeGreaterThanOrEqual(0);
        expect(moles).toBeLessThanOrEqual(melt.moles[i]! * (1 + 1e-12));
      });
    }
  });
});
