/**
 * The quick check of the rules against the verdict itself, which is the one that counts.
 */
import { type Blend, makeBlend } from "#core/blend.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { FIRMNESS_CLASSES } from "#core/judge/firmness.ts";
import { withCertificate } from "#core/judge/certificate.ts";
import { type Judgement, judgeBlend } from "#core/judge/verdict.ts";
import { type JudgingGround, ruleChecker } from "#core/order/rule-check.ts";
import { INGREDIENT_IDS } from "#data/library.ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inLibrary, libraryBlend } from "../../helpers/library-blend.ts";

const lot = withCertificate(inLibrary("shea-butter"), {
  solidFatCurve: [
    { celsius: 10, percent: 70 },
    { celsius: 20, percent: 45 },
    { celsius: 30, percent: 12 },
  ],
}).ingredient;
const INGREDIENTS: readonly Ingredient[] = [
  ...INGREDIENT_IDS.map(inLibrary),
  { ...lot, id: "measured shea" },
];

const blends: fc.Arbitrary<Blend> = fc
  .uniqueArray(fc.nat(INGREDIENTS.length - 1), { minLength: 1, maxLength: 7 })
  .chain((places) =>
    fc.tuple(
      fc.constant(places),
      fc.array(fc.integer({ min: 1, max: 1000 }), {
        minLength: places.length,
        maxLength: places.length,
      }),
    ),
  )
  .map(([places, claims]) => {
    const sum = claims.reduce((total, claim) => total + claim, 0);
    const shares = claims.map((claim) => Math.floor((claim * 10_000) / sum));
    shares[0]! += 10_000 - shares.reduce((total, share) => total + share, 0);
    const made = makeBlend(
      places.map((place, at) => ({ ingredient: INGREDIENTS[place]!, share: shares[at]! })),
    );
    if ("findings" in made) throw new Error("no blend");
    return made.blend;
  });

const maybe = <T>(values: fc.Arbitrary<T>) => fc.option(values, { nil: undefined });
const law = fc.record({
  scalePa: fc.double({ min: 2e5, max: 3e6, noNaN: true }),
  solidsExponent: fc.double({ min: 1.2, max: 4, noNaN: true }),
  airExponent: fc.double({ min: 0, max: 2, noNaN: true }),
});
const grounds = fc
  .record({
    useCelsius: fc.oneof(
      fc.integer({ min: -12, max: 62 }),
      fc.double({ min: 5, max: 40, noNaN: true }),
    ),
    airFraction: maybe(fc.double({ min: 0, max: 0.85, noNaN: true })),
    law: maybe(law),
    rules: fc.record({
      firmness: maybe(
        fc
          .tuple(fc.nat(3), fc.nat(3))
          .map(([one, other]) =>
            FIRMNESS_CLASSES.slice(Math.min(one, other), Math.max(one, other) + 1),
          ),
      ),
      softensAboveLeastCelsius: maybe(
        fc.oneof(
          fc.integer({ min: -12, max: 62 }),
          fc.double({ min: -12, max: 62, noNaN: true }),
          fc.double({ min: 15, max: 40, noNaN: true }),
        ),
      ),
      poreRatingMost: maybe(fc.integer({ min: 0, max: 5 })),
      poreReading: maybe(fc.constantFrom("value", "high")),
      poreTraceBelowShare: maybe(fc.integer({ min: 0, max: 3000 })),
      poreConfidenceLeast: maybe(fc.constantFrom("A", "B", "C", "D", "E")),
      unrated: maybe(fc.constantFrom("cannot-judge", "tell")),
      strictness: maybe(fc.constantFrom("whole-band", "central")),
    }),
  })
  .map((ground) => said(ground) as unknown as JudgingGround);

/** Without what was not said. */
function said(value: object): object {
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, each]) => each !== undefined)
      .map(([key, each]) => [key, key === "rules" ? said(each as object) : each]),
  );
}

const judged = (blend: Blend, ground: JudgingGround): Judgement =>
  judgeBlend(blend, { ...ground, celsius: [] });

