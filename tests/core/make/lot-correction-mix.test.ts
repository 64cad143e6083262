/**
 * Lots of one ingredient in one weighing: the mixture judged like the lots side by side.
 */
import { type Blend, WHOLE } from "#core/blend.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { withCertificate } from "#core/judge/certificate.ts";
import { mixLots } from "#core/make/lot-correction-mix.ts";
import { describe, expect, it } from "vitest";
import { inLibrary, solidsOf } from "../../helpers/library-blend.ts";

const shea = inLibrary("shea-butter");
const cocoa = inLibrary("cocoa-butter");
const softShea = withCertificate(shea, {
  fattyAcids: { "16:0": 5, "18:0": 30, "18:1": 56, "18:2": 8, "20:0": 1 },
}).ingredient;
const CELSIUS = [5, 15, 21, 25, 30, 35];

const alone = (ingredient: Ingredient): Blend => ({ parts: [{ ingredient, share: WHOLE }] });
const solids = (blend: Blend) => CELSIUS.map((celsius) => solidsOf(blend, celsius));

describe("lots mixed", () => {
  it("of one kind are that kind", () => {
    const portions = [100, 250].map((takeMg) => ({ ingredient: shea, takeMg }));
    expect(mixLots(portions)).toBe(shea);
    expect(mixLots([...portions, { ingredient: softShea, takeMg: 0 }])).toBe(shea);
    expect(mixLots([])).toBeUndefined();
  });

  it.each([
    [shea, softShea],
    [
      cocoa,
      withCertificate(cocoa, { triacylglycerols: { POP: 20, POS: 40, SOS: 30, SOO: 10 } })
        .ingredient,
    ],
  ])("melt like the same lots side by side", (one, other) => {
    const mixed = mixLots([
      { ingredient: one, takeMg: 3000 },
      { ingredient: other, takeMg: 1000 },
    ]);
    const beside: Blend = {
      parts: [
        { ingredient: one, share: 7500 },
        { ingredient: other, share: 2500 },
      ],
    };
    for (const [at, percent] of solids(alone(mixed!)).entries()) {
      expect(percent).toBeCloseTo(solids(beside)[at]!, 6);
    }
    expect(mixed!.id).toBe(one.id);
  });

  it("with a measured curve are not reckoned", () => {
    const solidFatCurve = [
      { celsius: 10, percent: 90 },
      { celsius: 30, percent: 30 },
    ];
    const measured = withCertificate(cocoa, { solidFatCurve }).ingredient;
    const portions = [cocoa, measured].map((ingredient) => ({ ingredient, takeMg: 1000 }));
    expect(mixLots(portions)).toBeUndefined();
    expect(mixLots(portions.slice(1))).toBe(measured);
  });

  it("of what is no fat are not reckoned", () => {
    const squalane = inLibrary("squalane");
    const other = withCertificate(squalane, {}).ingredient;
    const portions = [squalane, other].map((ingredient) => ({ ingredient, takeMg: 1000 }));
    expect(mixLots(portions)).toBeUndefined();
  });
});
