import { describe, expect, it } from "vitest";
import type { Composition, Ingredient } from "#core/ingredient.ts";
import { characteristicValues, valuesOf } from "#core/judge/characteristic-values.ts";
import {
  COCOA_BUTTER,
  JOJOBA_OIL,
  SHEA_BUTTER,
  SUNFLOWER_OIL,
  TAPIOCA_STARCH,
  aBlend,
} from "../../helpers/ingredients.ts";

function made(composition: Composition): Ingredient {
  return { ...SHEA_BUTTER, id: "made", composition };
}

describe("iodine and saponification value", () => {
  it("are those of triolein for pure oleic, told by acid or by species: 86.0 and 190.1", () => {
    for (const composition of [
      { kind: "fatty-acids", percent: { "18:1": 100 } },
      { kind: "triacylglycerols", percent: { OOO: 100 } },
    ] as const) {
      const { iodineValue, saponificationValue } = valuesOf(made(composition))!;
      expect(iodineValue).toBeCloseTo(85.99, 1);
      expect(saponificationValue).toBeCloseTo(190.1, 1);
    }
  });

  it("are nothing and high for tristearin and trilaurin: 0 and 188.8, 0 and 263.4", () => {
    const tristearin = valuesOf(made({ kind: "fatty-acids", percent: { "18:0": 100 } }))!;
    const trilaurin = valuesOf(made({ kind: "fatty-acids", percent: { "12:0": 100 } }))!;
    expect(tristearin).toMatchObject({ iodineValue: 0 });
    expect(tristearin.saponificationValue).toBeCloseTo(188.8, 1);
    expect(trilaurin.saponificationValue).toBeCloseTo(263.4, 1);
  });

  it("shrink with what does not saponify", () => {
    const percent = { "18:1": 100 };
    const whole = valuesOf(made({ kind: "fatty-acids", percent }))!;
    const six = valuesOf(made({ kind: "fatty-acids", percent, unsaponifiablePercent: 6 }))!;
    expect(six.saponificationValue).toBeCloseTo(0.94 * whole.saponificationValue, 9);
    expect(six.iodineValue).toBeCloseTo(0.94 * whole.iodineValue, 9);
  });

  it("of a blend are the mean by mass, exactly, and leave powder out", () => {
    const cocoa = valuesOf(COCOA_BUTTER)!;
    const sunflower = valuesOf(SUNFLOWER_OIL)!;
    const blend = aBlend([COCOA_BUTTER, 60], [SUNFLOWER_OIL, 20], [TAPIOCA_STARCH, 20]);
    const { iodineValue, saponificationValue } = characteristicValues(blend)!;
    expect(iodineValue).toBeCloseTo(0.75 * cocoa.iodineValue + 0.25 * sunflower.iodineValue, 9);
    expect(saponificationValue).toBeCloseTo(
      0.75 * cocoa.saponificationValue + 0.25 * sunflower.saponificationValue,
      9,
    );
  });

  it("take measured values before reckoned ones", () => {
    const measured = { iodineValue: 81.7, saponificationValue: 92.2 };
    expect(valuesOf({ ...JOJOBA_OIL, measured })).toEqual(measured);
    const halfMeasured = valuesOf({ ...SUNFLOWER_OIL, measured: { iodineValue: 130 } })!;
    expect(halfMeasured.iodineValue).toBe(130);
    expect(halfMeasured.saponificationValue).toBeCloseTo(190, -1);
  });

  it("leave up to 1 % of the fat without a value out, and are not told above that", () => {
    const alone = characteristicValues(aBlend([SHEA_BUTTER, 100]))!;
    expect(characteristicValues(aBlend([SHEA_BUTTER, 99], [JOJOBA_OIL, 1]))).toEqual({
      iodineValue: expect.closeTo(alone.iodineValue, 9),
      saponificationValue: expect.closeTo(alone.saponificationValue, 9),
    });
    expect(characteristicValues(aBlend([SHEA_BUTTER, 98.99], [JOJOBA_OIL, 1.01]))).toBeUndefined();
    // Powder is no fat: 0.9 % of the jar is more than 1 % of the fat in it.
    const powdery = aBlend([SHEA_BUTTER, 79.1], [JOJOBA_OIL, 0.9], [TAPIOCA_STARCH, 20]);
    expect(characteristicValues(powdery)).toBeUndefined();
  });

  it("hold the bound they state for what is left out: 6 and 3 for the most extreme oil of a jar", () => {
    const myrcene = { iodineValue: (3 * 253.809 * 100) / 136.23, saponificationValue: 0 };
    const formate = { iodineValue: 0, saponificationValue: (56.105 * 1000) / 182.26 };
    for (const fat of [COCOA_BUTTER, SHEA_BUTTER, SUNFLOWER_OIL]) {
      const told = characteristicValues(aBlend([fat, 99], [JOJOBA_OIL, 1]))!;
      for (const measured of [myrcene, formate]) {
        const whole = characteristicValues(aBlend([fat, 99], [{ ...JOJOBA_OIL, measured }, 1]))!;
        expect(Math.abs(whole.iodineValue - told.iodineValue)).toBeLessThan(6);
        expect(Math.abs(whole.saponificationValue - told.saponificationValue)).toBeLessThan(3);
      }
    }
  });

  it("are not told when an ingredient has neither, nor when there is no fat", () => {
    expect(valuesOf(JOJOBA_OIL)).toBeUndefined();
    expect(characteristicValues(aBlend([SHEA_BUTTER, 90], [JOJOBA_OIL, 10]))).toBeUndefined();
    expect(characteristicValues(aBlend([TAPIOCA_STARCH, 100]))).toBeUndefined();
  });
});
