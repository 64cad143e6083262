/**
 * Payment heard from Stripe's signed events and from the customer's return: made once, whatever comes twice or wrong.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { OrderAnswer, Problem } from "#core/wire.ts";
import { orderEvents, orders, paymentEvents } from "#data/schema.ts";
import { signEvent } from "../../helpers/sign-event.ts";
import { type StripeServer, startStripeServer } from "../../helpers/stripe-server.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

const SECRET = "whsec_ofTheTests";

let stripe: StripeServer;
let shop: TestShop;
beforeEach(async () => {
  stripe = await startStripeServer();
  shop = await openTestShop({ ...stripe.settings, webhookSecrets: [SECRET], timeoutMs: 500 });
});
afterEach(async () => {
  shop.close();
  await stripe.close();
});

async function placed(): Promise<{ readonly order: OrderAnswer; readonly session: string }> {
  const { token } = await shop.quote();
  const order = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
  return { order, session: [...stripe.sessions.keys()].at(-1)! };
}

async function tell(session: string, id = "evt_1", type = "checkout.session.completed") {
  const about = stripe.sessions.get(session)?.toJson(false) ?? {
    id: session,
    object: "checkout.session",
  };
  const { payload, header } = await signEvent({ id, type, about }, SECRET);
  return send(payload, header);
}

function send(payload: string, header: string) {
  return shop.request("/v1/payment-events", {
    method: "POST",
    headers: { "stripe-signature": header },
    body: payload,
  });
}

const standing = async () =>
  (await shop.db.q.select().from(orders)).map(({ state, heldBecause }) => ({ state, heldBecause }));
const log = async () => (await shop.db.q.select().from(orderEvents)).map(({ what }) => what);

describe("a signed event", () => {
  it("pays the order, once, though it is sent five times at once", async () => {
    const { session } = await placed();
    stripe.markPaid(session);
    const answers = await Promise.all(Array.from({ length: 5 }, () => tell(session)));
    expect(answers.map(({ status }) => status)).toEqual([200, 200, 200, 200, 200]);
    expect(await standing()).toEqual([{ state: "paid", heldBecause: null }]);
    expect(await log()).toEqual(["placed", "paid"]);
    expect(await shop.db.q.select().from(paymentEvents)).toHaveLength(1);
  });

  it("replayed later changes nothing", async () => {
    const { session } = await placed();
    stripe.markPaid(session);
    await tell(session);
    shop.pass(60);
    expect(await (await tell(session)).json()).toEqual({ received: true, repeated: true });
    await tell(session, "evt_2");
    expect(await log()).toEqual(["placed", "paid"]);
  });

  it("says nothing by itself: unpaid at the till stays unpaid here", async () => {
    const { session } = await placed();
    stripe.markUnpaid(session);
    await tell(session);
    expect(await standing()).toEqual([{ state: "placed", heldBecause: null }]);
  });

  it.each([
    ["a wrong secret", async (session: string) => signed(session, "whsec_ofSomebodyElse")],
    ["a signature 301 seconds old", async (session: string) => signed(session, SECRET, -301)],
    [
      "one byte changed after signing",
      async (session: string) => {
        const { payload, header } = await signed(session, SECRET);
        return { payload: payload.replace("evt_1", "evt_2"), header };
      },
    ],
    [
      "no signature",
      async (session: string) => ({ ...(await signed(session, SECRET)), header: "" }),
    ],
  ])("with %s is refused and stored nowhere", async (_, forge) => {
    const { session } = await placed();
    stripe.markPaid(session);
    const { payload, header } = await forge(session);
    const answer = await send(payload, header);
    expect(answer.status).toBe(400);
    expect(((await answer.json()) as Problem).code).toBe("payment.signature.invalid");
    expect(await standing()).toEqual([{ state: "placed", heldBecause: null }]);
    expect(await shop.db.q.select().from(paymentEvents)).toEqual([]);
  });

  it("about a session of nobody's is answered, kept and logged", async () => {
    expect((await tell("cs_test_unknown")).status).toBe(200);
    expect(await shop.db.q.select().from(paymentEvents)).toHaveLength(1);
    expect(shop.logged).toHaveLength(1);
  });

  it("of a kind nobody knows is kept and does nothing", async () => {
    expect((await tell("x", "evt_9", "something.new")).status).toBe(200);
    expect(await shop.db.q.select().from(paymentEvents)).toHaveLength(1);
  });

  it.each([
    ["amount", { amount_subtotal: 1 }],
    ["currency", { currency: "eur" }],
  ])("with another %s holds the order for the maker", async (_, fields) => {
    const { session } = await placed();
    stripe.markPaid(session);
    stripe.patch(session, fields);
    await tell(session);
    const [order] = await standing();
    expect(order?.state).toBe("held");
    expect(order?.heldBecause).toContain("the order says");
  });

  it("is worked through later when the till could not be asked", async () => {
    const { session } = await placed();
    stripe.markPaid(session);
    stripe.failNext("500", "500", "500");
    expect((await tell(session)).status).toBe(503);
    expect(await standing()).toEqual([{ state: "placed", heldBecause: null }]);
    expect((await tell(session)).status).toBe(200);
    expect(await standing()).toEqual([{ state: "paid", heldBecause: null }]);
  });
});

describe("the customer's return", () => {
  it("pays the order before any event came, and the event after it changes nothing", async () => {
    const { order, session } = await placed();
    stripe.markPaid(session);
    const path = new URL(order.orderUrl).pathname;
    const pages = await Promise.all(Array.from({ length: 6 }, () => shop.request(path)));
    expect(await pages[0]!.text()).toContain("Paid. Thank you");
    await tell(session);
    expect(await log()).toEqual(["placed", "paid"]);
  });

  it("shows the order when the till cannot be asked", async () => {
    const { order } = await placed();
    stripe.failNext("drop-before", "drop-before", "drop-before");
    const page = await shop.request(new URL(order.orderUrl).pathname);
    expect(await page.text()).toContain("Waiting for payment");
  });

  it("after the time is over says that no money was taken", async () => {
    const { order, session } = await placed();
    stripe.markExpired(session);
    const page = await shop.request(new URL(order.orderUrl).pathname);
    expect(await page.text()).toContain("Not paid in time");
    expect(await standing()).toEqual([{ state: "expired", heldBecause: null }]);
  });
});

describe("opening the till", () => {
  it("asks for exactly what was quoted and opens one session, though the answer was lost", async () => {
    const { quote, token } = await shop.quote();
    stripe.failNext("drop-after");
    const answer = await shop.post("/v1/orders", { quote: token });
    expect(answer.status).toBe(201);
    expect(stripe.sessions.size).toBe(1);
    const form = stripe.seen.at(-1)!.form as { line_items: { price_data: unknown }[] };
    expect(form.line_items[0]).toMatchObject({
      quantity: "2",
      price_data: { currency: "gbp", unit_amount: String(quote.jarMinor) },
    });
  });

  it("keeps the order when the till is down, and goes on with the same one later", async () => {
    const { token } = await shop.quote();
    stripe.failNext("drop-before", "drop-before", "drop-before");
    const down = await shop.post("/v1/orders", { quote: token });
    expect([down.status, down.headers.get("retry-after")]).toEqual([503, "10"]);
    expect(((await down.json()) as Problem).detail).toContain("Your order is kept");
    expect(await standing()).toEqual([{ state: "placed", heldBecause: null }]);
    shop.pass(30);
    const up = await shop.post("/v1/orders", { quote: token });
    expect(up.status).toBe(200);
    expect(stripe.sessions.size).toBe(1);
    expect(await shop.db.q.select().from(orders)).toHaveLength(1);
  });
});

async function signed(session: string, secret: string, ageS = 0) {
  const about = stripe.sessions.get(session)!.toJson(false);
  const at = Math.floor(Date.now() / 1000) + ageS;
  return signEvent({ type: "checkout.session.completed", about }, secret, at);
}