function expectAgreement(blend: Blend, ground: JudgingGround): void {
  const { verdict, findings } = judged(blend, ground);
  const check = ruleChecker(ground)(blend);
  expect(check.passes).toBe(verdict === "orderable");
  expect(check.cannotJudge).toBe(verdict === "cannot-judge");
  const fails = (code: string) => findings.some((found) => found.code === code);
  const { firmLow, firmHigh, softens } = check.margins;
  if (Math.min(firmLow, firmHigh, softens) > -Infinity) {
    expect(firmLow < 0).toBe(fails("judge.firmness.too-soft"));
    expect(firmHigh < 0).toBe(fails("judge.firmness.too-hard"));
    expect(softens < 0).toBe(fails("judge.softens-above.too-low"));
  }
  expect(check.findings()).toEqual(findings);
}

describe("the quick check of the rules", () => {
  it("says what the verdict says of any blend under any rules", () => {
    fc.assert(fc.property(blends, grounds, expectAgreement), { numRuns: 3000 });
  });

  it("says what the verdict says when the limit lies within the tolerance of the root", () => {
    const offsets = [-0.02, -0.011, -0.01, -0.005, -0.001, 0, 1e-6, 0.001, 0.005, 0.0099, 0.02];
    fc.assert(
      fc.property(
        blends,
        fc.constantFrom(...offsets),
        fc.constantFrom("whole-band", "central"),
        (blend, offset, strictness) => {
          const whole = judged(blend, { useCelsius: 21, rules: {} });
          const edge =
            strictness === "central" ? whole.softensAboveCelsius : whole.softensAboveLeastCelsius;
          if (edge === undefined) return;
          const rules = { softensAboveLeastCelsius: edge + offset, strictness } as const;
          expectAgreement(blend, { useCelsius: 21, rules });
        },
      ),
      { numRuns: 1000 },
    );
  });

  it("counts a wax's structure as the verdict does", () => {
    const blend = libraryBlend({ beeswax: 9, "shea-butter": 30, "sunflower-oil": 61 });
    for (const strictness of ["whole-band", "central"] as const) {
      for (let celsius = 0; celsius <= 60; celsius += 0.5) {
        const rules = {
          firmness: ["soft"],
          softensAboveLeastCelsius: celsius,
          strictness,
        } as const;
        expectAgreement(blend, { useCelsius: celsius, rules });
      }
    }
  });

  it("tells the margins in points of solid fat at the rule's temperature", () => {
    const blend = libraryBlend({ "shea-butter": 60, "cocoa-butter": 10, "jojoba-oil": 30 });
    const rules = { firmness: ["soft", "firm"], softensAboveLeastCelsius: 27 } as const;
    const { margins } = ruleChecker({ useCelsius: 21, rules })(blend);
    const { solidFat } = judgeBlend(blend, { celsius: [21, 27], useCelsius: 21 });
    // Soft from 10.4 % solids and hard from 41.4 with 0.35 air (core/README.md).
    expect(margins.firmLow).toBeCloseTo(solidFat[0]!.low - 10.4, 1);
    expect(margins.firmHigh).toBeCloseTo(41.4 - solidFat[0]!.high, 1);
    expect(margins.softens).toBeCloseTo(solidFat[1]!.low - 10.4, 1);
  });

  it("rules nothing where nothing is asked", () => {
    const check = ruleChecker({ useCelsius: 21, rules: {} })(libraryBlend({ "olive-oil": 100 }));
    expect(check.passes).toBe(true);
    expect(check.margins).toEqual({ firmLow: Infinity, firmHigh: Infinity, softens: Infinity });
  });

  it("checks thousands of blends a second", () => {
    const check = ruleChecker({
      useCelsius: 21,
      airFraction: 0.35,
      rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 26, poreRatingMost: 4 },
    });
    const made = Array.from({ length: 4000 }, (_, at) =>
      libraryBlend({
        "shea-butter": 45 + (at % 30),
        "cocoa-butter": 20 - (at % 15),
        "jojoba-oil": 20,
        "sunflower-oil": 15 - (at % 30) + (at % 15),
      }),
    ).filter(({ parts }) => parts.every(({ share }) => share > 0));
    for (const blend of made) check(blend);
    const from = process.cpuUsage();
    for (const blend of made) check({ ...blend });
    const { user } = process.cpuUsage(from);
    const perSecond = (1e6 * made.length) / user;
    expect(perSecond).toBeGreaterThan(5000); // 10 000 are asked for; a busy machine may take half
  });
});
