/**
 * The worked example: a host shop sells a jar with its own payment, from the token in its cart to the event that says
 * the jar is made.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { QUOTE_LIFE_S } from "#service/actions/issue-quote.ts";
import { EventRefused, QuoteRefused, softsetClient, verifyEvent } from "#service/client/client.ts";
import { deliverDue } from "#service/messages/deliver.ts";
import { newEventSecret, signedHeaders } from "#service/messages/event-signature.ts";
import { makeApiKey } from "#service/plugin/keys.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../helpers/shop.ts";
import { openHostShop } from "./host-shop.ts";

const secret = newEventSecret();
let shop: TestShop;
let host: ReturnType<typeof openHostShop>;
/** Requests on their way to the Softset shop, and what the host answered to events. */
const asked: { path: string; key: string | null }[] = [];
const taken: { id: string; status: number }[] = [];
let loseAnswers = 0;

beforeAll(async () => {
  const events = {
    mayReachLoopback: true,
    post: async (_: string, headers: Readonly<Record<string, string>>, body: string) => {
      const init = { method: "POST", headers: { ...headers }, body };
      const { status } = await host.app.request("/softset-events", init);
      taken.push({ id: headers["webhook-id"]!, status });
      return { status, retryAfter: undefined };
    },
  };
  shop = await openTestShop({}, ":memory:", { mail: undefined, events });
  const key = { id: "k", shopId: "quillfen", name: "Corner Larder", madeBy: null };
  host = openHostShop({
    softset: shop.shop.url,
    key: (await makeApiKey(shop.shop, key))!,
    eventSecret: secret,
    product: "everyday",
    fetch: throughTheApp,
  });
  await shop.shop.eventEndpoints.add({
    ...{ id: "e", shopId: "quillfen", url: "https://larder.example/softset-events", secret },
    createdAt: shop.shop.clock.seconds(),
  });
});
afterAll(() => shop.close());

const throughTheApp: typeof globalThis.fetch = async (input, init) => {
  const request = new Request(input, init);
  asked.push({ path: new URL(request.url).pathname, key: request.headers.get("idempotency-key") });
  const answer = await shop.app.request(request);
  if (!request.url.endsWith("/v1/orders") || loseAnswers === 0) return answer;
  loseAnswers -= 1;
  throw new TypeError("the line broke before the answer came");
};

const post = (path: string, body?: object) =>
  host.app.request(path, {
    method: "POST",
    ...(body
      ? { headers: { "content-type": "application/json" }, body: JSON.stringify(body) }
      : {}),
  });

async function fillCart() {
  const { token } = await shop.quote();
  const { cart } = (await (await post("/cart", { token })).json()) as { cart: string };
  return { path: cart, cart: host.carts.get(cart.split("/").at(-1)!)! };
}

describe("a host shop", () => {
  it("sells a jar: quote, own payment, order, events, until it is made", async () => {
    const { path, cart } = await fillCart();
    expect((await post(`${path}/pay`)).status).toBe(303);
    expect(cart.takenMinor).toBe(cart.quote.totalMinor);
    const order = await host.client.order(cart.reference!);
    expect(order).toMatchObject({ state: "paid", hostReference: cart.id, quote: cart.quote.id });
    const [listed] = (await host.client.orders({ hostReference: cart.id })).orders;
    expect(listed).toEqual(order);

    await deliverDue(shop.shop);
    expect(taken.every(({ status }) => status === 204)).toBe(true);
    expect(cart.state).toBe("paid");
    const { id } = (await shop.shop.orders.byReference("quillfen", order.reference))!;
    for (const to of ["in-making", "made"] as const) {
      const at = shop.shop.clock.seconds();
      await shop.shop.orders.move({ orderId: id, to, at, who: "maker", what: to });
    }
    await deliverDue(shop.shop);
    expect(cart.state).toBe("made");
    // placed, paid, in making, made: each told once.
    expect(new Set(taken.map((each) => each.id)).size).toBe(4);
  });

  it("places one order when the answer is lost, by sending the same again", async () => {
    const { path, cart } = await fillCart();
    loseAnswers = 2;
    expect((await post(`${path}/pay`)).status).toBe(503);
    expect((await post(`${path}/pay`)).status).toBe(503);
    expect((await post(`${path}/pay`)).status).toBe(303);
    const attempts = asked.filter(({ path: at }) => at === "/v1/orders").slice(-3);
    expect(new Set(attempts.map(({ key }) => key)).size).toBe(1);
    const { orders } = await host.client.orders({ hostReference: cart.id });
    expect(orders.map(({ reference }) => reference)).toEqual([cart.reference]);
  });

  it("puts no forged token in a cart, and gives the money back when an order is refused", async () => {
    const { token } = await shop.quote();
    const [head, payload, signature] = token.split(".");
    const cheap = JSON.parse(Buffer.from(payload!, "base64url").toString()) as {
      totalMinor: number;
    };
    cheap.totalMinor = 1;
    const forged = Buffer.from(JSON.stringify(cheap)).toString("base64url");
    expect((await post("/cart", { token: `${head}.${forged}.${signature}` })).status).toBe(400);
    const { path, cart } = await fillCart();
    shop.pass(QUOTE_LIFE_S);
    const refused = await post(`${path}/pay`);
    expect([refused.status, cart.takenMinor]).toEqual([409, undefined]);
    expect(await refused.text()).toContain("order.quote.expired");
  });

  it("cancels before making starts", async () => {
    const { path, cart } = await fillCart();
    await post(`${path}/pay`);
    expect((await host.client.cancel(cart.reference!, "out of stock")).state).toBe("cancelled");
    expect((await host.client.cancel(cart.reference!)).state).toBe("cancelled");
  });
});

