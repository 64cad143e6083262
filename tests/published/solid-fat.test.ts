/**
 * The solid-fat model against curves and facts from outside. The ceilings are what we measured plus a small margin,
 * so a change that makes the model worse fails; they are no claim of how good it should be. Measured: see
 * `core/README.md`.
 */
import { afterAll, describe, expect, it } from "vitest";
import { libraryBlend, solidsOf } from "../helpers/library-blend.ts";
import { COCOA_ORIGINS, REFERENCE_CURVES, type ReferenceCurve } from "./solid-fat-curves.ts";

/** Mean absolute error we measured [points], rounded up to the next tenth, by curve. */
const MEASURED_ERROR: Readonly<Record<string, number>> = {
  "murumuru butter": 2.2,
  "cocoa butter, Ghana": 4,
  "palm oil": 2.4,
  "palm kernel oil": 7,
  "coconut oil": 2.7,
  "shea butter": 7,
  "mango butter": 12.4,
  "kokum butter": 11.1,
};
const MARGIN = 0.5;

function errorsOf({ ingredient, points }: ReferenceCurve): number[] {
  const blend = libraryBlend({ [ingredient]: 100 });
  return points.map(([celsius, solidFat]) => solidsOf(blend, celsius) - solidFat);
}

function mean(numbers: readonly number[]): number {
  return numbers.reduce((sum, next) => sum + next, 0) / numbers.length;
}

function meanAbsolute(numbers: readonly number[]): number {
  return mean(numbers.map(Math.abs));
}

describe("settled solid fat against reference curves", () => {
  it.each(REFERENCE_CURVES)("keeps to its measured error: $name ($kind; $source)", (curve) => {
    const limit = MEASURED_ERROR[curve.name];
    expect(limit).toBeDefined();
    expect(meanAbsolute(errorsOf(curve))).toBeLessThanOrEqual(limit! + MARGIN);
  });

  it("has a mean error of 2.2 points on read values (3 points of one fat)", () => {
    const read = REFERENCE_CURVES.filter(({ kind }) => kind === "read").flatMap(errorsOf);
    expect(read).toHaveLength(3);
    expect(meanAbsolute(read)).toBeLessThanOrEqual(2.2 + MARGIN);
  });

  it("has a mean error of 6.2 points on recalled values (33 points of seven fats)", () => {
    const recalled = REFERENCE_CURVES.filter(({ kind }) => kind === "recalled").flatMap(errorsOf);
    expect(recalled).toHaveLength(33);
    expect(meanAbsolute(recalled)).toBeLessThanOrEqual(6.2 + MARGIN);
  });
});

afterAll(() => {
  const rows = REFERENCE_CURVES.map((curve) => {
    const errors = errorsOf(curve);
    return [
      `${curve.name} (${curve.kind})`,
      {
        points: errors.length,
        "mean absolute": Number(meanAbsolute(errors).toFixed(1)),
        bias: Number(mean(errors).toFixed(1)),
        worst: Number(Math.max(...errors.map(Math.abs)).toFixed(1)),
      },
    ];
  });
  console.log("Settled solid fat, ours less the reference [points]:");
  console.table(Object.fromEntries(rows));
});

describe("murumuru butter (read: preprint on Amazonian fats, section 3.3)", () => {
  const murumuru = libraryBlend({ "murumuru-butter": 100 });

  it("is about 80 % solid at 10 °C (ours 83.6)", () => {
    expect(Math.abs(solidsOf(murumuru, 10) - 80)).toBeLessThanOrEqual(4);
  });

  it("is all but liquid at 33.3 °C, 2 to 4 % read (ours 0)", () => {
    expect(solidsOf(murumuru, 33.3)).toBeLessThanOrEqual(4);
  });

  it("is liquid at 35 °C", () => {
    expect(solidsOf(murumuru, 35)).toBeLessThan(0.1);
  });
});

describe("cocoa butter", () => {
  const cocoa = libraryBlend({ "cocoa-butter": 100 });

  /** Where solids fall below a level, to 0.01 C. */
  function clearPoint(state: "fresh" | "settled", level: number): number {
    let celsius = 20;
    while (solidsOf(cocoa, celsius, state) >= level) celsius += 0.01;
    return celsius;
  }

  it("is clear, below 1 %, at 34.8 °C when settled: forms V and VI melt at 33.8 and 36.3 (Wille & Lutton 1966)", () => {
    const clear = clearPoint("settled", 1);
    expect(clear).toBeGreaterThan(33.8);
    expect(clear).toBeLessThan(36.3);
  });

  it("is clear, below 2 %, at 26.1 °C when fresh: form IV melts at 27.5 (Wille & Lutton 1966); within 2 °C", () => {
    // Below 2 and not 1 %: trisaturated species are reckoned settled in both states and leave 1.0 %.
    expect(Math.abs(clearPoint("fresh", 2) - 27.5)).toBeLessThanOrEqual(2);
  });

  it("lies inside the spread of four origins at 30 °C, and no more than 1 point outside at 20 and 25 °C (recalled)", () => {
    for (const [celsius, slack] of [
      [20, 1],
      [25, 1],
      [30, 0],
      [35, 0],
    ] as const) {
      const origins = Object.values(COCOA_ORIGINS).map((curve) => curve[celsius]!);
      const ours = solidsOf(cocoa, celsius);
      expect(ours).toBeGreaterThanOrEqual(Math.min(...origins) - slack);
      expect(ours).toBeLessThanOrEqual(Math.max(...origins) + slack);
    }
  });
});

describe("eutectics: lauric fat softens cocoa-like fat", () => {
  const half = libraryBlend({ "cocoa-butter": 50, "coconut-oil": 50 });
  const cocoa = libraryBlend({ "cocoa-butter": 100 });
  const coconut = libraryBlend({ "coconut-oil": 100 });

  it.each([20, 25, 30])(
    "cocoa and coconut are softer together than their mean at %d °C (SOS and trilaurin: Yoshikawa et al. 2020)",
    (celsius) => {
      const average = (solidsOf(cocoa, celsius) + solidsOf(coconut, celsius)) / 2;
      expect(solidsOf(half, celsius)).toBeLessThan(average - 5);
    },
  );

  it.each([15, 20])(
    "palm and palm kernel are softer together than their mean at %d °C (Timms 1985)",
    (celsius) => {
      const together = libraryBlend({ "palm-oil": 50, "palm-kernel-oil": 50 });
      const palm = solidsOf(libraryBlend({ "palm-oil": 100 }), celsius);
      const kernel = solidsOf(libraryBlend({ "palm-kernel-oil": 100 }), celsius);
      expect(solidsOf(together, celsius)).toBeLessThan((palm + kernel) / 2);
    },
  );

  it("cannot show that 20 % shea leaves cocoa butter unchanged (Herrera & Candal 2016): ours falls by 9.5 points at 20 °C", () => {
    // A known bias, stated here so that it is not mistaken for agreement.
    const loss =
      solidsOf(cocoa, 20) - solidsOf(libraryBlend({ "cocoa-butter": 80, "shea-butter": 20 }), 20);
    expect(loss).toBeGreaterThan(8);
    expect(loss).toBeLessThan(10);
  });
});

describe("mango butter", () => {
  it("is all but liquid, under 1 %, from 40 °C; read: liquid between 40 and 45 °C (conference abstract 2021, Dragon variety)", () => {
    const mango = libraryBlend({ "mango-butter": 100 });
    expect(solidsOf(mango, 40)).toBeLessThan(1);
    expect(solidsOf(mango, 45)).toBeLessThan(0.7);
  });
});
