/**
 * POST /v1/verdicts: the verdict with every figure, and with its explanation when that is asked for.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { VerdictAnswer } from "#core/wire.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeAll(async () => {
  shop = await openTestShop();
});
afterAll(() => shop.close());

const { product, choice } = aQuoteRequest();

async function verdictOf(more: object = {}): Promise<VerdictAnswer> {
  const answer = await shop.post("/v1/verdicts", { product, choice, ...more });
  expect(answer.status).toBe(200);
  return (await answer.json()) as VerdictAnswer;
}

describe("a verdict", () => {
  it("tells the figures no rule asks for: iodine value, saponification value and oxidation order", async () => {
    const { iodineValue, saponificationValue, oxidation } = await verdictOf();
    expect(iodineValue).toBeGreaterThan(20);
    expect(saponificationValue).toBeGreaterThan(100);
    expect(["steady", "ordinary", "quick", "cannot-judge"]).toContain(oxidation!.order);
  });

  it("is not explained unless asked for", async () => {
    expect(await verdictOf()).not.toHaveProperty("explanation");
    expect(await verdictOf({ explain: false })).not.toHaveProperty("explanation");
  });

  it("is explained on request: sums that equal the solid fat of its curve, and a sentence each", async () => {
    const { solidFat, explanation } = await verdictOf({ explain: true });
    for (const point of solidFat) {
      const settled = explanation!.find(
        ({ celsius, state }) => celsius === point.celsius && state === "settled",
      )!;
      const sum = settled.ingredients.reduce((before, { points }) => before + points, 0);
      expect(sum).toBeCloseTo(point.settled, 2);
      expect(settled.sentence).toContain(`${point.celsius} °C`);
    }
  });

  it("refuses an explain that is neither true nor false, and one on a quote", async () => {
    const odd = await shop.post("/v1/verdicts", { product, choice, explain: "yes" });
    expect(odd.status).toBe(422);
    const quote = await shop.post("/v1/quotes", { ...aQuoteRequest(), explain: true });
    expect(quote.status).toBe(422);
  });
});
