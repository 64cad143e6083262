/**
 * Laws of weighing: whatever the jars, the loss and the scale, the list adds up and each line can
 * be read on the scale.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Blend, makeBlend } from "#core/blend.ts";
import { STEPS_LEAST, scaleBatch } from "#core/make/scale.ts";
import { SHEA_BUTTER } from "../helpers/ingredients.ts";

const shares = fc
  .array(fc.integer({ min: 1, max: 5000 }), { minLength: 1, maxLength: 12 })
  .filter((claims) => claims.reduce((sum, each) => sum + each, 0) <= 10_000);

/** The claims with a last part that fills them up to the whole. */
const blends = shares.map((claims): Blend => {
  const rest = 10_000 - claims.reduce((sum, each) => sum + each, 0);
  const made = makeBlend(
    [...claims, rest].map((share, at) => ({
      ingredient: { ...SHEA_BUTTER, id: `ingredient-${at}` },
      share,
    })),
  );
  if ("findings" in made) throw new Error("the shares make no blend");
  return made.blend;
});

const sizes = fc.record({
  jars: fc.array(
    fc.record({
      fillG: fc.integer({ min: 1, max: 2000 }),
      quantity: fc.integer({ min: 1, max: 400 }),
    }),
    { minLength: 1, maxLength: 8 },
  ),
  lossShare: fc.integer({ min: 0, max: 2500 }),
  scaleStepMg: fc.constantFrom(1, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000),
});

describe("weighing", () => {
  test("either weighs everything or names what is too light for the scale", () => {
    let weighed = 0;
    fc.assert(
      fc.property(blends, sizes, (blend, size) => {
        const made = scaleBatch(blend, size);
        if ("findings" in made) {
          expect(made.findings.length).toBeGreaterThan(0);
          for (const { code } of made.findings) expect(code).toBe("make.scale.below-resolution");
          return;
        }
        weighed += 1;
        const { bulkMg, fillMg, weighings } = made.batch;
        const step = size.scaleStepMg;
        const fillG = size.jars.reduce((sum, jar) => sum + jar.fillG * jar.quantity, 0);
        expect(fillMg).toBe(fillG * 1000);
        // enough for the jars and the loss, and less than one step more (exact in integers)
        const wanted = BigInt(fillMg) * BigInt(10_000 + size.lossShare);
        expect(BigInt(bulkMg) * 10_000n >= wanted).toBe(true);
        expect(BigInt(bulkMg - step) * 10_000n < wanted).toBe(true);
        expect(weighings.reduce((sum, { targetMg }) => sum + targetMg, 0)).toBe(bulkMg);
        for (const { share, targetMg } of weighings) {
          expect(targetMg % step).toBe(0);
          expect(targetMg).toBeGreaterThanOrEqual(STEPS_LEAST * step);
          const off = BigInt(targetMg) * 10_000n - BigInt(bulkMg) * BigInt(share);
          expect(off > -10_000n * BigInt(step) && off < 10_000n * BigInt(step)).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
    expect(weighed).toBeGreaterThan(100); // the law was not proved on refusals alone
  });

  test("weighs the same whichever way the jars are gathered into orders", () => {
    fc.assert(
      fc.property(blends, sizes, (blend, size) => {
        const apart = size.jars.flatMap(({ fillG, quantity }) =>
          quantity > 1
            ? [
                { fillG, quantity: 1 },
                { fillG, quantity: quantity - 1 },
              ]
            : [{ fillG, quantity }],
        );
        expect(scaleBatch(blend, { ...size, jars: apart })).toEqual(scaleBatch(blend, size));
      }),
      { numRuns: 200 },
    );
  });

  test("never weighs less of anything by more than a step when a jar is added", () => {
    fc.assert(
      fc.property(blends, sizes, (blend, size) => {
        const before = scaleBatch(blend, size);
        const more = { ...size, jars: [...size.jars, { fillG: 100, quantity: 1 }] };
        const after = scaleBatch(blend, more);
        if ("findings" in before || "findings" in after) return;
        for (const [at, { targetMg }] of before.batch.weighings.entries()) {
          const next = after.batch.weighings[at]!.targetMg;
          expect(next).toBeGreaterThanOrEqual(targetMg - size.scaleStepMg);
        }
      }),
      { numRuns: 200 },
    );
  });
});
