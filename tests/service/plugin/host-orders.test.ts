/**
 * Orders of a host shop: with a key, once, paid to the unit, and nobody else's.
 */
import { eq } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { HostOrder, HostOrderRequest, HostOrders } from "#core/wire-host.ts";
import type { OrderAnswer, Problem } from "#core/wire.ts";
import * as schema from "#data/schema.ts";
import { QUOTE_LIFE_S } from "#service/actions/issue-quote.ts";
import { makeApiKey, renewApiKey } from "#service/plugin/keys.ts";
import { ATTEMPT_MOST_S, KEPT_S } from "#service/plugin/once.ts";
import { createApp } from "#service/app.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
const keys = { ours: "", theirs: "", foreign: "" };
const ids = { ours: "key-ours", theirs: "key-theirs", foreign: "key-foreign" };

beforeAll(async () => {
  shop = await openTestShop();
  const row = (await shop.shop.shops.byId("quillfen"))!;
  await shop.db.atomic([
    shop.db.q.insert(schema.shops).values({ ...row, id: "otherwick", name: "Otherwick" }),
  ]);
  const make = async (id: string, shopId = "quillfen") =>
    (await makeApiKey(shop.shop, { id, shopId, name: id, madeBy: null }))!;
  keys.ours = await make(ids.ours);
  keys.theirs = await make(ids.theirs);
  keys.foreign = await make(ids.foreign, "otherwick");
});
afterAll(() => shop.close());

let drawn = 0;
const draw = () => `attempt-${++drawn}`;
const bearer = (secret: string) => ({ authorization: `Bearer ${secret}` });

async function aRequest(change: Partial<HostOrderRequest> = {}): Promise<HostOrderRequest> {
  const { quote, token } = await shop.quote();
  const paid = { amountMinor: quote.totalMinor, currency: quote.currency.code };
  return { quote: token, hostReference: "H-1001", paid, ...change };
}

async function place(
  body: unknown,
  headers: Record<string, string> = {},
  secret: string = keys.ours,
) {
  const answer = await shop.post("/v1/orders", body, {
    ...bearer(secret),
    "idempotency-key": `"${draw()}"`,
    ...headers,
  });
  return { status: answer.status, body: (await answer.json()) as HostOrder & Problem, answer };
}

const get = async (path: string, secret = keys.ours) => {
  const answer = await shop.request(path, { headers: bearer(secret) });
  return { status: answer.status, body: (await answer.json()) as HostOrder & Problem, answer };
};

const cancel = async (reference: string, secret = keys.ours, body: unknown = {}) => {
  const answer = await shop.post(`/v1/orders/${reference}/cancel`, body, bearer(secret));
  return { status: answer.status, body: (await answer.json()) as HostOrder & Problem };
};

const rowOf = async (reference: string) =>
  (await shop.db.q.select().from(schema.orders).where(eq(schema.orders.reference, reference)))[0]!;
const countOrders = async () => (await shop.db.q.select().from(schema.orders)).length;

