/**
 * From quote to order: signed, dated, and only once.
 */
import { eq, sql } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { OrderAnswer, Problem, QuoteSnapshot } from "#core/wire.ts";
import { orderEvents, orders, productVersions, products } from "#data/schema.ts";
import { QUOTE_LIFE_S } from "#service/actions/issue-quote.ts";
import { compactVerify, createLocalJWKSet, type JSONWebKeySet } from "jose";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeEach(async () => {
  shop = await openTestShop();
});
afterEach(() => shop.close());

const place = async (quote: string) => {
  const answer = await shop.post("/v1/orders", { quote });
  return { status: answer.status, body: (await answer.json()) as OrderAnswer & Problem };
};

describe("a quote", () => {
  it("freezes price, blend and verdict, and can be checked with the published key alone", async () => {
    const { quote, token } = await shop.quote();
    expect(quote.totalMinor).toBe(2 * quote.jarMinor);
    expect(quote.parts.reduce((sum, { share }) => sum + share, 0)).toBe(10_000);
    expect(quote.firmness).toBe("soft");
    const keys = (await (await shop.request("/v1/quote-keys")).json()) as JSONWebKeySet;
    expect(JSON.stringify(keys)).not.toContain('"d"');
    const { payload } = await compactVerify(token, createLocalJWKSet(keys));
    expect(JSON.parse(new TextDecoder().decode(payload)) as QuoteSnapshot).toEqual(quote);
  });

  it("is worthless once any byte of it is changed", async () => {
    const { token } = await shop.quote();
    // Every eleventh place, and both ends of each of the three parts.
    const ends = [...token.matchAll(/\./g)].flatMap(({ index }) => [index - 1, index + 1]);
    const places = [...Array(token.length).keys()].filter((at) => at % 11 === 0).concat(ends);
    for (const at of places) {
      const other = token[at] === "A" ? "B" : "A";
      const { status, body } = await place(token.slice(0, at) + other + token.slice(at + 1));
      expect([at, status, body.code]).toEqual([at, 400, "order.quote.altered"]);
    }
    expect(await shop.db.q.select().from(orders)).toEqual([]);
    const told = { code: "order.quote.altered", path: "/v1/orders" };
    expect(shop.logged).toEqual(places.map(() => expect.objectContaining(told) as unknown));
  });

  it("of a version that is no longer for sale keeps its own rules, and none without its version is taken", async () => {
    const { token } = await shop.quote();
    const other = await shop.quote();
    await shop.db.q.run(
      sql`insert into product_versions (product_id, version, product, price_policy, published_at)
        select product_id, 2, replace(product, '"greatest":7500', '"greatest":5000'), price_policy, published_at
        from product_versions where product_id = 'everyday'`,
    );
    await shop.db.q
      .update(products)
      .set({ publishedVersion: 2 })
      .where(eq(products.id, "everyday"));
    shop.pass(5); // what is for sale is remembered for some seconds
    const now = await shop.post("/v1/quotes", aQuoteRequest());
    expect([now.status, ((await now.json()) as Problem).code]).toEqual([
      422,
      "compose.choice.refused",
    ]);
    expect((await place(token)).status).toBe(201);
    await shop.db.q.run(
      sql`delete from product_versions where product_id = 'everyday' and version = 1`,
    );
    const { status, body } = await place(other.token);
    expect([status, body.code]).toEqual([409, "order.quote.outdated"]);
  });

  it("is worthless even where the last character says nothing", async () => {
    const { token } = await shop.quote();
    const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    for (const letter of letters.replace(token.at(-1)!, "")) {
      expect((await place(token.slice(0, -1) + letter)).body.code).toBe("order.quote.altered");
    }
  });

  it("from another shop's key is not ours", async () => {
    const other = await openTestShop();
    const { token } = await other.quote();
    other.close();
    expect((await place(token)).body.code).toBe("order.quote.altered");
  });

  it("stands until its last second and not a second longer", async () => {
    const early = await shop.quote();
    const late = await shop.quote();
    shop.pass(QUOTE_LIFE_S - 1);
    expect((await place(early.token)).status).toBe(201);
    shop.pass(1);
    const { status, body } = await place(late.token);
    expect([status, body.code]).toEqual([410, "order.quote.expired"]);
  });
});

