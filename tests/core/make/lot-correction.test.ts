/**
 * An ordered blend with the lots that go in: judged again, brought back by the smallest shift, and never anything else.
 */
import { type Choice, type Product, startingChoice } from "#core/compose/product.ts";
import { composeBlend } from "#core/compose/compose.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { withCertificate } from "#core/judge/certificate.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { type LotQuestion, correctForLots, judgeLots } from "#core/make/lot-correction.ts";
import { inciOrder } from "#core/make/label-order.ts";
import { scaleBatch } from "#core/make/scale.ts";
import { nearestOrderable } from "#core/order/nearest/nearest.ts";
import { ingredientById } from "#data/library.ts";
import { DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const EVERYDAY = DEMO_PRODUCTS[0]!.product;
const FIRST = startingChoice(EVERYDAY.bases[0]!);

/** A lot whose certificate holds so much more of the acids that set, and less of those that do not [% by mass] */
function lotOf(id: string, harder: number): Ingredient {
  const ingredient = ingredientById(id)!;
  const { composition } = ingredient;
  const names = { "fatty-acids": ["18:0", "18:1"], triacylglycerols: ["SOS", "SOO"] };
  if (composition.kind !== "fatty-acids" && composition.kind !== "triacylglycerols") {
    return ingredient;
  }
  const [hard, soft] = names[composition.kind] as [string, string];
  const held = { ...composition.percent };
  const step = Math.min(held[soft] ?? 0, Math.max(-(held[hard] ?? 0), harder));
  held[hard] = (held[hard] ?? 0) + step;
  held[soft] = (held[soft] ?? 0) - step;
  const certificate =
    composition.kind === "fatty-acids" ? { fattyAcids: held } : { triacylglycerols: held };
  const lot = withCertificate(ingredient, certificate);
  expect(lot.findings).toEqual([]);
  return lot.ingredient;
}

function question(
  lots: readonly Ingredient[],
  change: Partial<LotQuestion> = {},
): LotQuestion & { readonly product: Product; readonly choice: Choice } {
  const held = new Map(lots.map((lot) => [lot.id, lot]));
  return {
    product: EVERYDAY,
    choice: FIRST,
    ingredientOf: ingredientById,
    lotOf: (id) => held.get(id) ?? ingredientById(id),
    leastShare: 20,
    ...change,
  };
}

const rulesOf = ({ useCelsius, airFraction, rules }: Product) => ({
  ...{ celsius: [], useCelsius, airFraction, rules },
});

/** Shares that the search may be off by, and a neighbour is away [1/10 000]; own choice. */
const NEARER = 5;
const softShea = question([lotOf("shea-butter", -12)]);

describe("a blend judged again with its lots", () => {
  it("keeps its promise with lots like the library's", () => {
    const judged = judgeLots(question([lotOf("shea-butter", 0)]));
    expect(judged.kind).toBe("holds");
  });

  it("leaves it with a soft lot, and says what was promised and what it is now", () => {
    const judged = judgeLots(softShea);
    if (judged.kind !== "leaves") throw new Error(judged.kind);
    expect(judged.library.against).toEqual([]);
    expect(judged.lots.against.map(({ code }) => code)).toContain("judge.softens-above.too-low");
    expect(judged.lots.solidFat.settled).toBeLessThan(judged.library.solidFat.settled);
  });

  it("cannot be judged where the composition of a lot is not known", () => {
    const { ingredient } = withCertificate(ingredientById("shea-butter")!, {
      fattyAcids: { "18:1": 60 },
    });
    expect(correctForLots(question([ingredient]))).toMatchObject({
      kind: "cannot-judge",
      findings: [{ code: "judge.solid-fat.figure-missing", subject: "shea-butter" }],
    });
  });
});

describe("the smallest shift for its lots", () => {
  it("restores the promise from inside the bounds, as near as the search that customers meet", () => {
    const answer = correctForLots(softShea);
    if (answer.kind !== "shift") throw new Error(answer.kind);
    expect(answer.corrected.against).toEqual([]);
    const { lotOf: ingredientOf } = softShea;
    const free = nearestOrderable(EVERYDAY, FIRST, { ingredientOf });
    if (free.kind !== "found") throw new Error(free.kind);
    // With swaps allowed it could only be nearer.
    expect(answer.moved).toBeGreaterThanOrEqual(free.moved);
  });

  it("has no nearer neighbour that would do", () => {
    const answer = correctForLots(softShea);
    if (answer.kind !== "shift") throw new Error(answer.kind);
    const sharesOf = ({ butters, oils }: Choice) => [...butters, ...oils];
    const ordered = sharesOf(FIRST);
    const moved = (choice: Choice) =>
      sharesOf(choice).reduce(
        (sum, { share }, at) => sum + Math.abs(share - ordered[at]!.share),
        0,
      ) / 2;
    expect(moved(answer.choice)).toBe(answer.moved);
    const names = ordered.map(({ ingredient }) => ingredient);
    const neighbours = names.flatMap((up) =>
      names.map((down) => {
        const step = <Each extends { ingredient: string; share: number }>(each: Each) => {
          const by = Number(each.ingredient === up) - Number(each.ingredient === down);
          return { ...each, share: each.share + NEARER * by };
        };
        const { butters, oils } = answer.choice;
        return { ...answer.choice, butters: butters.map(step), oils: oils.map(step) };
      }),
    );
    const verdicts = neighbours
      .filter((choice) => moved(choice) < answer.moved)
      .map((choice) => composeBlend(EVERYDAY, choice, softShea.lotOf))
      .flatMap((composed) => ("blend" in composed ? [composed.blend] : []))
      .map((blend) => judgeBlend(blend, rulesOf(EVERYDAY)).verdict);
    expect(verdicts.length).toBeGreaterThan(0);
    expect(verdicts).not.toContain("orderable");
  });

  it("says which rules and bounds stand in the way where there is none", () => {
    const [base] = EVERYDAY.bases;
    const lock = <Each extends { share: number }>(each: Each) => ({
      ...each,
      least: each.share,
      greatest: each.share,
    });
    const bases = [{ ...base!, butters: base!.butters.map(lock), oils: base!.oils.map(lock) }];
    const answer = correctForLots({ ...softShea, product: { ...EVERYDAY, bases } });
    if (answer.kind !== "none") throw new Error(answer.kind);
    expect(answer.conflicts().map(({ gives }) => gives)).toContain("softens-above");
    expect(answer.otherOil()).toBeUndefined();
  });

  it("names another oil to ask the customer about, where that alone would do", () => {
    // Bounds too tight for a shift of shares; what sets in the place of sunflower oil would do.
    const [base] = EVERYDAY.bases;
    const [glide, care] = EVERYDAY.places;
    const places = [glide!, { ...care!, allowed: ["sunflower-oil", "mango-butter"] }];
    const near = <Each extends { share: number }>(each: Each) => ({
      ...each,
      least: each.share - 50,
      greatest: each.share + 50,
    });
    const bases = [{ ...base!, butters: base!.butters.map(near), oils: base!.oils.map(near) }];
    const rules = { ...EVERYDAY.rules, poreRatingMost: 5, softensAboveLeastCelsius: 24 };
    const product = { ...EVERYDAY, places, bases, rules };
    const answer = correctForLots({ ...softShea, product });
    if (answer.kind !== "none") throw new Error(answer.kind);
    expect(answer.otherOil()?.map(({ ingredient }) => ingredient)).toContain("mango-butter");
  });

  it("keeps in every law: bounds, the exact whole, the same set declared, its order that of the masses", () => {
    const bases = DEMO_PRODUCTS.flatMap(({ product }) =>
      product.bases.map((base) => ({ product, base })),
    );
    let shifts = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...bases),
        fc.array(fc.integer({ min: -14, max: 14 }), { minLength: 2, maxLength: 2 }),
        fc.integer({ min: 1, max: 400 }),
        ({ product, base }, harder, leastShare) => {
          const lots = base.butters.map(({ ingredient }, at) => lotOf(ingredient, harder[at] ?? 0));
          const choice = startingChoice(base);
          const asked = question(lots, { product, choice, leastShare });
          const answer = correctForLots(asked);
          if (answer.kind !== "shift") return;
          shifts++;
          const shares = [...answer.choice.butters, ...answer.choice.oils];
          const ordered = [...choice.butters, ...choice.oils];
          expect(shares.map(({ ingredient }) => ingredient)).toEqual(
            ordered.map(({ ingredient }) => ingredient),
          );
          for (const [at, { least, greatest }] of [...base.butters, ...base.oils].entries()) {
            const { share } = shares[at]!;
            expect(share).toBeGreaterThanOrEqual(least);
            expect(share).toBeLessThanOrEqual(greatest);
            expect(share).toBeGreaterThanOrEqual(Math.min(ordered[at]!.share, leastShare));
            expect(share > 0).toBe(ordered[at]!.share > 0);
          }
          const { blend } = answer.corrected;
          expect(blend.parts.reduce((sum, { share }) => sum + share, 0)).toBe(10_000);
          expect(judgeBlend(blend, rulesOf(product)).verdict).toBe("orderable");
          const size = { jars: [{ fillG: 120, quantity: 7 }], lossShare: 400, scaleStepMg: 10 };
          const scaled = scaleBatch(blend, size);
          if ("findings" in scaled) throw new Error("it cannot be weighed");
          const masses = new Map<string, number>();
          for (const { ingredient, targetMg } of scaled.batch.weighings) {
            masses.set(ingredient.inci, (masses.get(ingredient.inci) ?? 0) + targetMg);
          }
          const declared = inciOrder(blend).entries.map(({ inci }) => masses.get(inci)!);
          for (const [at, mass] of declared.entries()) {
            // Rounded to steps of the scale, two that are as good as equal may lie a step apart.
            if (at > 0) expect(mass).toBeLessThanOrEqual(declared[at - 1]! + 10);
          }
          expect(answer.corrected.label).toBe(inciOrder(blend).text);
        },
      ),
      { numRuns: 60, seed: 7 },
    );
    expect(shifts).toBeGreaterThan(5);
  });
});
