import { describe, expect, it } from "vitest";
import { fatProfile } from "#core/judge/profile.ts";
import * as ingredients from "../../helpers/ingredients.ts";

function grams(profile: ReturnType<typeof fatProfile>): number {
  return (
    profile.species.reduce((sum, { gPerG }) => sum + gPerG, 0) +
    profile.liquid.gPerG +
    profile.inert.gPerG
  );
}

describe("an ingredient made ready for the model", () => {
  it.each([
    ingredients.COCOA_BUTTER,
    ingredients.SHEA_BUTTER,
    ingredients.COCONUT_OIL,
    ingredients.SUNFLOWER_OIL,
    ingredients.JOJOBA_OIL,
  ])("holds one gram in a gram of $id", (ingredient) => {
    expect(grams(fatProfile(ingredient))).toBeCloseTo(1, 12);
  });

  it("counts unsaponifiables as liquid that is no fat", () => {
    const { inert } = fatProfile(ingredients.SHEA_BUTTER);
    expect(inert.gPerG).toBeCloseTo(0.05, 12);
    expect(inert.molesPerG).toBeCloseTo(0.05 / 600, 12);
  });

  it("counts jojoba as liquid at every temperature, by its molar mass", () => {
    const { species, liquid, inert } = fatProfile(ingredients.JOJOBA_OIL);
    expect(species).toEqual([]);
    expect(liquid.gPerG).toBe(0);
    expect(inert).toEqual({ gPerG: 1, molesPerG: 1 / 606 });
  });

  it("gathers species that never set into one pool, with their double bonds", () => {
    const lll = { kind: "triacylglycerols", percent: { LLL: 100 } } as const;
    const { species, liquid } = fatProfile({ ...ingredients.SUNFLOWER_OIL, composition: lll });
    expect(species).toEqual([]);
    expect(liquid.gPerG).toBeCloseTo(1, 12);
    expect(liquid.doubleBondsPerG / liquid.molesPerG).toBeCloseTo(6, 12);
  });

  it("brings measured species to the whole, whatever their peaks sum to", () => {
    const composition = { kind: "triacylglycerols", percent: { SOS: 49, POS: 49 } } as const;
    expect(grams(fatProfile({ ...ingredients.COCOA_BUTTER, composition }))).toBeCloseTo(1, 12);
  });

  it("holds nothing of a powder", () => {
    expect(grams(fatProfile(ingredients.TAPIOCA_STARCH))).toBe(0);
  });

  it("guesses nothing of a wax nobody measured", () => {
    expect(() => fatProfile(ingredients.BEESWAX)).toThrow("beeswax is not known");
  });

  it("is worked out once for a composition", () => {
    expect(fatProfile({ ...ingredients.SHEA_BUTTER, id: "twin" })).toBe(
      fatProfile(ingredients.SHEA_BUTTER),
    );
  });
});