describe("an order of a host shop", () => {
  it("stands as paid at once, with what the host said, and its log says who", async () => {
    const deliverTo = {
      name: "Wren Ashdown",
      lines: ["1 Long Lane"],
      city: "Quill",
      region: "",
      postcode: "QF1 1AA",
      country: "GB",
    };
    const customer = { name: "Wren Ashdown", email: "wren@post.example" };
    const request = await aRequest({ customer, deliverTo, language: "de-AT" });
    const { status, body, answer } = await place(request);
    expect(status).toBe(201);
    expect(answer.headers.get("cache-control")).toBe("no-store");
    expect(body).toMatchObject({ state: "paid", hostReference: "H-1001", currency: "GBP" });
    expect(body.totalMinor).toBe(request.paid.amountMinor);
    expect(JSON.stringify(body)).not.toContain("Wren");
    const row = await rowOf(body.reference);
    expect(row).toMatchObject({
      ...{ tillKind: "host", apiKeyId: ids.ours, language: "de-AT", capturedMinor: null },
      ...{ customerName: customer.name, customerEmail: customer.email },
    });
    expect(row.paidAt).toBe(row.placedAt);
    expect(JSON.parse(row.deliverTo!)).toEqual(deliverTo);
    const log = await shop.shop.orders.events(row.id);
    expect(log.map(({ who, what }) => [who, what])).toEqual([
      ["host", "placed"],
      ["host", "paid at the host shop"],
    ]);
    const page = await shop.request(new URL(body.orderUrl).pathname);
    expect(await page.text()).toContain(body.reference);
  });

  it("is one a quote, however often and with whatever keys it is asked for", async () => {
    const request = await aRequest();
    const before = await countOrders();
    const twins = await Promise.all(Array.from({ length: 6 }, () => place(request)));
    expect(new Set(twins.map(({ body }) => body.reference)).size).toBe(1);
    expect(twins.map(({ status }) => status).sort()).toEqual([200, 200, 200, 200, 200, 201]);
    expect(await countOrders()).toBe(before + 1);
    const otherNumber = await place({ ...request, hostReference: "H-1002" });
    expect([otherNumber.status, otherNumber.body.code]).toEqual([409, "order.quote.taken"]);
    const otherHost = await place(request, {}, keys.theirs);
    expect([otherHost.status, otherHost.body.code]).toEqual([409, "order.quote.taken"]);
    expect(await countOrders()).toBe(before + 1);
  });

  it("cannot take over a quote that a customer ordered at the till", async () => {
    const request = await aRequest();
    const order = await shop.post("/v1/orders", { quote: request.quote });
    expect(((await order.json()) as OrderAnswer).payUrl).not.toBeNull();
    const { status, body } = await place(request);
    expect([status, body.code]).toEqual([409, "order.quote.taken"]);
  });

  it.each([
    ["a unit too little", -1, "GBP"],
    ["a unit too much", 1, "GBP"],
    ["another currency", 0, "EUR"],
  ])("is refused when what was paid is %s", async (_, more, currency) => {
    const request = await aRequest();
    const before = await countOrders();
    const paid = { amountMinor: request.paid.amountMinor + more, currency };
    const { status, body } = await place({ ...request, paid });
    expect([status, body.code]).toEqual([422, "payment.amount.mismatch"]);
    expect(await countOrders()).toBe(before);
  });

  it("is refused on a quote that is altered, expired, or another shop's", async () => {
    const request = await aRequest();
    const [head, payload, signature] = request.quote.split(".");
    const cheaper = JSON.parse(Buffer.from(payload!, "base64url").toString("utf8"));
    cheaper.totalMinor = 1;
    const forged = `${head}.${Buffer.from(JSON.stringify(cheaper)).toString("base64url")}.${signature}`;
    const paid = { amountMinor: 1, currency: "GBP" };
    const altered = await place({ ...request, quote: forged, paid });
    expect([altered.status, altered.body.code]).toEqual([400, "order.quote.altered"]);
    const foreign = await place(request, {}, keys.foreign);
    expect([foreign.status, foreign.body.code]).toEqual([404, "order.quote.unknown"]);
    shop.pass(QUOTE_LIFE_S);
    const late = await place(request);
    expect([late.status, late.body.code]).toEqual([410, "order.quote.expired"]);
  });

  it("is refused when the product was withdrawn after the quote", async () => {
    const request = await aRequest();
    const publish = (publishedVersion: number | null) =>
      shop.db.q
        .update(schema.products)
        .set({ publishedVersion })
        .where(eq(schema.products.id, "everyday"));
    const [row] = await shop.db.q
      .select()
      .from(schema.products)
      .where(eq(schema.products.id, "everyday"));
    await publish(null);
    const { status, body } = await place(request);
    await publish(row!.publishedVersion);
    expect([status, body.code]).toEqual([404, "compose.product.unknown"]);
  });
});

