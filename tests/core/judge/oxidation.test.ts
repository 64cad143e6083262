import { describe, expect, it } from "vitest";
import type { Composition, Ingredient } from "#core/ingredient.ts";
import { OXIDATION_WORDS } from "#core/judge/oxidation-words.ts";
import { oxidationOf, oxidizability } from "#core/judge/oxidation.ts";
import {
  HIGH_OLEIC_SUNFLOWER_OIL,
  JOJOBA_OIL,
  ROSEHIP_OIL,
  SHEA_BUTTER,
  SUNFLOWER_OIL,
  TAPIOCA_STARCH,
  aBlend,
} from "../../helpers/ingredients.ts";

function lab(composition: Composition): Ingredient {
  return { ...SUNFLOWER_OIL, id: "lab-fat", composition };
}

function acids(percent: Readonly<Record<string, number>>): Ingredient {
  return lab({ kind: "fatty-acids", percent });
}

describe("the oxidizability of an ingredient", () => {
  it.each([
    [{ "18:1": 100 }, 1],
    [{ "18:2": 100 }, 10.3],
    [{ "18:3": 100 }, 21.6],
    [{ "18:3n6": 100 }, 21.6],
    [{ "18:0": 100 }, 0],
    [{ "18:0": 40, "18:1": 45, "18:2": 10, "18:3": 5 }, 0.45 + 1.03 + 1.08],
  ])("of %o is %d", (percent, cox) => {
    expect(oxidizability(acids(percent))).toBeCloseTo(cox, 9);
  });

  it("is the same told by species as by acid", () => {
    const triolein = lab({ kind: "triacylglycerols", percent: { OOO: 100 } });
    const mixed = lab({ kind: "triacylglycerols", percent: { LLL: 50, SSS: 50 } });
    expect(oxidizability(triolein)).toBeCloseTo(1, 9);
    expect(oxidizability(mixed)).toBeCloseTo(5.15, 1);
  });

  it("does not change with the sum a laboratory printed", () => {
    expect(oxidizability(acids({ "18:1": 98 }))).toBeCloseTo(1, 9);
  });

  it("cannot be told for castor, meadowfoam or jojoba", () => {
    expect(oxidizability(acids({ "18:1-OH": 87, "18:1": 13 }))).toBeUndefined();
    expect(oxidizability(acids({ "20:1": 63, "22:1": 16, "22:2": 19, "18:1": 2 }))).toBeUndefined();
    expect(oxidizability(JOJOBA_OIL)).toBeUndefined();
  });

  it("holds up to a tenth of acids it does not name, and not beyond", () => {
    expect(oxidizability(acids({ "18:1": 90, "20:1": 10 }))).toBeCloseTo(0.9, 9);
    expect(oxidizability(acids({ "18:1": 89.9, "20:1": 10.1 }))).toBeUndefined();
  });

  it("is nothing for a liquid without double bonds", () => {
    expect(oxidizability({ ...JOJOBA_OIL, measured: { iodineValue: 0 } })).toBe(0);
  });
});

describe("the oxidation order of a blend", () => {
  it.each([
    [1.99, "steady"],
    [2.01, "ordinary"],
    [4.99, "ordinary"],
    [5.01, "quick"],
  ])("calls %d %s", (cox, order) => {
    const linoleic = (100 * cox) / 10.3;
    expect(oxidationOf(aBlend([acids({ "18:2": linoleic, "18:0": 100 - linoleic }), 100]))).toEqual(
      {
        order,
        oxidizability: expect.closeTo(cox, 9) as number,
        unknown: [],
      },
    );
  });

  it("puts high-oleic below ordinary sunflower, and rosehip above both", () => {
    const cox = (oil: Ingredient) =>
      oxidationOf(aBlend([SHEA_BUTTER, 70], [oil, 30])).oxidizability!;
    expect(cox(HIGH_OLEIC_SUNFLOWER_OIL)).toBeLessThan(cox(SUNFLOWER_OIL));
    expect(cox(SUNFLOWER_OIL)).toBeLessThan(cox(ROSEHIP_OIL));
  });

  it("is the mean by mass of its fats; powder is left out", () => {
    const half = oxidationOf(aBlend([SHEA_BUTTER, 50], [SUNFLOWER_OIL, 50])).oxidizability!;
    expect(half).toBeCloseTo((oxidizability(SHEA_BUTTER)! + oxidizability(SUNFLOWER_OIL)!) / 2, 9);
    const powdered = aBlend([SHEA_BUTTER, 45], [SUNFLOWER_OIL, 45], [TAPIOCA_STARCH, 10]);
    expect(oxidationOf(powdered).oxidizability).toBeCloseTo(half, 9);
  });

  it("cannot judge more than 1 % of a fat it does not know, and names it", () => {
    expect(oxidationOf(aBlend([SHEA_BUTTER, 99], [JOJOBA_OIL, 1])).order).toBe("steady");
    expect(oxidationOf(aBlend([SHEA_BUTTER, 98.9], [JOJOBA_OIL, 1.1]))).toEqual({
      order: "cannot-judge",
      unknown: ["jojoba-oil"],
    });
  });

  it("is quick all the same when what is known alone makes it so, without a figure", () => {
    expect(oxidationOf(aBlend([ROSEHIP_OIL, 80], [JOJOBA_OIL, 20]))).toEqual({
      order: "quick",
      unknown: ["jojoba-oil"],
    });
  });

  it("cannot judge powder alone", () => {
    expect(oxidationOf(aBlend([TAPIOCA_STARCH, 100])).order).toBe("cannot-judge");
  });
});

describe("the words beside the order", () => {
  it("advise, and never name a time", () => {
    for (const words of Object.values(OXIDATION_WORDS)) {
      expect(words).not.toMatch(/\d|month|week|year|safe/);
      expect(words).toContain("earliest raw material");
    }
    expect(OXIDATION_WORDS.quick).toMatch(/tocopherol/);
  });
});
