/**
 * Iodine value (AOCS Cd 1c-85) and saponification value (AOCS Cd 3a-94, molar form) against
 * published figures.
 *
 * Three kinds of check, weakest first: the library's oils against the range a standard allows (for
 * an oil taken from the middle of the same standard's fatty acids this is consistency, no proof);
 * worked examples with a stated deviation; the factors AOCS prints. Sources stand beside each row;
 * "recalled" marks a range from memory.
 */
import { describe, expect, it } from "vitest";
import type { Ingredient } from "#core/ingredient.ts";
import { valuesOf } from "#core/judge/characteristic-values.ts";
import { INGREDIENT_IDS, ingredientById, recordOf } from "#data/library.ts";

const CXS_210 = "Codex CXS 210-1999 Table 2, read in a copy";
const CXS_210_RECALLED = "Codex CXS 210-1999 Table 2, recalled";

/** [id, iodine low, high, saponification low, high, source] */
const RANGES: readonly (readonly [string, number, number, number, number, string])[] = [
  ["coconut-oil", 6.3, 10.6, 248, 265, CXS_210],
  ["babassu-oil", 10, 18, 245, 256, `${CXS_210}; acids measured elsewhere, so a real check`],
  ["palm-oil", 50, 55, 190, 209, CXS_210],
  ["high-oleic-sunflower-oil", 78, 90, 182, 194, CXS_210],
  ["high-oleic-safflower-oil", 80, 100, 186, 194, CXS_210],
  ["sesame-oil", 104, 120, 186, 195, CXS_210],
  ["canola-oil", 105, 126, 182, 193, CXS_210],
  ["soybean-oil", 124, 139, 189, 195, CXS_210],
  ["rice-bran-oil", 90, 115, 180, 199, CXS_210],
  ["sunflower-oil", 118, 141, 187, 194, "CXS 210-1999 as quoted on sheets; amendment of 2022"],
  ["palm-kernel-oil", 14.1, 21, 230, 254, CXS_210_RECALLED],
  [
    "grapeseed-oil",
    128,
    150,
    188,
    194,
    `${CXS_210_RECALLED}; an Italian data sheet agrees on iodine`,
  ],
  [
    "safflower-oil",
    136,
    148,
    186,
    198,
    `${CXS_210_RECALLED}; acids of the Merck Index, so a real check`,
  ],
  ["hazelnut-oil", 81, 95, 188, 198, CXS_210_RECALLED],
  ["olive-oil", 75, 94, 184, 196, "Codex CXS 33-1981, recalled"],
  ["shea-butter", 30, 75, 160, 195, "Codex CXS 325R-2017, read in a copy"],
  ["sweet-almond-oil", 95, 105, 190, 200, "USP-NF on a sheet"],
  ["castor-oil", 81, 91, 176, 187, "Merck Index; acids Binder 1962, so a real check"],
  ["kokum-butter", 34, 40, 187, 193, "Wikipedia; acids Sridhar 1991, so a real check"],
  ["argan-oil", 91, 110, 189, 199.1, "Moroccan standard NM 08.5.090, recalled"],
  [
    "jojoba-oil",
    80,
    85,
    90,
    95,
    "Merck Index 81.7 and 92.2, measured: wax esters are not reckoned",
  ],
  ["fractionated-coconut-oil", 0, 1, 310, 360, "European Pharmacopoeia, read in a copy"],
  ["squalane", 0, 4, 0, 2, "recalled; a saturated hydrocarbon"],
];

describe("characteristic values of the library's oils", () => {
  it.each(RANGES)(
    "%s lies within %d to %d and %d to %d (%s)",
    (id, ivLow, ivHigh, svLow, svHigh) => {
      const values = valuesOf(ingredientById(id)!)!;
      expect(values.iodineValue).toBeGreaterThanOrEqual(ivLow);
      expect(values.iodineValue).toBeLessThanOrEqual(ivHigh);
      expect(values.saponificationValue).toBeGreaterThanOrEqual(svLow);
      expect(values.saponificationValue).toBeLessThanOrEqual(svHigh);
    },
  );

  it("lie within every record's own range, save one miss that is known", () => {
    const misses = INGREDIENT_IDS.flatMap((id) => {
      const values = valuesOf(ingredientById(id)!);
      const record = recordOf(id)!;
      if (!values) return [];
      return (["iodineValue", "saponificationValue"] as const)
        .filter((key) => {
          const range = record[key]?.[0];
          return range && (values[key] < range.low || values[key] > range.high);
        })
        .map((key) => `${id} ${key}`);
    });
    // Both the acids and the range of cupuaçu are recalled; 189 stands against 174 to 188.
    expect(misses).toEqual(["cupuacu-butter saponificationValue"]);
  });
});

/** Triglyceride factors printed in AOCS Cd 1c-85. */
const FACTORS = [
  ["16:1", 0.95],
  ["18:1", 0.86],
  ["18:2", 1.732],
  ["18:3", 2.616],
  ["20:1", 0.785],
  ["22:1", 0.723],
] as const;

describe("AOCS Cd 1c-85", () => {
  it.each(FACTORS)("prints for %s the factor %d, and so do we", (acid, factor) => {
    expect(valuesOf(fat({ [acid]: 100 }))!.iodineValue / 100).toBeCloseTo(factor, 3);
  });
});