describe("a body that is not what it should be", () => {
  const rows: readonly (readonly [string, object, number])[] = [
    ["a price sent along", { jarMinor: 1 }, 422],
    ["a state sent along", { state: "made" }, 422],
    ["an amount with decimals", { paid: { amountMinor: 19.99, currency: "GBP" } }, 422],
    ["an amount as text", { paid: { amountMinor: "1999", currency: "GBP" } }, 422],
    ["a currency in small letters", { paid: { amountMinor: 1, currency: "gbp" } }, 422],
    ["an empty reference", { hostReference: " " }, 422],
    ["a line break in a name", { customer: { name: "Wren\nBcc: x@y.example" } }, 422],
    ["a zero byte in a name", { customer: { name: "Wren\0Ashdown" } }, 422],
    ["half a character in a name", { customer: { name: "Wren \ud83c" } }, 422],
    ["more than can be counted", { paid: { amountMinor: 2 ** 53 + 2, currency: "GBP" } }, 422],
    ["an address that is none", { customer: { email: "wren" } }, 422],
    ["a country in words", { deliverTo: { country: "Britain" } }, 422],
    ["a reference over 64 characters", { hostReference: "H".repeat(65) }, 422],
  ];
  it.each(rows)("is refused: %s", async (_, change, status) => {
    const before = await countOrders();
    const answer = await place({ ...(await aRequest()), ...change });
    expect([answer.status, answer.body.code]).toEqual([status, "request.body.invalid"]);
    expect(answer.answer.headers.get("content-type")).toBe("application/problem+json");
    expect(answer.body.errors!.length).toBeGreaterThan(0);
    expect(await countOrders()).toBe(before);
  });

  it.each([
    ["no JSON", "{", { "content-type": "application/json" }, 400, "request.body.malformed"],
    ["a form", "a=b", { "content-type": "text/plain" }, 415, "request.body.wrong-type"],
    ["too large", `{"quote":"${"q".repeat(70_000)}"}`, {}, 413, "request.body.too-large"],
    ["null", "null", {}, 422, "request.body.invalid"],
  ] as const)("is refused: %s", async (_, body, headers, status, code) => {
    const answer = await place(body, headers);
    expect([answer.status, answer.body.code]).toEqual([status, code]);
  });
});

describe("the key", () => {
  it.each([
    ["none", {}, "request.key.missing"],
    ["of another kind", { authorization: "Basic c29mdDpzZXQ=" }, "request.key.missing"],
    ["unknown", { authorization: "Bearer softset_nobody" }, "request.key.unknown"],
  ])("%s opens nothing", async (_, headers: Record<string, string>, code) => {
    for (const path of ["/v1/orders", "/v1/orders/ABC123"]) {
      const answer = await shop.request(path, { headers });
      expect([answer.status, ((await answer.json()) as Problem).code]).toEqual([401, code]);
      expect(answer.headers.get("www-authenticate")).toMatch(/^Bearer/);
      expect(answer.headers.get("access-control-allow-origin")).toBeNull();
    }
  });

  it("is stored as a hash alone, and its use is noted", async () => {
    await get("/v1/orders");
    const rows = await shop.db.q.select().from(schema.apiKeys);
    expect(JSON.stringify(rows)).not.toContain(keys.ours);
    expect(rows.find(({ id }) => id === ids.ours)!.lastUsedAt).toBe(shop.shop.clock.seconds());
  });

  it("keeps its orders when its secret is renewed, and the secret before stops at once", async () => {
    const made = { id: "key-renewed", shopId: "quillfen", name: "Renewed", madeBy: null };
    const first = (await makeApiKey(shop.shop, made))!;
    const { body } = await place(await aRequest(), {}, first);
    const second = (await renewApiKey(shop.shop, "quillfen", made.id))!;
    expect((await get(`/v1/orders/${body.reference}`, first)).body.code).toBe(
      "request.key.unknown",
    );
    expect((await get(`/v1/orders/${body.reference}`, second)).status).toBe(200);
    await shop.shop.apiKeys.revoke("quillfen", made.id, shop.shop.clock.seconds());
    expect((await get(`/v1/orders/${body.reference}`, second)).status).toBe(401);
  });

  it("opens its own orders alone: another's are as if they were not there", async () => {
    const { body } = await place(await aRequest());
    const path = `/v1/orders/${body.reference}`;
    expect((await get(path)).body).toEqual(body);
    const asThough = (problem: Problem) => ({ ...problem, instance: "" });
    for (const secret of [keys.theirs, keys.foreign]) {
      const missing = await get("/v1/orders/ZZZZZZ", secret);
      const theirs = await get(path, secret);
      expect([theirs.status, asThough(theirs.body)]).toEqual([404, asThough(missing.body)]);
      expect((await cancel(body.reference, secret)).status).toBe(404);
    }
  });
});

