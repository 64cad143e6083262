/**
 * Money that went back, heard from the payment service: noted once, shown in the log, and nobody makes what is not
 * paid for.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { orderEvents, orders } from "#data/schema.ts";
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

const order = async () => (await shop.db.q.select().from(orders))[0]!;
const log = async () => (await shop.db.q.select().from(orderEvents)).map(({ what }) => what);

async function hear(type: string, about: object, id: string): Promise<void> {
  const { payload, header } = await signEvent({ id, type, about: about as never }, SECRET);
  const answer = await shop.request("/v1/payment-events", {
    method: "POST",
    headers: { "stripe-signature": header },
    body: payload,
  });
  expect(answer.status).toBe(200);
}

/** An order paid by somebody, and its session. */
async function paid(): Promise<string> {
  const { token } = await shop.quote();
  await shop.post("/v1/orders", { quote: token });
  const session = [...stripe.sessions.keys()].at(-1)!;
  stripe.markPaid(session, "wren@customer.example");
  await hear("checkout.session.completed", stripe.sessions.get(session)!.toJson(false), "evt_1");
  return session;
}

/** News of a refund is about the charge: it names the order, and no session. */
const refunded = async (id: string) =>
  hear(
    "charge.refunded",
    { id: "ch_1", object: "charge", metadata: { order: (await order()).id } },
    id,
  );

describe("a refund", () => {
  it("in part is noted once, and the order is made all the same", async () => {
    const session = await paid();
    expect(await order()).toMatchObject({ state: "paid", customerEmail: "wren@customer.example" });
    stripe.markRefunded(session, 500);
    await refunded("evt_2");
    await refunded("evt_3");
    expect(await order()).toMatchObject({ state: "paid", refundedMinor: 500 });
    expect((await log()).filter((what) => what.startsWith("given back"))).toHaveLength(1);
  });

  it("of all of it holds an order that waits to be made", async () => {
    const session = await paid();
    const { totalMinor } = await order();
    stripe.markRefunded(session, totalMinor);
    await refunded("evt_2");
    expect(await order()).toMatchObject({ state: "held", refundedMinor: totalMinor });
    expect(await log()).toContain("all of the money was given back");
  });
});
