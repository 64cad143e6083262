/**
 * The API's description: valid, complete, and true of what is really answered.
 */
import { Validator } from "@seriousme/openapi-schema-validator";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { HostOrder } from "#core/wire-host.ts";
import type { OrderAnswer, QuoteAnswer } from "#core/wire.ts";
import { createApp } from "#service/app.ts";
import { makeApiKey } from "#service/plugin/keys.ts";
import { NAMED } from "#service/plugin/named-shapes.ts";
import { OPERATIONS } from "#service/plugin/operations.ts";
import type { Description } from "#service/plugin/openapi.ts";
import * as blend from "#service/plugin/shapes-blend.ts";
import * as offer from "#service/plugin/shapes-offer.ts";
import * as order from "#service/plugin/shapes-order.ts";
import { problemKind } from "#service/problem.ts";
import type * as z from "zod";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let description: Description;
let secret: string;
beforeAll(async () => {
  shop = await openTestShop();
  description = (await (await shop.request("/v1/openapi.json")).json()) as Description;
  const key = { id: "k", shopId: "quillfen", name: "Host", madeBy: null };
  secret = (await makeApiKey(shop.shop, key))!;
});
afterAll(() => shop.close());

describe("the description", () => {
  it("is valid OpenAPI 3.1, references and all", async () => {
    const validator = new Validator();
    const checked = await validator.validate(
      structuredClone(description) as unknown as Record<string, unknown>,
    );
    expect(checked).toEqual({ valid: true });
    expect(validator.version).toBe("3.1");
    const unresolved = [...JSON.stringify(description).matchAll(/"#\/components\/schemas\/(\w+)"/g)]
      .map(([, name]) => name!)
      .filter((name) => !(name in NAMED));
    expect(unresolved).toEqual([]);
  });

  it("knows every route under /v1, and no route that is not there", () => {
    const routes = createApp(shop.shop)
      .routes.filter(({ method, path }) => method !== "ALL" && /^\/v1\/./.test(path))
      .map(({ method, path }) => `${method} ${path.replaceAll(/:(\w+)/g, "{$1}")}`);
    const described = OPERATIONS.map(({ method, path }) => `${method.toUpperCase()} /v1${path}`);
    expect(described.sort()).toEqual([...new Set(routes)].sort());
    expect(Object.keys(description.paths)).toHaveLength(
      new Set(OPERATIONS.map(({ path }) => path)).size,
    );
  });

  it("says that requests are counted where they are, and nowhere else", async () => {
    const limiter = { clientOf: () => "a", take: async () => 1 };
    const counted = createApp(shop.shop, { limiter });
    for (const { path, method, problems } of OPERATIONS) {
      const init = { method: method.toUpperCase() };
      const { status } = await counted.request(`http://shop.test/v1${path}`, init);
      expect([path, status === 429]).toEqual([path, problems.includes("request.rate.exceeded")]);
    }
  });

  it("names no operation twice, and each parameter of a path", () => {
    const ids = OPERATIONS.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { path, parameters = {} } of OPERATIONS) {
      const wanted = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
      expect([path, Object.keys(parameters)]).toEqual([path, wanted]);
    }
  });

  it("says the status of each problem by the one table of problems", () => {
    for (const { path, method, problems } of OPERATIONS) {
      const { responses } = description.paths[`/v1${path}`]![method] as {
        responses: Record<string, { description: string }>;
      };
      for (const code of problems) {
        expect(responses[problemKind(code).status]!.description).toContain(`${code}: `);
      }
    }
  });

  it("holds nothing of this machine, and lets nobody send a price", () => {
    const { schemas } = description.components as { schemas: Record<string, object> };
    for (const name of ["QuoteRequest", "OrderRequest", "HostOrderRequest", "CancelRequest"]) {
      expect(schemas[name]).toMatchObject({ additionalProperties: false });
      expect(Object.keys((schemas[name] as { properties: object }).properties)).not.toContain(
        "jarMinor",
      );
    }
    expect(JSON.stringify(description)).not.toMatch(/9007199254740991|"\$id"/);
  });
});

/** True when the shape knows every field there is: it takes away what it does not know. */
function fits(shape: z.ZodType, body: unknown): void {
  expect(shape.parse(body)).toEqual(body);
}

const send = async (path: string, body: unknown, headers: Record<string, string> = {}) =>
  (await shop.post(path, body, headers)).json();
const read = async (path: string, headers: Record<string, string> = {}) =>
  (await shop.request(path, { headers })).json();