describe("the Idempotency-Key", () => {
  it.each([
    ["missing", undefined, "request.idempotency-key.missing"],
    ["empty", '""', "request.idempotency-key.invalid"],
    ["of 300 characters", `"${"k".repeat(300)}"`, "request.idempotency-key.invalid"],
    ["with a quote left open", '"abc', "request.idempotency-key.invalid"],
    ["with a space and no quotes", "a b", "request.idempotency-key.invalid"],
  ])("%s is refused", async (_, key, code) => {
    const headers = {
      ...bearer(keys.ours),
      ...(key === undefined ? {} : { "idempotency-key": key }),
    };
    const answer = await shop.post("/v1/orders", await aRequest(), headers);
    expect([answer.status, ((await answer.json()) as Problem).code]).toEqual([400, code]);
  });

  it("gives the first answer again, to the byte, in quotes or without", async () => {
    const request = await aRequest();
    const first = await place(request, { "idempotency-key": '"cart-77"' });
    const again = await place(request, { "idempotency-key": "cart-77" });
    expect([first.status, again.status]).toEqual([201, 201]);
    expect(again.body).toEqual(first.body);
    expect(again.answer.headers.get("content-type")).toBe("application/json");
  });

  it("gives a refusal again too, and never does the work after all", async () => {
    const request = await aRequest();
    const wrong = { ...request, paid: { ...request.paid, amountMinor: 1 } };
    const headers = { "idempotency-key": '"cart-78"' };
    const [first, again] = [await place(wrong, headers), await place(wrong, headers)];
    expect([first.status, again.status]).toEqual([422, 422]);
    expect(again.body).toEqual(first.body);
  });

  it("is refused for another body, and is no business of another host's", async () => {
    const headers = { "idempotency-key": '"cart-79"' };
    expect((await place(await aRequest(), headers)).status).toBe(201);
    const other = await place(await aRequest(), headers);
    expect([other.status, other.body.code]).toEqual([422, "request.idempotency-key.reused"]);
    expect((await place(await aRequest(), headers, keys.theirs)).status).toBe(201);
  });

  it("waits while the first request is at work, and takes over what never ended", async () => {
    const request = await aRequest();
    const key = draw();
    const headers = { "idempotency-key": `"${key}"` };
    const first = await place(request, headers);
    // As the row stands when the machine stopped between the order and its answer.
    await shop.db.q
      .update(schema.idempotencyKeys)
      .set({ status: null, answer: null })
      .where(eq(schema.idempotencyKeys.key, key));
    const early = await place(request, headers);
    expect([early.status, early.body.code]).toEqual([409, "request.idempotency-key.running"]);
    expect(Number(early.answer.headers.get("retry-after"))).toBe(ATTEMPT_MOST_S);
    shop.pass(ATTEMPT_MOST_S);
    const late = await place(request, headers);
    expect([late.status, late.body.reference]).toEqual([200, first.body.reference]);
    expect((await place(request, headers)).body).toEqual(late.body);
  });

  it("makes one order of twins that race with the same key", async () => {
    const [request, headers] = [await aRequest(), { "idempotency-key": `"${draw()}"` }];
    const before = await countOrders();
    const twins = await Promise.all(Array.from({ length: 6 }, () => place(request, headers)));
    expect(twins.filter(({ status }) => status === 201).length).toBeGreaterThan(0);
    expect(twins.every(({ status }) => status === 201 || status === 409)).toBe(true);
    expect(await countOrders()).toBe(before + 1);
  });

  it("is free again after a fault of ours, and forgotten after its time", async () => {
    const request = await aRequest();
    const headers = { ...bearer(keys.ours), "idempotency-key": '"cart-80"' };
    const broken = createApp({
      ...shop.shop,
      hostOrders: {
        ...shop.shop.hostOrders,
        place: () => Promise.reject(new Error("the disk is full")),
      },
    });
    const init = {
      method: "POST",
      headers: { ...headers, "content-type": "application/json" },
      body: JSON.stringify(request),
    };
    expect((await broken.request("http://shop.test/v1/orders", init)).status).toBe(500);
    expect((await place(request, headers)).status).toBe(201);
    shop.pass(KEPT_S + 1);
    expect((await place(await aRequest(), headers)).status).toBe(201);
  });
});

describe("an order that is cancelled", () => {
  it("was not begun; asking twice is asking once", async () => {
    const { body } = await place(await aRequest());
    const first = await cancel(body.reference, keys.ours, { why: "changed their mind" });
    expect([first.status, first.body.state]).toEqual([200, "cancelled"]);
    expect((await cancel(body.reference)).body).toEqual(first.body);
    const { id } = await rowOf(body.reference);
    const log = await shop.shop.orders.events(id);
    expect(log.at(-1)).toMatchObject({ who: "host", what: "cancelled: changed their mind" });
  });

  it("is refused once making has started, and nothing changes", async () => {
    const { body } = await place(await aRequest());
    const { id } = await rowOf(body.reference);
    const at = shop.shop.clock.seconds();
    await shop.shop.orders.move({ orderId: id, to: "in-making", at, who: "maker", what: "begun" });
    const { status, body: problem } = await cancel(body.reference);
    expect([status, problem.code]).toEqual([409, "order.state.conflict"]);
    expect((await get(`/v1/orders/${body.reference}`)).body.state).toBe("in-making");
  });

  it("cannot be given a state or an amount", async () => {
    const { body } = await place(await aRequest());
    const answer = await cancel(body.reference, keys.ours, { refundMinor: 5 });
    expect([answer.status, answer.body.code]).toEqual([422, "request.body.invalid"]);
  });
});

