import { describe, expect, it } from "vitest";
import type { Composition, Ingredient } from "#core/ingredient.ts";
import { compositionFindings } from "#core/judge/composition.ts";
import { BEESWAX, COCOA_BUTTER, SHEA_BUTTER, TAPIOCA_STARCH } from "../../helpers/ingredients.ts";

function withComposition(composition: Composition): Ingredient {
  return { ...SHEA_BUTTER, id: "lab-fat", composition };
}

function findings(composition: Composition) {
  return compositionFindings(withComposition(composition));
}

const acids = (percent: Readonly<Record<string, number>>) =>
  ({ kind: "fatty-acids", percent }) as const;

describe("whether a composition can be judged", () => {
  it("passes measured species, fatty acids and powders", () => {
    for (const each of [COCOA_BUTTER, SHEA_BUTTER, TAPIOCA_STARCH]) {
      expect(compositionFindings(each)).toEqual([]);
    }
  });

  it("says that a wax nobody measured cannot be judged", () => {
    expect(compositionFindings(BEESWAX)).toMatchObject([
      { code: "judge.solid-fat.figure-missing", subject: "beeswax" },
    ]);
  });

  it.each([98, 100, 102])("passes acids that sum to %d %%", (sum) => {
    expect(findings(acids({ "18:0": 40, "18:1": sum - 40 }))).toEqual([]);
  });

  it.each([97.99, 102.01, 0])("refuses acids that sum to %d %%, and names the sum", (sum) => {
    expect(findings(acids({ "18:0": sum }))).toMatchObject([
      { code: "judge.composition.not-whole", subject: "lab-fat", measured: sum, unit: "%" },
    ]);
  });

  it("names an acid or species it does not know", () => {
    expect(findings(acids({ "18:0": 60, "19:7": 40 }))).toMatchObject([
      { code: "judge.composition.component-unknown", measured: "19:7" },
    ]);
    expect(findings({ kind: "triacylglycerols", percent: { SOS: 60, XYZ: 40 } })).toMatchObject([
      { code: "judge.composition.component-unknown", measured: "XYZ" },
    ]);
  });

  it.each([-1, Number.NaN, Number.POSITIVE_INFINITY])("refuses %d as a figure", (figure) => {
    expect(findings(acids({ "18:0": figure, "18:1": 100 }))).toMatchObject([
      { code: "judge.composition.not-a-number", measured: figure },
    ]);
  });

  it("checks the positional analysis as it checks the acids", () => {
    const percent = { "18:0": 50, "18:1": 50 };
    const kind = "fatty-acids" as const;
    expect(findings({ kind, percent, sn2: { "18:1": 100 } })).toEqual([]);
    expect(findings({ kind, percent, sn2: { "18:1": 90 } })).toMatchObject([
      { code: "judge.composition.not-whole", measured: 90 },
    ]);
  });

  it.each([0, 5, 100])("passes %d %% unsaponifiables", (unsaponifiablePercent) => {
    const percent = { SOS: 100 };
    expect(findings({ kind: "triacylglycerols", percent, unsaponifiablePercent })).toEqual([]);
  });

  it.each([-0.1, 100.1, Number.NaN])("refuses %d %% unsaponifiables", (unsaponifiablePercent) => {
    for (const composition of [
      { kind: "triacylglycerols", percent: { SOS: 100 }, unsaponifiablePercent },
      { ...acids({ "18:0": 100 }), unsaponifiablePercent },
    ] as const) {
      expect(findings(composition)).toMatchObject([
        { code: "judge.composition.not-a-number", measured: unsaponifiablePercent },
      ]);
    }
  });

  it.each([0, -1, Number.NaN])("refuses a molar mass of %d", (molarMass) => {
    expect(findings({ kind: "inert-liquid", molarMass })).toMatchObject([
      { code: "judge.composition.not-a-number" },
    ]);
  });

  it("names each of two ingredients that share one bad composition", () => {
    const composition = acids({ "18:0": 50 });
    const subjects = ["refined", "unrefined"].map(
      (id) => compositionFindings({ ...SHEA_BUTTER, id, composition })[0]!.subject,
    );
    expect(subjects).toEqual(["refined", "unrefined"]);
  });
});
