/**
 * The solid-fat model against curves and facts from outside. The ceilings are what we measured plus a small margin,
 * so a change that makes the model worse fails; they are no claim of how good it should be. Measured: see
 * `core/README.md`.
 */
import { afterAll, describe, expect, it } from "vitest";
import { type Blend, WHOLE } from "#core/blend.ts";
import { bandOf } from "#core/judge/band.ts";
import { meltOf } from "#core/judge/melt.ts";
import { slipMeltingC } from "#core/judge/softening.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { inLibrary, libraryBlend, solidsOf } from "../helpers/library-blend.ts";
import {
  COCOA_ENDS,
  COCOA_ORIGINS,
  REFERENCE_CURVES,
  type ReferenceCurve,
} from "./solid-fat-curves.ts";

/** Mean absolute error we measured [points], rounded up to the next tenth, by curve. */
const MEASURED_ERROR: Readonly<Record<string, number>> = {
  "murumuru butter": 2.5,
  "tucumã kernel fat": 2.2,
  "cocoa butter, Ghana": 2.9,
  "palm oil": 1.5,
  "palm kernel oil": 4.1,
  "coconut oil": 4.9,
  "shea butter": 4.5,
  "mango butter": 1.8,
  "kokum butter": 9.6,
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

  it("lies in the band, within half a point, at three values of five or more, cocoa of other origins among them", () => {
    const all = [
      ...REFERENCE_CURVES,
      ...Object.values(COCOA_ORIGINS).map((curve) => ({
        ingredient: "cocoa-butter",
        points: Object.entries(curve).map(
          ([celsius, solidFat]) => [Number(celsius), solidFat] as const,
        ),
      })),
    ];
    const held = all.flatMap(({ ingredient, points }) => {
      const band = bandOf(meltOf(libraryBlend({ [ingredient]: 100 }))!);
      return points.map(([celsius, solidFat]) => {
        const { low, high } = band(celsius);
        return solidFat >= low - 0.5 && solidFat <= high + 0.5;
      });
    });
    console.log(`In the band: ${held.filter(Boolean).length} of ${held.length}`);
    expect(held.filter(Boolean).length / held.length).toBeGreaterThanOrEqual(0.6);
  });

  it("has a mean error of 2.2 points on read values (6 points of two fats; wanted at most 4)", () => {
    const read = REFERENCE_CURVES.filter(({ kind }) => kind === "read").flatMap(errorsOf);
    expect(read).toHaveLength(6);
    expect(meanAbsolute(read)).toBeLessThanOrEqual(2.2 + MARGIN);
  });

  it("has a mean error of 3.7 points on recalled values (33 points of seven fats; wanted at most 5)", () => {
    const recalled = REFERENCE_CURVES.filter(({ kind }) => kind === "recalled").flatMap(errorsOf);
    expect(recalled).toHaveLength(33);
    expect(meanAbsolute(recalled)).toBeLessThanOrEqual(3.7 + MARGIN);
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

  it("is about 80 % solid at 10 °C (ours 83.7)", () => {
    expect(Math.abs(solidsOf(murumuru, 10) - 80)).toBeLessThanOrEqual(5);
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

  it("is clear, below 1 %, at 33.3 °C when settled: form V melts at 33.8 (Wille & Lutton 1966); within 1 °C", () => {
    expect(Math.abs(clearPoint("settled", 1) - 33.8)).toBeLessThanOrEqual(1);
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

describe("published rankings", () => {
  const room = [18, 21, 24];

  it.each(room)(
    "cocoa is harder than cocoa with cupuaçu, and that harder than cupuaçu, at %d °C (Lannes 2003, abstract)",
    (celsius) => {
      const [cocoa, both, cupuacu] = [
        { "cocoa-butter": 100 },
        { "cocoa-butter": 50, "cupuacu-butter": 50 },
        { "cupuacu-butter": 100 },
      ].map((percent) => solidsOf(libraryBlend(percent as Record<string, number>), celsius));
      expect(cocoa!).toBeGreaterThan(both!);
      expect(both!).toBeGreaterThan(cupuacu!);
    },
  );

  it.each([20, 25, 30])(
    "Malaysian cocoa is harder than West African, that harder than Brazilian, at %d °C (Chaiseri & Dimick 1989)",
    (celsius) => {
      const ours = solidsOf(libraryBlend({ "cocoa-butter": 100 }), celsius);
      const brazil = solidsOf(cocoaOf(COCOA_ENDS.Brazil), celsius);
      const malaysia = solidsOf(cocoaOf(COCOA_ENDS.Malaysia), celsius);
      expect(malaysia).toBeGreaterThan(ours);
      expect(ours).toBeGreaterThan(brazil);
    },
  );

  it("comes near the recalled curves of those two origins: 4.4 points off on average, 7.3 at most", () => {
    const errors = (["Brazil", "Malaysia"] as const).flatMap((origin) =>
      [20, 25, 30, 35].map(
        (celsius) =>
          solidsOf(cocoaOf(COCOA_ENDS[origin]), celsius) - COCOA_ORIGINS[origin]![celsius]!,
      ),
    );
    console.log(
      "Brazil and Malaysia, ours less the recalled:",
      errors.map((e) => e.toFixed(1)).join(" "),
    );
    expect(meanAbsolute(errors)).toBeLessThanOrEqual(ORIGINS_ERROR.mean);
    expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(ORIGINS_ERROR.worst);
  });

  it.each([10, 15, 20, 25, 30])("shea is softer just whipped than settled, at %d °C", (celsius) => {
    const shea = libraryBlend({ "shea-butter": 100 });
    expect(solidsOf(shea, celsius, "fresh")).toBeLessThan(solidsOf(shea, celsius) - 3);
  });
});

/** Cocoa butter with these main species, the rest shared out as in the library's. */
function cocoaOf(main: Readonly<Record<string, number>>): Blend {
  const cocoa = inLibrary("cocoa-butter");
  if (cocoa.composition.kind !== "triacylglycerols") throw new Error("cocoa is known by species");
  const rest = Object.entries(cocoa.composition.percent).filter(([name]) => !(name in main));
  const sum = (numbers: readonly number[]) => numbers.reduce((total, next) => total + next, 0);
  const scale = (100 - sum(Object.values(main))) / sum(rest.map(([, percent]) => percent));
  const percent = {
    ...main,
    ...Object.fromEntries(rest.map(([name, each]) => [name, each * scale])),
  };
  const origin = {
    ...cocoa,
    id: "origin",
    composition: { kind: "triacylglycerols", percent } as const,
  };
  return { parts: [{ ingredient: origin, share: WHOLE }] };
}

const ORIGINS_ERROR = { mean: 4.9, worst: 8 };

describe("waxes", () => {
  it.each([
    [2.5, 32.5],
    [10, 39.5],
    [15, 46],
    [20, 50],
  ])(
    "%d %% beeswax in cocoa butter melts near %d °C, within 3 (Martindale, from a copy)",
    (percent, celsius) => {
      const blend = libraryBlend({ "cocoa-butter": 100 - percent, beeswax: percent });
      expect(Math.abs(slipMeltingC(meltOf(blend)!)! - celsius)).toBeLessThanOrEqual(3);
    },
  );

  it("gels of 3 % beeswax in olive oil hold 1 to 2.3 % solids (Gels 2024, 10:214: 1.16 to 2.27; ours 2.1)", () => {
    const solids = solidsOf(libraryBlend({ "olive-oil": 97, beeswax: 3 }), 21);
    expect(solids).toBeGreaterThan(1);
    expect(solids).toBeLessThan(2.3);
  });

  it.each([
    ["candelilla-wax", 2, "Blake 2014, Dassanayake 2009"],
    ["carnauba-wax", 4, "Blake 2014, Dassanayake 2009"],
    ["beeswax", 3, "Gels 2024, 10:214"],
  ])(
    "%s leaves the oil at its least gelling share, %d %%, and not at a quarter of it at 60 °C (%s)",
    (wax, percent) => {
      expect(
        solidsOf(libraryBlend({ "olive-oil": 100 - percent, [wax]: percent }), 20),
      ).toBeGreaterThan(0.4);
      const quarter = percent / 4;
      expect(
        solidsOf(libraryBlend({ "olive-oil": 100 - quarter, [wax]: quarter }), 60),
      ).toBeLessThan(0.5);
    },
  );

  it("firm up a jar: each percent of beeswax in shea and oil makes it firmer, and 8 % holds longer than none", () => {
    const judged = [0, 2, 4, 6, 8].map((wax) =>
      judgeBlend(libraryBlend({ "shea-butter": 60, "sunflower-oil": 40 - wax, beeswax: wax }), {
        celsius: [],
        useCelsius: 21,
      }),
    );
    const yields = judged.map(({ firmness }) => firmness!.yieldPa);
    expect(yields).toEqual([...yields].sort((one, other) => one - other));
    expect(judged[4]!.softensAboveCelsius!).toBeGreaterThan(judged[0]!.softensAboveCelsius! + 1);
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
