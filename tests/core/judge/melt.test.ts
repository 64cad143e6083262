import { describe, expect, it } from "vitest";
import { meltOf } from "#core/judge/melt.ts";
import {
  COCOA_BUTTER,
  COCONUT_OIL,
  SHEA_BUTTER,
  SUNFLOWER_OIL,
  TAPIOCA_STARCH,
  aBlend,
} from "../../helpers/ingredients.ts";

function grams(melt: NonNullable<ReturnType<typeof meltOf>>): number {
  return melt.moles.reduce((sum, moles, i) => sum + moles * melt.molarMass[i]!, melt.liquidG);
}

describe("a blend as the solver sees it", () => {
  it("holds one gram of fat in a gram of fat", () => {
    const blend = aBlend([SHEA_BUTTER, 50], [COCOA_BUTTER, 20], [COCONUT_OIL, 30]);
    expect(grams(meltOf(blend)!)).toBeCloseTo(1, 12);
  });

  it("leaves powder out of the fat, and says how much fat is left", () => {
    const melt = meltOf(aBlend([SHEA_BUTTER, 60], [TAPIOCA_STARCH, 40]))!;
    const alone = meltOf(aBlend([SHEA_BUTTER, 100]))!;
    expect(melt.fatFraction).toBeCloseTo(0.6, 12);
    expect(grams(melt)).toBeCloseTo(1, 12);
    melt.moles.forEach((moles, i) => expect(moles).toBeCloseTo(alone.moles[i]!, 12));
  });

  it("is nothing when there is only powder", () => {
    expect(meltOf(aBlend([TAPIOCA_STARCH, 100]))).toBeUndefined();
  });

  it("adds up a species that two ingredients share", () => {
    const blend = aBlend([SHEA_BUTTER, 50], [COCOA_BUTTER, 50]);
    const names = meltOf(blend)!.species.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(names).toContain("SOS");
  });

  it("puts the lauric species last", () => {
    const { species, lauricFrom } = meltOf(aBlend([COCONUT_OIL, 50], [COCOA_BUTTER, 50]))!;
    species.forEach(({ lauric }, i) => expect(lauric).toBe(i >= lauricFrom));
    expect(lauricFrom).toBeGreaterThan(0);
    expect(lauricFrom).toBeLessThan(species.length);
  });

  it("lets a species without fresh crystals melt at once in the fresh jar", () => {
    const { species, fresh } = meltOf(aBlend([SUNFLOWER_OIL, 100]))!;
    const at = species.findIndex((each) => each.settled && !each.fresh);
    expect(at).toBeGreaterThanOrEqual(0);
    expect(fresh.meltingK[at]).toBe(1);
  });
});