interface Example {
  readonly sample: string;
  /** As printed [percent by mass]; what is missing to 100 is saturated and entered as 16:0 */
  readonly percent: Readonly<Record<string, number>>;
  readonly published: number;
  /** Ours less published */
  readonly deviation: number;
}

/**
 * Published values that were themselves calculated: they test the arithmetic. PMC4384276, Table 2.
 */
const CALCULATED: readonly Example[] = [
  example("corn oil", { "16:1": 0.1, "18:1": 27.7, "18:2": 57.18, "18:3": 0.79 }, 125, 0),
  example("canola oil", { "16:1": 0.22, "18:1": 64.57, "18:2": 17.9, "18:3": 7.09 }, 105, 0.3),
  example("poultry fat", { "16:1": 7.11, "18:1": 38.07, "18:2": 18.5, "18:3": 0.77 }, 73, 0.5),
  example("tallow", { "16:1": 2.55, "18:1": 32.03, "18:2": 2.8, "18:3": 0.22 }, 35, 0.4),
];

/**
 * Published values by titration: Huyghebaert 1974 (argan), Ryan et al. 1984 in a compilation (the
 * rest).
 */
const TITRATED: readonly Example[] = [
  example("argan", { "18:1": 48.1, "18:2": 31.5 }, 97, -1.1),
  example("soya, crude", { "18:1": 23.6, "18:2": 56.7, "18:3": 4.2, "22:1": 0.3 }, 129.57, 0.1),
  example("soya, refined", { "18:1": 23.8, "18:2": 55.2, "18:3": 4.4 }, 130.81, -3.2),
  example(
    "soya, hydrogenated",
    { "18:1": 50.3, "18:2": 32.8, "18:3": 1.3, "22:1": 0.3 },
    102.49,
    1.2,
  ),
  example(
    "sunflower, crude",
    { "18:1": 18.3, "18:2": 68.6, "18:3": 0.2, "22:1": 0.5 },
    131.93,
    3.5,
  ),
  example(
    "sunflower, refined",
    { "18:1": 17.6, "18:2": 69.3, "18:3": 0.2, "22:1": 0.4 },
    134.5,
    1.5,
  ),
  example("cottonseed, crude", { "18:1": 17.7, "18:2": 56.2, "18:3": 0.2 }, 109.18, 3.9),
  example("peanut, refined", { "18:1": 46.1, "18:2": 32.6, "18:3": 0.9, "22:1": 0.6 }, 95.32, 3.6),
  example("peanut, crude", { "18:1": 45.9, "18:2": 33.5, "18:3": 0.9 }, 92.36, 7.4),
];

describe("worked examples of the iodine value", () => {
  it.each([...CALCULATED, ...TITRATED])("$sample: $published, ours off by $deviation", (row) => {
    expect(deviationOf(row)).toBeGreaterThan(row.deviation - 0.4);
    expect(deviationOf(row)).toBeLessThan(row.deviation + 0.4);
  });

  it("run 1.9 high on average against titration, as the documentation of the method says", () => {
    const mean = TITRATED.reduce((sum, row) => sum + deviationOf(row), 0) / TITRATED.length;
    expect(mean).toBeCloseTo(1.9, 0);
  });
});

describe("worked examples of the saponification value", () => {
  it.each([
    ["argan, 192.4 by titration (Huyghebaert 1974)", recordedAcids("argan-oil"), 193.2],
    ["safflower, 188 to 194 (Merck Index)", recordedAcids("safflower-oil"), 192.2],
    ["castor, 176 to 187 (Merck Index)", recordedAcids("castor-oil"), 182],
    ["kokum, 187 to 193", { "16:0": 2, "18:0": 57, "18:1": 39, "18:2": 1.3 }, 189.7],
    ["caprylic and capric 60 to 40, 310 to 360 (Ph. Eur.)", { "8:0": 60, "10:0": 40 }, 336.1],
  ] as const)("%s", (_, percent, expected) => {
    expect(valuesOf(fat(percent))!.saponificationValue).toBeCloseTo(expected, 0);
  });

  it("use the molar mean: the plain mean would put coconut at 247.5, below its range of 248 to 265", () => {
    expect(valuesOf(ingredientById("coconut-oil")!)!.saponificationValue).toBeCloseTo(254.5, 0);
  });
});

function fat(percent: Readonly<Record<string, number>>): Ingredient {
  return {
    id: "lab-fat",
    name: "laboratory fat",
    inci: "Laboratory Fat",
    kind: "oil",
    composition: { kind: "fatty-acids", percent },
    poreRating: { rated: false },
    allergenFamilies: [],
  };
}

function recordedAcids(id: string): Readonly<Record<string, number>> {
  const { chosen } = recordOf(id)!.composition;
  if (chosen.kind !== "fatty-acids") throw new Error(`${id} is not recorded by fatty acids`);
  return chosen.percent;
}

function example(
  sample: string,
  percent: Readonly<Record<string, number>>,
  published: number,
  deviation: number,
): Example {
  return { sample, percent, published, deviation };
}

function deviationOf({ percent, published }: Example): number {
  const named = Object.values(percent).reduce((sum, each) => sum + each, 0);
  const filled = { ...percent, "16:0": 100 - named };
  return valuesOf(fat(filled))!.iodineValue - published;
}