describe("the list of orders", () => {
  it("goes through all of a host's orders page by page, each once, and no other's", async () => {
    const made = { id: "key-list", shopId: "quillfen", name: "List", madeBy: null };
    const secret = (await makeApiKey(shop.shop, made))!;
    const placed: string[] = [];
    for (let at = 0; at < 7; at++) {
      if (at % 2 === 0) shop.pass(1); // some share a second
      placed.push(
        (await place(await aRequest({ hostReference: `L-${at}` }), {}, secret)).body.reference,
      );
    }
    const seen: string[] = [];
    let path: string | undefined = "/v1/orders?most=3";
    while (path !== undefined) {
      const { status, body, answer } = await get(path, secret);
      expect(status).toBe(200);
      seen.push(...(body as unknown as HostOrders).orders.map(({ reference }) => reference));
      const next = /^<http:\/\/shop\.test(.+)>; rel="next"$/.exec(
        answer.headers.get("link") ?? "",
      )?.[1];
      expect(next === undefined).toBe((body as unknown as HostOrders).next === null);
      path = next;
    }
    expect(seen.sort()).toEqual(placed.sort());
    const one = (await get("/v1/orders?hostReference=L-4", secret)).body as unknown as HostOrders;
    expect(one.orders.map(({ hostReference }) => hostReference)).toEqual(["L-4"]);
    const since = `/v1/orders?since=${shop.shop.clock.seconds()}`;
    const late = (await get(since, secret)).body as unknown as HostOrders;
    expect(late.orders.map(({ hostReference }) => hostReference)).toEqual(["L-6"]);
  });

  it.each(["most=0", "most=201", "most=1&most=2", "since=-1", "since=1e9", "after=x", "page=2"])(
    "refuses ?%s",
    async (query) => {
      const { status, body } = await get(`/v1/orders?${query}`);
      expect([status, body.code]).toEqual([422, "request.query.invalid"]);
    },
  );
});

describe("pages of other shops", () => {
  const origin = { origin: "https://evil.example" };
  const allowed = (answer: Response) => answer.headers.get("access-control-allow-origin");

  it("may ask for quotes and for the keys that check them", async () => {
    for (const path of ["/v1/quote-keys", "/v1/products"]) {
      const answer = await shop.request(path, { headers: origin });
      expect([answer.status, allowed(answer)]).toEqual([200, "*"]);
      expect(answer.headers.get("access-control-allow-credentials")).toBeNull();
    }
    const set = await shop.request("/v1/quote-keys");
    expect(set.headers.get("content-type")).toBe("application/jwk-set+json");
    expect(set.headers.get("cache-control")).toMatch(/max-age=\d+/);
    expect(await set.json()).toMatchObject({ keys: [{ kid: expect.any(String), use: "sig" }] });
  });

  it("see nothing that a key opens, in answers, problems and preflights", async () => {
    const { body } = await place(await aRequest());
    const secret = { ...origin, ...bearer(keys.ours) };
    const json = { ...secret, "content-type": "application/json" };
    const cancelled = { method: "POST", headers: json, body: "{}" };
    const answers = [
      await shop.request("/v1/orders", { headers: secret }),
      await shop.request(`/v1/orders/${body.reference}`, { headers: secret }),
      await shop.request("/v1/orders/NOTHIN", { headers: secret }),
      await shop.request(`/v1/orders/${body.reference}/cancel`, cancelled),
      await shop.post("/v1/orders", await aRequest(), secret),
      ...(await Promise.all(
        ["/v1/orders", `/v1/orders/${body.reference}`, `/v1/orders/${body.reference}/cancel`].map(
          (path) =>
            shop.request(path, {
              method: "OPTIONS",
              headers: { ...origin, "access-control-request-method": "GET" },
            }),
        ),
      )),
    ];
    expect(answers.map(allowed)).toEqual(answers.map(() => null));
    const preflight = await shop.request("/v1/orders", {
      method: "OPTIONS",
      headers: { ...origin, "access-control-request-method": "POST" },
    });
    expect(preflight.headers.get("access-control-allow-headers")).toBe("content-type");
  });
});