describe("the client", () => {
  const client = () => softsetClient({ url: `${shop.shop.url}/`, fetch: throughTheApp });

  it("judges and quotes without a key, and says what is missing for orders", async () => {
    const { product, choice } = aQuoteRequest();
    expect((await client().judge({ product, choice })).verdict).toBe("orderable");
    const { quote, token } = await client().quote(aQuoteRequest());
    expect(await client().verifyQuote(token)).toEqual(quote);
    expect(() => client().order("ABC123")).toThrow("set `key`");
  });

  it("says the problem of a refusal, and when it was not the shop that answered", async () => {
    const refused = client().quote({ ...aQuoteRequest(), product: "none" });
    await expect(refused).rejects.toMatchObject({
      problem: { code: "compose.product.unknown", status: 404 },
    });
    const proxy = softsetClient({
      url: "http://proxy.test",
      fetch: () => Promise.resolve(new Response("<h1>Bad gateway</h1>", { status: 502 })),
    });
    await expect(proxy.judge(aQuoteRequest())).rejects.toMatchObject({
      problem: { code: "client.answer.strange", status: 502 },
    });
  });

  it("believes no token that is altered anywhere, signed elsewhere, or too old", async () => {
    const { token } = await shop.quote();
    const verifying = client();
    const whyOf = (each: string) =>
      verifying.verifyQuote(each).then(
        () => "believed",
        (error: unknown) => (error instanceof QuoteRefused ? error.why : String(error)),
      );
    const ends = [...token.matchAll(/\./g)].flatMap(({ index }) => [index - 1, index + 1]);
    const places = [...Array(token.length).keys()].filter((at) => at % 37 === 0);
    for (const at of [...places, ...ends, token.length - 1]) {
      const altered = token.slice(0, at) + (token[at] === "A" ? "B" : "A") + token.slice(at + 1);
      expect([at, await whyOf(altered)]).toEqual([at, "altered"]);
    }
    const other = await openTestShop();
    expect(await whyOf((await other.quote()).token)).toBe("altered");
    other.close();
    const none = `${btoa('{"alg":"none","typ":"softset-quote+json","kid":"x"}')}.e30.AA`;
    expect(await whyOf(none)).toBe("altered");
    const { quote } = await shop.quote();
    const old = await shop.shop.seals.sealQuote({ ...quote, expiresAt: 1 });
    expect(await whyOf(old)).toBe("expired");
  });

  it("believes an event by its signature alone, old and new secret, and none that was touched", async () => {
    const body = JSON.stringify({
      type: "order.paid",
      timestamp: "2026-01-01T00:00:00Z",
      data: {},
    });
    const now = Math.floor(Date.now() / 1000);
    const headersOf = async (at: number, secrets: string[]) =>
      new Headers(await signedHeaders("msg_1", at, body, secrets));
    const older = newEventSecret();
    const both = await headersOf(now, [older, secret]);
    expect(await verifyEvent(body, both, secret)).toMatchObject({
      id: "msg_1",
      type: "order.paid",
    });
    expect(await verifyEvent(body, both, older)).toMatchObject({ id: "msg_1" });
    const old = await headersOf(now - 301, [secret]);
    const refused = await Promise.allSettled([
      verifyEvent(`${body} `, both, secret),
      verifyEvent(body, both, newEventSecret()),
      verifyEvent(body, old, secret),
      verifyEvent(body, new Headers(), secret),
    ]);
    for (const each of refused) {
      expect(each).toMatchObject({ status: "rejected", reason: expect.any(EventRefused) });
    }
  });
});
