import { expect, test } from "vitest";
import type { Blend } from "#core/blend.ts";
import { meltOf } from "#core/judge/melt.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import {
  CHILL_SOLIDS_PERCENT,
  COLDEST_CHILL_C,
  FAT_DENSITY_G_PER_ML,
  HOLD_GREATEST_C,
  HOLD_LEAST_C,
  type Plan,
  WHIP_SOLIDS_LEAST_PERCENT,
  planBatch,
} from "#core/make/plan.ts";
import {
  COCOA_BUTTER,
  COCONUT_OIL,
  HARD_BLEND,
  HEMP_SEED_OIL,
  JOJOBA_OIL,
  ROSEHIP_OIL,
  SEVEN_BLEND,
  SHEA_BUTTER,
  SOFT_BLEND,
  SUNFLOWER_OIL,
  TAPIOCA_STARCH,
  TOCOPHEROL,
  TWELVE_BLEND,
  aBlend,
} from "../../helpers/ingredients.ts";

function plan(blend: Blend, air = 0.35) {
  return planBatch(blend, meltOf(blend)!, air);
}

function planned(blend: Blend, air?: number): Plan {
  const made = plan(blend, air);
  if ("findings" in made) throw new Error(made.findings[0]!.code);
  return made.plan;
}

function freshSolids(blend: Blend, celsius: number): number {
  return solidFatPercent(meltOf(blend)!, "fresh", celsius);
}

test("holds shea hotter than cocoa butter, because shea brings tristearin", () => {
  // Highest species: SSS 72.5 C in shea, PSS 64.8 C in the measured cocoa butter; 5 K above.
  expect(planned(aBlend([SHEA_BUTTER, 100])).holdC).toBe(78);
  expect(planned(aBlend([COCOA_BUTTER, 100])).holdC).toBe(70);
});

test.each([
  ["soft", SOFT_BLEND],
  ["hard", HARD_BLEND],
  ["seven", SEVEN_BLEND],
  ["twelve", TWELVE_BLEND],
])(
  "keeps the hold of the %s blend where SOS and trisaturates melt and far from smoking",
  (_, blend) => {
    const { holdC } = planned(blend);
    expect(holdC).toBeGreaterThan(43);
    expect(holdC).toBeGreaterThanOrEqual(HOLD_LEAST_C);
    expect(holdC).toBeLessThanOrEqual(HOLD_GREATEST_C);
  },
);

test("never lowers the hold when a butter joins the pot", () => {
  const alone = planned(aBlend([COCOA_BUTTER, 50], [SUNFLOWER_OIL, 50])).holdC!;
  const together = planned(
    aBlend([COCOA_BUTTER, 45], [SHEA_BUTTER, 5], [SUNFLOWER_OIL, 50]),
  ).holdC!;
  expect(together).toBeGreaterThanOrEqual(alone);
});

test.each([
  ["soft", SOFT_BLEND],
  ["hard", HARD_BLEND],
  ["seven", SEVEN_BLEND],
  ["twelve", TWELVE_BLEND],
])(
  "ends the chill of the %s blend and opens its whip window at the stated fresh solids",
  (_, blend) => {
    const { chillC, whipBelowC } = planned(blend);
    expect(freshSolids(blend, chillC)).toBeGreaterThanOrEqual(CHILL_SOLIDS_PERCENT);
    expect(freshSolids(blend, chillC + 1)).toBeLessThan(CHILL_SOLIDS_PERCENT);
    expect(freshSolids(blend, whipBelowC - 1)).toBeGreaterThanOrEqual(WHIP_SOLIDS_LEAST_PERCENT);
    expect(freshSolids(blend, whipBelowC)).toBeLessThan(WHIP_SOLIDS_LEAST_PERCENT);
    expect(chillC).toBeLessThan(whipBelowC);
  },
);

