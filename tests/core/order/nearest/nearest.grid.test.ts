/**
 * The nearest orderable blend against an exhaustive grid of 0.25 %: within 0.25 % share of the grid's best, and never
 * "none" where the grid holds one.
 */
import { composeBlend } from "#core/compose/compose.ts";
import type { Choice, Product } from "#core/compose/product.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { type Nearest, nearestOrderable } from "#core/order/nearest/nearest.ts";
import { ingredientById } from "#data/library.ts";
import { describe, expect, it } from "vitest";
import { dice, demoProduct, drawnChoice, drawnProduct } from "./choices.ts";
import { bestOnGrid, combinations, movedTo } from "./grid.ts";

const ground = { ingredientOf: ingredientById };
const STEP = 25;

function expectPassing(product: Product, choice: Choice, nearest: Nearest): void {
  if (nearest.kind !== "found") return;
  const composed = composeBlend(product, nearest.choice, ingredientById);
  if ("findings" in composed) throw new Error(composed.findings.map(({ code }) => code).join());
  expect(composed.blend).toEqual(nearest.blend);
  const { useCelsius, airFraction, rules } = product;
  const { verdict } = judgeBlend(composed.blend, { celsius: [], useCelsius, airFraction, rules });
  expect(verdict).toBe("orderable");
  expect(nearest.check.passes).toBe(true);
  const parts = [...nearest.choice.butters, ...nearest.choice.oils];
  const moved = movedTo(
    choice,
    parts.map(({ ingredient }) => ingredient),
    parts.map(({ share }) => share),
  );
  expect(nearest.moved).toBe(moved);
}

/** @returns by how much the grid is better, 0 where it is not [hundredths of a percent] */
function gapToGrid(product: Product, choice: Choice, nearest: Nearest, step: number): number {
  if (nearest.kind === "cannot-judge") throw new Error("nothing was judged");
  const limit = nearest.kind === "found" ? nearest.moved : Infinity;
  const best = bestOnGrid(product, choice, ingredientById, { step, limit });
  return best === undefined ? 0 : limit - best;
}

describe("the nearest orderable blend on a grid of 0.25 %", () => {
  it("is found for the demo's choices as near as the grid finds it", () => {
    const at = dice(2026);
    let refused = 0;
    for (let run = 0; refused < 6; run++) {
      const product = demoProduct(at, run % 3 === 0);
      const choice = drawnChoice(at, product);
      const nearest = nearestOrderable(product, choice, ground);
      expectPassing(product, choice, nearest);
      // A grid of three or four free shares is within reach only close by.
      const { butters, oils } = choice;
      const within = butters.length + oils.length > 4 ? 150 : 400;
      if (nearest.kind !== "found" || nearest.moved === 0 || nearest.moved > within) continue;
      refused++;
      expect(gapToGrid(product, choice, nearest, STEP)).toBeLessThanOrEqual(STEP);
    }
  });

  it("is found for bases drawn from the library as near as the grid finds it", () => {
    const at = dice(77);
    const seen = { found: 0, none: 0 };
    while (seen.found < 30 || seen.none < 3) {
      const product = drawnProduct(at);
      const choice = drawnChoice(at, product);
      const nearest = nearestOrderable(product, choice, ground);
      expectPassing(product, choice, nearest);
      if (nearest.kind === "cannot-judge") continue;
      if (nearest.kind === "found" && (nearest.moved === 0 || nearest.moved > 600)) continue;
      if (nearest.kind === "none" && seen.none >= 3) continue;
      const step = nearest.kind === "none" ? 8 * STEP : STEP;
      const gap = gapToGrid(product, choice, nearest, step);
      expect(
        gap,
        JSON.stringify({ choice, rules: product.rules, bases: product.bases }),
      ).toBeLessThanOrEqual(STEP);
      seen[nearest.kind]++;
    }
  });

  it("is found where a little of a hard acid softens a butter and more of it holds it", () => {
    const butter = (ingredient: string, least: number, greatest: number) => ({
      ...{ ingredient, share: 0, least, greatest },
    });
    const product: Product = {
      ...demoProduct(dice(1), true),
      places: [{ id: "oil", name: "Oil", allowed: ["olive-oil", "squalane"] }],
      bases: [
        {
          ...{ id: "base", name: "Base", words: "" },
          butters: [
            butter("cocoa-butter", 700, 4500),
            butter("sal-butter", 1000, 5700),
            butter("stearic-acid", 100, 3400),
          ],
          oils: [{ place: "oil", ...butter("olive-oil", 100, 4100) }],
        },
      ],
      additives: [{ ingredient: "tocopherol", share: 50 }],
      useCelsius: 21,
      airFraction: 0.35,
      rules: {
        ...{ firmness: ["soft", "firm"], softensAboveLeastCelsius: 27, poreRatingMost: 4 },
        ...{ strictness: "whole-band", unrated: "tell" },
      },
    };
    const choice: Choice = {
      base: "base",
      butters: [
        { ingredient: "cocoa-butter", share: 3233 },
        { ingredient: "sal-butter", share: 1809 },
        { ingredient: "stearic-acid", share: 185 },
      ],
      oils: [{ place: "oil", ingredient: "olive-oil", share: 4723 }],
    };
    const nearest = nearestOrderable(product, choice, ground);
    expectPassing(product, choice, nearest);
    expect(gapToGrid(product, choice, nearest, 2 * STEP)).toBeLessThanOrEqual(STEP);
    expect(nearest).toMatchObject({ kind: "found", choice: { butters: [{}, {}, {}] } });
  });

  it("counts every combination", () => {
    expect(combinations([["a"], ["b", "c"], ["d", "e"]])).toHaveLength(4);
  });
});
