/** Laws of the solid-fat model, over random blends of the whole library. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { apportion } from "#core/apportion.ts";
import { type Blend, WHOLE, makeBlend } from "#core/blend.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { type FatState, meltOf } from "#core/judge/melt.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import { INGREDIENT_IDS } from "#data/library.ts";
import { inLibrary, libraryBlend, solidsOf } from "../helpers/library-blend.ts";
import { slowSolidFatPercent } from "./slow-solid-fat.ts";

const FATS = INGREDIENT_IDS.map(inLibrary).filter(
  ({ composition: { kind } }) => kind !== "unknown" && kind !== "undissolved",
);
const CRYSTALLISING = FATS.filter(({ composition }) => composition.kind !== "inert-liquid");
const LAURIC = ["coconut-oil", "palm-kernel-oil", "babassu-oil", "murumuru-butter"].map(inLibrary);

function blendOf(parts: readonly (readonly [Ingredient, number])[]): Blend {
  const shares = apportion(
    WHOLE,
    parts.map(([, weight]) => weight),
  );
  const made = makeBlend(parts.map(([ingredient], at) => ({ ingredient, share: shares[at]! })));
  if ("findings" in made) throw new Error(made.findings.map(({ code }) => code).join());
  return made.blend;
}

function blends(from: readonly Ingredient[] = FATS): fc.Arbitrary<Blend> {
  const part = fc.tuple(fc.constantFrom(...from), fc.integer({ min: 1, max: 100 }));
  return fc.array(part, { minLength: 1, maxLength: 8 }).map(blendOf);
}

const lauricBlends = fc
  .tuple(fc.constantFrom(...LAURIC), blends(CRYSTALLISING), fc.integer({ min: 1, max: 9_999 }))
  .map(([lauric, rest, share]) =>
    blendOf([[lauric, share], ...rest.parts.map((part) => [part.ingredient, part.share] as const)]),
  );

const temperatures = fc.double({ min: -10, max: 60, noNaN: true });
const states = fc.constantFrom<FatState>("fresh", "settled");
const RUNS = { numRuns: 300 };

describe("solid fat content", () => {
  it("lies between 0 and 100 %", () => {
    fc.assert(
      fc.property(blends(), temperatures, states, (blend, celsius, state) => {
        const solids = solidsOf(blend, celsius, state);
        expect(solids).toBeGreaterThanOrEqual(0);
        expect(solids).toBeLessThanOrEqual(100);
      }),
      RUNS,
    );
  });

  it("never rises with temperature, on a grid of a quarter degree from -10 to 60 °C", () => {
    fc.assert(
      fc.property(fc.oneof(blends(), lauricBlends), states, (blend, state) => {
        const melt = meltOf(blend)!;
        let before = 100;
        for (let celsius = -10; celsius <= 60; celsius += 0.25) {
          const solids = solidFatPercent(melt, state, celsius);
          expect(solids).toBeLessThanOrEqual(before + 1e-8);
          before = solids;
        }
      }),
      { numRuns: 120 },
    );
  });

  it("is never higher fresh than settled", () => {
    fc.assert(
      fc.property(fc.oneof(blends(), lauricBlends), temperatures, (blend, celsius) => {
        const fresh = solidsOf(blend, celsius, "fresh");
        expect(fresh).toBeLessThanOrEqual(solidsOf(blend, celsius, "settled") + 1e-8);
      }),
      RUNS,
    );
  });

  it("agrees with a slow bisection that shares no arithmetic with it, to a millionth of a point", () => {
    fc.assert(
      fc.property(
        fc.oneof(blends(), lauricBlends),
        temperatures,
        states,
        (blend, celsius, state) => {
          const melt = meltOf(blend)!;
          const slow = slowSolidFatPercent(melt, state, celsius);
          expect(Math.abs(solidFatPercent(melt, state, celsius) - slow)).toBeLessThanOrEqual(1e-6);
        },
      ),
      RUNS,
    );
  });

  it("does not depend on the order of the ingredients", () => {
    fc.assert(
      fc.property(blends(), temperatures, states, (blend, celsius, state) => {
        const turned = { parts: [...blend.parts].reverse() };
        const difference = solidsOf(blend, celsius, state) - solidsOf(turned, celsius, state);
        expect(Math.abs(difference)).toBeLessThan(1e-6);
      }),
      RUNS,
    );
  });

  it("stays that of the ingredient when an ingredient is mixed with a twin of itself", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...FATS),
        fc.integer({ min: 1, max: WHOLE - 1 }),
        temperatures,
        states,
        (ingredient, share, celsius, state) => {
          const twin = { ...ingredient, id: "twin" };
          const mixed = blendOf([
            [ingredient, share],
            [twin, WHOLE - share],
          ]);
          expect(mixed.parts).toHaveLength(2);
          const alone = solidsOf(blendOf([[ingredient, 1]]), celsius, state);
          expect(Math.abs(solidsOf(mixed, celsius, state) - alone)).toBeLessThan(1e-6);
        },
      ),
      RUNS,
    );
  });
});

describe("the firmness picture under a customer's thumb", () => {
  const STEP = 10; // a tenth of a percent
  // Half a point in nearly all blends; a single sharply melting fat with a little liquid in it is steeper, and in the
  // cold, outside the picture, steeper still: there the liquid that is left is all that counts (the lever rule).
  it("moves by less than a point when a tenth of a percent changes places", () => {
    fc.assert(
      fc.property(
        blends().filter(({ parts }) => parts.length > 1 && parts[0]!.share >= STEP),
        fc.double({ min: 5, max: 40, noNaN: true }),
        states,
        (blend, celsius, state) => {
          const [from, to, ...rest] = blend.parts;
          const stepped = {
            parts: [
              { ...from!, share: from!.share - STEP },
              { ...to!, share: to!.share + STEP },
              ...rest,
            ],
          };
          const change = solidsOf(stepped, celsius, state) - solidsOf(blend, celsius, state);
          expect(Math.abs(change)).toBeLessThan(1);
        },
      ),
      { numRuns: 600 },
    );
  });
});

describe("liquid oils", () => {
  const LIQUID = [
    ...["sunflower-oil", "safflower-oil", "grapeseed-oil", "hemp-seed-oil", "rosehip-oil"],
    ...["evening-primrose-oil", "jojoba-oil", "squalane", "castor-oil", "canola-oil"],
    ...["fractionated-coconut-oil"],
  ];
  it.each(LIQUID)("%s holds less than half a point of solids above 5 °C, none above 15", (id) => {
    const oil = libraryBlend({ [id]: 100 });
    for (let celsius = 5.01; celsius <= 60; celsius += 0.5) {
      expect(solidsOf(oil, celsius)).toBeLessThan(celsius > 15 ? 0.05 : 0.5);
    }
  });

  it("thin a fat: more sunflower oil never gives more solids", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...CRYSTALLISING),
        fc.integer({ min: 0, max: WHOLE - 100 }),
        fc.double({ min: 6, max: 60, noNaN: true }),
        states,
        (fat, share, celsius, state) => {
          const sunflower = inLibrary("sunflower-oil");
          const less = blendOf([
            [fat, WHOLE - share],
            [sunflower, share],
          ]);
          const more = blendOf([
            [fat, WHOLE - share - 100],
            [sunflower, share + 100],
          ]);
          // A hundredth more of the oil brings a hundredth of its own trace of solids, a point at most.
          const trace = 0.010001;
          expect(solidsOf(more, celsius, state)).toBeLessThanOrEqual(
            solidsOf(less, celsius, state) + trace,
          );
        },
      ),
      RUNS,
    );
  });
});
