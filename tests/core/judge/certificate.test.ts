import { describe, expect, it } from "vitest";
import type { Ingredient } from "#core/ingredient.ts";
import { type Certificate, withCertificate } from "#core/judge/certificate.ts";
import { meltOf } from "#core/judge/melt.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import {
  BEESWAX,
  COCOA_BUTTER,
  SHEA_BUTTER,
  SUNFLOWER_OIL,
  aBlend,
} from "../../helpers/ingredients.ts";

const CURVE = [
  { celsius: 10, percent: 60 },
  { celsius: 20, percent: 45, method: "ISO 8292-1, tempered" },
  { celsius: 30, percent: 20 },
  { celsius: 35, percent: 2 },
];

function lot(certificate: Certificate, of: Ingredient = SHEA_BUTTER): Ingredient {
  const made = withCertificate(of, certificate);
  if (made.findings.length > 0) throw new Error(made.findings.map(({ code }) => code).join());
  return made.ingredient;
}

function codes(certificate: Certificate, of: Ingredient = SHEA_BUTTER): string[] {
  return withCertificate(of, certificate).findings.map(({ code }) => code);
}

function solids(celsius: number, ...parts: readonly (readonly [Ingredient, number])[]): number {
  return solidFatPercent(meltOf(aBlend(...parts))!, "settled", celsius);
}

describe("a measured solid fat curve", () => {
  const measured = lot({ solidFatCurve: CURVE });

  it("is what the lot alone comes out as, at every measured temperature", () => {
    for (const { celsius, percent } of CURVE) {
      expect(solids(celsius, [measured, 100])).toBeCloseTo(percent, 9);
    }
  });

  it("moves a blend in proportion to the lot's share of the fat", () => {
    const shift = CURVE[1]!.percent - solids(20, [SHEA_BUTTER, 100]);
    const before = solids(20, [SHEA_BUTTER, 40], [COCOA_BUTTER, 60]);
    const moved = solids(20, [measured, 40], [COCOA_BUTTER, 60]) - before;
    expect(Math.abs(moved - 0.4 * shift)).toBeLessThan(0.3); // less what keeps it from rising
  });

  it("fades out ten degrees beyond the measured ones", () => {
    expect(solids(0, [measured, 100])).toBeCloseTo(solids(0, [SHEA_BUTTER, 100]), 6);
    expect(solids(46, [measured, 100])).toBeCloseTo(solids(46, [SHEA_BUTTER, 100]), 6);
  });

  it("keeps every blend within 0 to 100 %, never rising, fresh never above settled", () => {
    const wild = lot({
      solidFatCurve: [
        { celsius: 0, percent: 95 },
        { celsius: 20, percent: 95 },
        { celsius: 21, percent: 1 },
      ],
    });
    for (const share of [1, 30, 70, 100]) {
      const blend =
        share === 100 ? aBlend([wild, 100]) : aBlend([wild, share], [SUNFLOWER_OIL, 100 - share]);
      const melt = meltOf(blend)!;
      let before = 100;
      for (let celsius = -10; celsius <= 60; celsius += 0.25) {
        const settled = solidFatPercent(melt, "settled", celsius);
        const fresh = solidFatPercent(melt, "fresh", celsius);
        expect(settled).toBeGreaterThanOrEqual(0);
        expect(settled).toBeLessThanOrEqual(before + 1e-9);
        expect(fresh).toBeLessThanOrEqual(settled + 1e-9);
        before = settled;
      }
    }
  });

  it("is continuous in the share of the lot", () => {
    for (let share = 1; share < 99; share++) {
      const one = solids(20, [measured, share], [SUNFLOWER_OIL, 100 - share]);
      const next = solids(20, [measured, share + 1], [SUNFLOWER_OIL, 99 - share]);
      expect(Math.abs(next - one)).toBeLessThan(2);
    }
  });

  it("narrows the band, because the lot was analysed", () => {
    const width = (ingredient: Ingredient) => {
      const [point] = judgeBlend(aBlend([ingredient, 100]), {
        celsius: [20],
        useCelsius: 21,
      }).solidFat;
      return point!.high - point!.low;
    };
    expect(width(lot({ solidFatCurve: CURVE }))).toBeLessThan(width(SHEA_BUTTER));
  });
});

