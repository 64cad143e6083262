/**
 * POST /v1/wishes: orderable choices that fit what a customer wishes, or plainly none.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeAll(async () => {
  shop = await openTestShop();
});
afterAll(() => shop.close());

const { product, choice, jar } = aQuoteRequest();

async function wish(body: unknown) {
  const answer = await shop.post("/v1/wishes", body);
  return { status: answer.status, body: (await answer.json()) as Record<string, unknown> };
}

describe("wishes", () => {
  it("are answered with choices that can be ordered, and words for them", async () => {
    const { status, body } = await wish({ product, choice, jar, wishes: { feel: "firmer" } });
    expect(status).toBe(200);
    const offers = body["offers"] as { choice: unknown; sentences: Record<string, string> }[];
    expect(offers.length).toBeGreaterThan(0);
    for (const offer of offers) {
      expect(offer.sentences["gains"]).toMatch(/^firmer at home/);
      const again = await shop.post("/v1/verdicts", { product, choice: offer.choice });
      expect(await again.json()).toMatchObject({ verdict: "orderable" });
    }
  });

  it("that no blend can keep are named, with the nearest", async () => {
    const wishes = { withoutFamilies: ["tree-nut"], holdsToCelsius: 58 };
    const { status, body } = await wish({ product, choice, jar, wishes });
    expect(status).toBe(200);
    expect(body).toMatchObject({ kind: "none", because: [{ wish: { wish: "holds-to" } }] });
    expect(body["nearest"]).toMatchObject({ without: { wish: "holds-to" } });
  });

  const wishes = { feel: "softer" };
  it.each([
    ["a product nobody sells", { product: "x", choice, wishes }, 404, "compose.product.unknown"],
    ["no wish", { product, choice, wishes: {} }, 422, "request.body.invalid"],
    [
      "a wish nobody knows",
      { product, choice, wishes: { colour: 1 } },
      422,
      "request.body.invalid",
    ],
    [
      "a feel nobody knows",
      { product, choice, wishes: { feel: "x" } },
      422,
      "request.body.invalid",
    ],
    [
      "a rating of six",
      { product, choice, wishes: { poreRatingMost: 6 } },
      422,
      "request.body.invalid",
    ],
    [
      "a parcel that boils",
      { product, choice, wishes: { holdsToCelsius: 99 } },
      422,
      "request.body.invalid",
    ],
    [
      "half a penny",
      { product, choice, jar, wishes: { priceMostMinor: 0.5 } },
      422,
      "request.body.invalid",
    ],
    [
      "a price of no jar",
      { product, choice, wishes: { priceMostMinor: 900 } },
      422,
      "request.body.invalid",
    ],
    ["a jar nobody fills", { product, choice, jar: "x", wishes }, 422, "compose.choice.refused"],
    [
      "a family misspelt",
      { product, choice, wishes: { withoutFamilies: ["nutz"] } },
      422,
      "request.body.invalid",
    ],
    [
      "an oil misspelt",
      { product, choice, wishes: { without: ["olive-oyl"] } },
      422,
      "compose.choice.refused",
    ],
    [
      "a base nobody knows",
      { product, choice: { ...choice, base: "x" }, wishes },
      422,
      "compose.choice.refused",
    ],
  ])("refuse %s", async (_, body, status, code) => {
    const answer = await wish(body);
    expect([answer.status, answer.body["code"]]).toEqual([status, code]);
  });
});