test("chills a blend the colder the more liquid oil it holds", () => {
  const chills = [20, 30, 40, 50].map(
    (oil) => planned(aBlend([SHEA_BUTTER, 100 - oil], [SUNFLOWER_OIL, oil])).chillC,
  );
  expect(chills).toEqual([...chills].sort((one, other) => other - one));
  expect(new Set(chills).size).toBeGreaterThan(2);
});

test("stops the chill at the refrigerator when the blend still whips there", () => {
  const blend = aBlend([SHEA_BUTTER, 38], [SUNFLOWER_OIL, 62]);
  expect(freshSolids(blend, COLDEST_CHILL_C)).toBeLessThan(CHILL_SOLIDS_PERCENT);
  expect(planned(blend).chillC).toBe(COLDEST_CHILL_C);
});

test("refuses a blend too liquid to hold air even in the refrigerator", () => {
  const made = plan(aBlend([SHEA_BUTTER, 10], [SUNFLOWER_OIL, 90]));
  expect(made).toHaveProperty("findings.0.code", "make.plan.too-liquid-to-whip");
});

test("adds heat-sensitive oils below the lowest of their limits", () => {
  const both = aBlend([SHEA_BUTTER, 80], [ROSEHIP_OIL, 10], [HEMP_SEED_OIL, 10]);
  expect(planned(both).coolDownC).toBe(40);
  expect(planned(aBlend([SHEA_BUTTER, 90], [ROSEHIP_OIL, 10])).coolDownC).toBe(45);
  expect(planned(aBlend([SHEA_BUTTER, 95], [TAPIOCA_STARCH, 5])).coolDownC).toBe(45);
  expect(planned(SOFT_BLEND)).not.toHaveProperty("coolDownC");
});

test("melts coconut oil in the pot although it is called an oil", () => {
  expect(planned(aBlend([COCONUT_OIL, 80], [JOJOBA_OIL, 20]))).toHaveProperty("holdC");
});

test("names a butter whose own limit lies below the hold it needs", () => {
  const made = plan(aBlend([{ ...SHEA_BUTTER, addBelowC: 60 }, 100]));
  expect(made).toEqual({
    findings: [
      expect.objectContaining({ code: "make.plan.melt-above-limit", measured: 78, limit: 60 }),
    ],
  });
});

test("names an oil that must be melted although its record keeps it from heat", () => {
  const made = plan(aBlend([{ ...COCONUT_OIL, addBelowC: 40 }, 100]));
  expect(made).toHaveProperty("findings.0.code", "make.plan.melt-above-limit");
});

test("names an additive whose limit lies below the temperature at which the blend sets", () => {
  const made = plan(aBlend([SHEA_BUTTER, 99], [{ ...TOCOPHEROL, addBelowC: 20 }, 1]));
  expect(made).toHaveProperty("findings.0.code", "make.plan.sets-above-limit");
});

test("takes the density of the fat by its own oils, and 0.91 g/ml where no rule reaches them", () => {
  // Shea and sunflower: about 0.912 and 0.918 liquid at whipping, a tenth of it solid and denser.
  const known = planned(aBlend([SHEA_BUTTER, 70], [SUNFLOWER_OIL, 30]), 0).densityGPerMl;
  expect(known).toBeGreaterThan(0.915);
  expect(known).toBeLessThan(0.93);
  const unknown = planned(aBlend([SHEA_BUTTER, 85], [JOJOBA_OIL, 15]), 0).densityGPerMl;
  expect(unknown).toBe(FAT_DENSITY_G_PER_ML);
});

test("turns the air fraction into overrun and density", () => {
  // One volume of air on one of fat: overrun 100 %, half the density.
  const { overrun, densityGPerMl } = planned(SOFT_BLEND, 0.5);
  expect(overrun).toBeCloseTo(1, 12);
  expect(densityGPerMl).toBeCloseTo(0.455, 12);
  expect(planned(SOFT_BLEND, 0).overrun).toBe(0);
});
