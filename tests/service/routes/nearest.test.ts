/**
 * POST /v1/nearest: the nearest orderable choice, or what stands in its way.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeAll(async () => {
  shop = await openTestShop();
});
afterAll(() => shop.close());

const { product, choice } = aQuoteRequest();

async function nearest(body: unknown) {
  const answer = await shop.post("/v1/nearest", body);
  return { status: answer.status, body: (await answer.json()) as Record<string, unknown> };
}

describe("the nearest choice", () => {
  it("of an orderable one is itself", async () => {
    const { status, body } = await nearest({ product, choice });
    expect(status).toBe(200);
    expect(body).toMatchObject({ kind: "found", moved: 0, changes: [], sentence: "" });
  });

  it("of a refused one can be ordered", async () => {
    const butters = choice.butters.map((each) => ({ ...each, share: 0 }));
    const { body } = await nearest({ product, choice: { ...choice, butters } });
    expect(body).toMatchObject({ kind: "found" });
    const again = await shop.post("/v1/verdicts", { product, choice: body["choice"] });
    expect(await again.json()).toMatchObject({ verdict: "orderable" });
  });

  it.each([
    ["a product nobody sells", { product: "x", choice }, 404, "compose.product.unknown"],
    [
      "a base nobody knows",
      { product, choice: { ...choice, base: "x" } },
      422,
      "compose.choice.refused",
    ],
    ["no choice", { product }, 422, "request.body.invalid"],
    ["a key nobody asked for", { product, choice, fast: true }, 422, "request.body.invalid"],
    [
      "a share below nothing",
      { product, choice: { ...choice, butters: [{ ingredient: "shea-butter", share: -1 }] } },
      422,
      "compose.choice.refused",
    ],
  ])("refuses %s", async (_, body, status, code) => {
    const answer = await nearest(body);
    expect(answer.status).toBe(status);
    expect(answer.body["code"]).toBe(code);
  });
});
