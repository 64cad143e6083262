/**
 * Fragrance allergens on a leave-on label: every one above 0.001 % is named and none under it, in one blend and over
 * many.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { WHOLE, makeBlend } from "#core/blend.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { LEAVE_ON_PERCENT, fragranceOf } from "#core/judge/fragrance.ts";
import { ingredientById } from "#data/library.ts";
import { ESSENTIAL_OILS } from "#data/library/essential-oils.ts";
import { SHEA_BUTTER, aBlend } from "../../helpers/ingredients.ts";

const LAVENDER = ingredientById("lavender-essential-oil")!;

const namesOf = (percent: number, oil: Ingredient = LAVENDER) =>
  fragranceOf(aBlend([SHEA_BUTTER, 100 - percent], [oil, percent])).named.map(({ name }) => name);

describe("lavender oil at 0.5 %", () => {
  it("brings up to 0.225 % linalool: 0.5 % of 45 %", () => {
    const { named } = fragranceOf(aBlend([SHEA_BUTTER, 99.5], [LAVENDER, 0.5]));
    expect(named.find(({ name }) => name === "Linalool")).toEqual({
      ...{ name: "Linalool", lowPercent: 0.1, highPercent: 0.225 },
    });
  });

  it("is named itself, before what it holds, the most first", () => {
    expect(namesOf(0.5).slice(0, 4)).toEqual([
      ...["Lavandula Oil/Extract", "Linalyl Acetate", "Linalool", "Beta-Caryophyllene"],
    ]);
  });

  it("leaves out coumarin, 0.0005 %, and names it from above 0.001 %", () => {
    expect(namesOf(0.5)).not.toContain("Coumarin");
    expect(namesOf(1)).not.toContain("Coumarin"); // exactly 0.001 %, which is not above
    expect(namesOf(1.01)).toContain("Coumarin");
  });
});

describe("what is not a listed allergen", () => {
  it("is not named, however much there is", () => {
    expect(namesOf(20, ingredientById("tea-tree-essential-oil")!)).not.toContain("Methyl Eugenol");
    expect(fragranceOf(aBlend([SHEA_BUTTER, 100]))).toEqual({ named: [], untold: [] });
  });

  it("is told to be unknown where a composition is missing", () => {
    const unknown = { ...LAVENDER, id: "unknown", aromatic: {} };
    expect(fragranceOf(aBlend([SHEA_BUTTER, 99], [unknown, 1]))).toEqual({
      ...{ named: [], untold: ["unknown"] },
    });
  });
});

describe("any blend of essential oils", () => {
  it("names what the records add up to above the threshold and nothing else", () => {
    const shares = fc.array(fc.nat(150), { minLength: 10, maxLength: 10 });
    fc.assert(
      fc.property(shares, (own) => {
        const parts = own.map((share, at) => ({
          ingredient: ingredientById(ESSENTIAL_OILS[at]!.id)!,
          share,
        }));
        const rest = own.reduce((left, share) => left - share, WHOLE);
        const made = makeBlend([{ ingredient: SHEA_BUTTER, share: rest }, ...parts]);
        if ("findings" in made) throw new Error("no blend");
        // By the records and in percent, a way of reckoning of its own.
        const sums = new Map<string, number>();
        for (const [at, { essentialOil }] of ESSENTIAL_OILS.entries()) {
          for (const { name, high } of essentialOil!.constituents) {
            sums.set(name, (sums.get(name) ?? 0) + (own[at]! / 100) * (high / 100));
          }
        }
        const named = new Set(fragranceOf(made.blend).named.map(({ name }) => name));
        for (const [name, percent] of sums) {
          if (name === "Methyl Eugenol" || Math.abs(percent - LEAVE_ON_PERCENT) < 1e-9) continue;
          expect([name, named.has(name)]).toEqual([name, percent > LEAVE_ON_PERCENT]);
        }
      }),
      { numRuns: 200 },
    );
  });
});