describe("what is answered", () => {
  const { product, choice } = aQuoteRequest();
  const withShea = (share: number) => ({
    ...choice,
    butters: [
      { ingredient: "shea-butter", share },
      { ingredient: "cocoa-butter", share: 7000 - share },
    ],
  });

  it("about products", async () => {
    fits(offer.ProductListShape, await read("/v1/products"));
    const { products } = (await read("/v1/products")) as { products: { id: string }[] };
    for (const { id } of products) fits(offer.OfferShape, await read(`/v1/products/${id}`));
  });

  it("about choices", async () => {
    fits(blend.VerdictAnswerShape, await send("/v1/verdicts", { product, choice, explain: true }));
    fits(blend.VerdictAnswerShape, await send("/v1/verdicts", { product, choice: withShea(5000) }));
    fits(blend.NearestAnswerShape, await send("/v1/nearest", { product, choice: withShea(4000) }));
    for (const wishes of [
      { feel: "softer" },
      { without: ["shea-butter"] },
      { priceMostMinor: 1 },
    ]) {
      const asked = { product, choice, jar: "jar-120", wishes };
      fits(blend.WishesAnswerShape, await send("/v1/wishes", asked));
    }
    const link = (await send("/v1/blend-links", { product, choice, jar: "jar-120" })) as {
      code: string;
    };
    fits(blend.BlendLinkAnswerShape, link);
    fits(blend.BlendOpenedShape, await read(`/v1/blend-links/${link.code}`));
  });

  it("about quotes and orders", async () => {
    const quoted = (await send("/v1/quotes", aQuoteRequest())) as QuoteAnswer;
    fits(blend.QuoteAnswerShape, quoted);
    fits(order.KeySetShape, await read("/v1/quote-keys"));
    const placed = (await send("/v1/orders", { quote: quoted.token })) as OrderAnswer;
    fits(order.OrderAnswerShape, placed);
    fits(order.OrderStandingShape, await read(`/v1${new URL(placed.orderUrl).pathname}`));
  });

  it("to host shops", async () => {
    const { quote, token } = await shop.quote();
    const key = { authorization: `Bearer ${secret}` };
    const paid = { amountMinor: quote.totalMinor, currency: quote.currency.code };
    const request = { quote: token, hostReference: "H-1", paid };
    const hosted = (await send("/v1/orders", request, {
      ...key,
      "idempotency-key": '"1"',
    })) as HostOrder;
    fits(order.HostOrderShape, hosted);
    fits(order.HostOrdersShape, await read("/v1/orders", key));
    fits(order.HostOrderShape, await send(`/v1/orders/${hosted.reference}/cancel`, {}, key));
  });

  it("when something is refused", async () => {
    const problems = [
      await read("/v1/products/none"),
      await send("/v1/quotes", { ...aQuoteRequest(), jarMinor: 1 }),
      await send("/v1/quotes", { ...aQuoteRequest(), choice: withShea(2000) }),
      await send("/v1/orders", { quote: "a.b.c" }),
    ];
    for (const problem of problems) fits(order.ProblemShape, problem);
  });
});

describe("anything that is sent", () => {
  const valid: Readonly<Record<string, object>> = {
    "/orders": { quote: "a.b.c", hostReference: "H", paid: { amountMinor: 1, currency: "GBP" } },
    "/orders/{reference}/cancel": { why: "no" },
  };
  /** A valid body with one field of it, or one more, set to anything. */
  const bodiesOf = (path: string) => {
    const whole: Record<string, unknown> = {
      ...(valid[path] ?? { ...aQuoteRequest(), wishes: {} }),
    };
    const field = fc.constantFrom(...Object.keys(whole), "price", "__proto__");
    return fc.oneof(
      fc.jsonValue({ maxDepth: 3 }),
      fc
        .tuple(field, fc.jsonValue({ maxDepth: 3 }))
        .map(([name, value]) => ({ ...whole, [name]: value })),
    );
  };

  it.each(OPERATIONS.filter(({ body }) => body).map(({ path }) => path))(
    "to %s is taken or named a problem, and nothing of it fails",
    async (path) => {
      const address = `/v1${path.replace("{reference}", "ABC123")}`;
      await fc.assert(
        fc.asyncProperty(bodiesOf(path), fc.boolean(), async (body, withKey) => {
          const key = { authorization: `Bearer ${secret}`, "idempotency-key": crypto.randomUUID() };
          const answer = await shop.post(address, JSON.stringify(body), withKey ? key : {});
          expect(answer.status).toBeLessThan(500);
          if (answer.ok) return;
          expect(answer.headers.get("content-type")).toBe("application/problem+json");
          fits(order.ProblemShape, await answer.json());
        }),
        { numRuns: 60 },
      );
    },
  );
});

describe("the page of the API", () => {
  it("has every operation, event and shape, and every link on it leads somewhere", async () => {
    const answer = await shop.request("/v1", { headers: { accept: "text/html" } });
    expect(answer.status).toBe(200);
    expect(answer.headers.get("content-security-policy")).toContain("default-src 'none'");
    const page = await answer.text();
    const ids = new Set([...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
    for (const { id } of OPERATIONS) expect(ids).toContain(id);
    for (const name of Object.keys(NAMED)) expect(ids).toContain(`shape-${name}`);
    for (const type of order.ORDER_EVENT_TYPES) expect(page).toContain(`<code>${type}</code>`);
    const targets = [...page.matchAll(/href="#([^"]+)"/g)].map(([, target]) => target);
    expect(targets.filter((target) => !ids.has(target!))).toEqual([]);
    expect(page).not.toContain("<script");
  });
});