describe("an order", () => {
  it("is made once a quote, however often it is asked for", async () => {
    const { token } = await shop.quote();
    const first = await place(token);
    const again = await place(token);
    expect([first.status, again.status]).toEqual([201, 200]);
    expect(again.body).toEqual(first.body);
    const twins = await Promise.all(Array.from({ length: 8 }, () => place(token)));
    expect(new Set(twins.map(({ body }) => body.reference))).toEqual(
      new Set([first.body.reference]),
    );
    expect(await shop.db.q.select().from(orders)).toHaveLength(1);
    expect(await shop.db.q.select().from(orderEvents)).toHaveLength(1);
  });

  it("is made once when twins race on a fresh quote", async () => {
    const { token } = await shop.quote();
    const twins = await Promise.all(Array.from({ length: 8 }, () => place(token)));
    expect(twins.filter(({ status }) => status === 201)).toHaveLength(1);
    expect(new Set(twins.map(({ body }) => body.payUrl)).size).toBe(1);
    expect(await shop.db.q.select().from(orders)).toHaveLength(1);
  });

  it("is refused when the product was withdrawn after the quote", async () => {
    const { token } = await shop.quote();
    await shop.db.q
      .update(products)
      .set({ publishedVersion: null })
      .where(eq(products.id, "everyday"));
    const { status, body } = await place(token);
    expect([status, body.code]).toEqual([404, "compose.product.unknown"]);
    expect(await shop.db.q.select().from(orders)).toEqual([]);
  });

  it("shows its page only to whoever holds its token", async () => {
    const { token } = await shop.quote();
    const { body } = await place(token);
    const path = new URL(body.orderUrl).pathname;
    const page = await shop.request(path);
    expect(page.status).toBe(200);
    expect(page.headers.get("cache-control")).toBe("no-store");
    expect(await page.text()).toContain(body.reference);
    const wrong = path.slice(0, -1) + (path.endsWith("A") ? "B" : "A");
    expect((await shop.request(wrong)).status).toBe(404);
    expect((await shop.request(`/v1${wrong}`)).status).toBe(404);
    const told = await (await shop.request(`/v1${path}`)).json();
    expect(told).toMatchObject({ reference: body.reference, state: "placed", currency: "GBP" });
  });
});

describe("tax on top of the price", () => {
  /** The product as its version stands, with prices that hold no tax. */
  const withoutTax = async (taxShare = 2000) => {
    const [version] = await shop.db.q
      .select()
      .from(productVersions)
      .where(eq(productVersions.productId, "everyday"));
    const policy = { ...JSON.parse(version!.pricePolicy), taxIncluded: false, taxShare };
    await shop.db.q
      .update(productVersions)
      .set({ pricePolicy: JSON.stringify(policy) })
      .where(eq(productVersions.productId, "everyday"));
  };
  const textOf = async (url: string) =>
    (await (await shop.request(new URL(url, "http://shop.test").pathname)).text())
      .replace(/<[^>]+>/g, " ")
      .replace(/\s+/g, " ");
  const pounds = (minor: number) => `£${(minor / 100).toFixed(2)}`;

  it("adds up on the quote, the order's page, at the till and in what is paid", async () => {
    await withoutTax(1999);
    const { quote, token } = await shop.quote({ quantity: 3 });
    const goods = 3 * quote.jarMinor;
    expect(quote.taxOnTop).toBe(true);
    expect(quote.taxMinor).toBe(Math.floor((goods * 1999) / 10_000 + 0.5));
    expect(quote.totalMinor).toBe(goods + quote.taxMinor);
    const { body } = await place(token);
    const sums = `Jars ${pounds(goods)} Tax, on top ${pounds(quote.taxMinor)} Total ${pounds(quote.totalMinor)}`;
    for (const url of [body.orderUrl, body.payUrl!]) {
      expect((await textOf(url)).replace(/ +/g, " ")).toContain(sums);
    }
    const pay = await shop.request(`${new URL(body.payUrl!).pathname}/pay`, {
      method: "POST",
      headers: { "sec-fetch-site": "same-origin" },
    });
    expect(pay.status).toBe(303);
    const [order] = await shop.db.q.select().from(orders);
    expect(order).toMatchObject({ state: "paid", totalMinor: quote.totalMinor });
  });

  it("is told with the offer and on the shop's page", async () => {
    await withoutTax();
    const offer = await (await shop.request("/v1/products/everyday")).json();
    expect(offer).toMatchObject({ taxOnTop: { share: 2000, stepMinor: 1 } });
    expect(await textOf("/shop/everyday")).toContain("Tax comes on top");
  });

  it("is nothing where the price holds it", async () => {
    const { quote, token } = await shop.quote();
    expect(quote.taxOnTop).toBeUndefined();
    expect(quote.totalMinor).toBe(2 * quote.jarMinor);
    const { body } = await place(token);
    expect(await textOf(body.orderUrl)).toContain(`including ${pounds(quote.taxMinor)} tax`);
  });
});
