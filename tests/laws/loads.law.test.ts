/**
 * Laws of loads: whatever is weighed and whatever the vessel holds, nothing is lost and nothing spills over.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { splitLoads } from "#core/make/loads.ts";
import { STEPS_LEAST } from "#core/make/scale.ts";

const cases = fc.record({
  steps: fc.array(fc.integer({ min: 1, max: 60_000 }), { minLength: 1, maxLength: 40 }),
  scaleStepMg: fc.constantFrom(1, 10, 50, 100, 200, 1000, 5000),
  vesselSteps: fc.integer({ min: 1, max: 400_000 }),
  vesselRest: fc.integer({ min: 0, max: 4999 }),
});

const sum = (numbers: readonly number[]) => numbers.reduce((all, each) => all + each, 0);

describe("loads", () => {
  test("hold the whole weigh list, each within the vessel and as few as can be", () => {
    let split = 0;
    fc.assert(
      fc.property(cases, ({ steps, scaleStepMg, vesselSteps, vesselRest }) => {
        const targets = steps.map((each, at) => ({
          ingredientId: `ingredient-${at}`,
          targetMg: each * scaleStepMg,
        }));
        const vesselMg = vesselSteps * scaleStepMg + (vesselRest % scaleStepMg);
        const made = splitLoads(targets, vesselMg, scaleStepMg);
        const least = Math.max(1, Math.ceil(sum(steps) / vesselSteps));
        if ("findings" in made) {
          const lightest = steps.filter((each) => Math.floor(each / least) < STEPS_LEAST);
          expect(made.findings).toHaveLength(lightest.length);
          expect(lightest.length).toBeGreaterThan(0);
          return;
        }
        const { loads } = made;
        if (loads.length > 1) split += 1;
        expect(loads).toHaveLength(least);
        targets.forEach(({ targetMg }, at) => {
          const shares = loads.map(({ targetsMg }) => targetsMg[at]!);
          expect(sum(shares)).toBe(targetMg);
          expect(Math.max(...shares) - Math.min(...shares)).toBeLessThanOrEqual(scaleStepMg);
          for (const share of shares) {
            expect(share % scaleStepMg).toBe(0);
            expect(share).toBeGreaterThanOrEqual(STEPS_LEAST * scaleStepMg);
          }
        });
        const bulks = loads.map(({ bulkMg }) => bulkMg);
        loads.forEach(({ bulkMg, targetsMg }) => expect(bulkMg).toBe(sum(targetsMg)));
        expect(Math.max(...bulks)).toBeLessThanOrEqual(vesselMg);
        expect(Math.max(...bulks) - Math.min(...bulks)).toBeLessThanOrEqual(scaleStepMg);
      }),
      { numRuns: 1_000 },
    );
    expect(split).toBeGreaterThan(100); // the law was not proved on single loads alone
  });
});