describe("a certificate of composition", () => {
  it("replaces the acids and keeps the unsaponifiables", () => {
    const hard = lot({ fattyAcids: { "16:0": 4, "18:0": 48, "18:1": 42, "18:2": 6 } });
    expect(hard.composition).toMatchObject({ kind: "fatty-acids", unsaponifiablePercent: 5 });
    expect(solids(20, [hard, 100])).toBeGreaterThan(solids(20, [SHEA_BUTTER, 100]));
  });

  it("takes triacylglycerols before acids", () => {
    const both = lot({ fattyAcids: { "18:1": 100 }, triacylglycerols: { SOS: 60, SOO: 40 } });
    expect(both.composition.kind).toBe("triacylglycerols");
  });

  it("leaves the library's ingredient as it was", () => {
    const before = JSON.stringify(SHEA_BUTTER);
    lot({ solidFatCurve: CURVE, fattyAcids: { "18:0": 50, "18:1": 50 } });
    expect(JSON.stringify(SHEA_BUTTER)).toBe(before);
  });
});

describe("a certificate that cannot be used", () => {
  it.each([
    ["one reading", { solidFatCurve: CURVE.slice(0, 1) }, ["judge.certificate.too-few-readings"]],
    ["no reading", { solidFatCurve: [] }, ["judge.certificate.too-few-readings"]],
    [
      "a curve that rises",
      { solidFatCurve: [...CURVE, { celsius: 40, percent: 3 }] },
      ["judge.certificate.rises"],
    ],
    [
      "a temperature told twice",
      { solidFatCurve: [...CURVE, { celsius: 10, percent: 50 }] },
      ["judge.certificate.rises"],
    ],
    [
      "a percentage above the whole",
      { solidFatCurve: [{ celsius: 0, percent: 101 }, ...CURVE] },
      ["judge.certificate.out-of-range"],
    ],
    [
      "a figure that is none",
      { solidFatCurve: [{ celsius: 0, percent: NaN }, ...CURVE] },
      ["judge.certificate.out-of-range"],
    ],
    [
      "a temperature outside -10 to 60 °C",
      { solidFatCurve: [...CURVE, { celsius: 60.5, percent: 0 }] },
      ["judge.certificate.out-of-range"],
    ],
    ["acids that make no whole", { fattyAcids: { "18:0": 97.9 } }, ["judge.composition.not-whole"]],
    ["acids beyond the whole", { fattyAcids: { "18:0": 102.1 } }, ["judge.composition.not-whole"]],
    ["an unknown acid", { fattyAcids: { "99:9": 100 } }, ["judge.composition.component-unknown"]],
  ] as const)(
    "is told with a code, and leaves a lot nobody can judge: %s",
    (_, certificate, expected) => {
      expect(codes(certificate)).toEqual(expected);
      const { ingredient } = withCertificate(SHEA_BUTTER, certificate);
      const judgement = judgeBlend(aBlend([ingredient, 60], [SUNFLOWER_OIL, 40]), {
        celsius: [20],
        useCelsius: 21,
      });
      expect(judgement).toMatchObject({ verdict: "cannot-judge", solidFat: [] });
      expect(judgement.firmness).toBeUndefined();
    },
  );

  it("takes the very ends: -10 and 60 °C, 0 and 100 %, 98 and 102 %", () => {
    const ends = [
      { celsius: -10, percent: 100 },
      { celsius: 60, percent: 0 },
    ];
    expect(codes({ solidFatCurve: ends })).toEqual([]);
    for (const sum of [98, 102]) expect(codes({ fattyAcids: { "18:0": sum } })).toEqual([]);
  });

  it("cannot help an ingredient without a composition: a curve says nothing of blends", () => {
    expect(codes({ solidFatCurve: CURVE }, BEESWAX)).toEqual(["judge.solid-fat.figure-missing"]);
  });
});
