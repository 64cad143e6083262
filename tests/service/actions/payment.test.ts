/**
 * Payment heard from Stripe's signed events and from the customer's return: made once, whatever comes twice or wrong.
 */
import { eq, sql } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { OrderAnswer, Problem } from "#core/wire.ts";
import { orderEvents, orders, paymentEvents } from "#data/schema.ts";
import { TILL_LIFE_S } from "#service/actions/place-order.ts";
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

async function tell(
  session: string,
  id = "evt_1",
  type = "checkout.session.completed",
  livemode = false,
) {
  const about = stripe.sessions.get(session)?.toJson(false) ?? {
    id: session,
    object: "checkout.session",
  };
  const { payload, header } = await signEvent({ id, type, about, livemode }, SECRET);
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

  it("of another set-up, live where this one tests, moves nothing and is told to the operator", async () => {
    const { session } = await placed();
    stripe.markPaid(session);
    const note = "belongs to another set-up: live and test do not mix";
    expect((await tell(session, "evt_1", "checkout.session.completed", true)).status).toBe(200);
    expect(await shop.db.q.select().from(paymentEvents)).toEqual([]);
    stripe.patch(session, { livemode: true });
    expect((await tell(session, "evt_2")).status).toBe(200);
    expect(await standing()).toEqual([{ state: "placed", heldBecause: null }]);
    expect(shop.logged.slice(0, 2)).toEqual([
      { event: "evt_1", note },
      { session, note },
    ]);
  });

  it("is not called taken while nothing can be stored, so that it is sent again", async () => {
    const { session } = await placed();
    stripe.markPaid(session);
    await shop.db.q.run(sql`pragma query_only = on`);
    const refused = await tell(session);
    expect([refused.status, ((await refused.json()) as Problem).code]).toEqual([
      503,
      "service.database.read-only",
    ]);
    await shop.db.q.run(sql`pragma query_only = off`);
    expect(await standing()).toEqual([{ state: "placed", heldBecause: null }]);
    expect((await tell(session)).status).toBe(200);
    expect(await standing()).toEqual([{ state: "paid", heldBecause: null }]);
  });

  it("of a session paid in its last minute takes what was quoted, whatever the prices are by then", async () => {
    const { session } = await placed();
    const [before] = await shop.db.q.select().from(orders);
    await shop.db.q.run(sql`update ingredients set pack_minor = pack_minor * 3`);
    await shop.db.q.run(sql`update shops set costs_revision = costs_revision + 1`);
    shop.pass(TILL_LIFE_S - 60);
    expect((await shop.quote()).quote.totalMinor).toBeGreaterThan(before!.totalMinor);
    stripe.markPaid(session);
    await tell(session);
    const [after] = await shop.db.q.select().from(orders);
    expect(after).toMatchObject({ state: "paid", capturedMinor: before!.totalMinor });
    expect(after!.snapshot).toBe(before!.snapshot);
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

  it("with another order's session in the address shows and takes nothing of that one", async () => {
    const { session } = await placed();
    stripe.markPaid(session);
    const { token } = await shop.quote();
    stripe.failNext("drop-before", "drop-before", "drop-before");
    expect((await shop.post("/v1/orders", { quote: token })).status).toBe(503);
    const both = await shop.db.q.select().from(orders);
    const [theirs, mine] = [session, null].map((id) =>
      both.find(({ tillSessionId }) => tillSessionId === id),
    );
    const path = `/orders/${mine!.id}/${await shop.shop.seals.orderToken(mine!.id)}`;
    const page = await (await shop.request(`${path}?paid=${session}`)).text();
    expect(page).toContain("Waiting for payment");
    expect(page).not.toContain(theirs!.reference);
    const [after] = await shop.db.q.select().from(orders).where(eq(orders.id, mine!.id));
    expect(after).toMatchObject({ state: "placed", tillSessionId: null, capturedMinor: null });
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
    const keys = stripe.seen.map(({ headers }) => headers["idempotency-key"]);
    expect([keys.length, new Set(keys).size]).toEqual([4, 1]);
  });
});

describe("a till that is too busy", () => {
  it("is left alone for as long as it asks, and opens one session after", async () => {
    const { token } = await shop.quote();
    stripe.failNext("429");
    const refused = await shop.post("/v1/orders", { quote: token });
    expect([refused.status, refused.headers.get("retry-after")]).toEqual([503, "7"]);
    expect(stripe.seen).toHaveLength(1);
    expect((await shop.post("/v1/orders", { quote: token })).status).toBe(200);
    expect(stripe.sessions.size).toBe(1);
    expect(new Set(stripe.seen.map(({ headers }) => headers["idempotency-key"])).size).toBe(1);
  });

  it("or no longer knows our key is told to the operator, without the key, and the order is kept", async () => {
    const secretKey = "sk_test_51RevokedKeyThatMustNeverBeLogged";
    const revoked = await openTestShop({ ...stripe.settings, secretKey, webhookSecrets: [SECRET] });
    const { token } = await revoked.quote();
    const refused = await revoked.post("/v1/orders", { quote: token });
    const text = await refused.text();
    expect([refused.status, (JSON.parse(text) as Problem).code]).toEqual([
      503,
      "payment.till.unauthorised",
    ]);
    expect(revoked.logged).toMatchObject([{ code: "payment.till.unauthorised" }]);
    expect(`${text}${JSON.stringify(revoked.logged)}`).not.toMatch(/sk_test|gged/);
    expect(await revoked.db.q.select().from(orders)).toMatchObject([{ state: "placed" }]);
    revoked.close();
  });
});

async function signed(session: string, secret: string, ageS = 0) {
  const about = stripe.sessions.get(session)!.toJson(false);
  const at = Math.floor(Date.now() / 1000) + ageS;
  return signEvent({ type: "checkout.session.completed", about }, secret, at);
}
