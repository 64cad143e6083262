/**
 * What events lost is found again, within bounds, by one run after the other.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { orders, paymentEvents } from "#data/schema.ts";
import { type PaidShop, openPaidShop } from "../../helpers/paid-shop.ts";

let shop: PaidShop;
beforeEach(async () => {
  shop = await openPaidShop();
});
afterEach(() => shop.end());

const states = async () => (await shop.db.q.select().from(orders)).map(({ state }) => state);

describe("a run of the reconciler", () => {
  it("pays an order whose event never came", async () => {
    const { session } = await shop.place();
    shop.stripe.markPaid(session);
    shop.pass(300);
    await shop.reconcile();
    expect(await states()).toEqual(["paid"]);
  });

  it("leaves alone what is not over yet, and ends what has expired", async () => {
    const { session } = await shop.place();
    shop.pass(300);
    await shop.reconcile();
    expect(await states()).toEqual(["placed"]);
    shop.stripe.markExpired(session);
    await shop.reconcile();
    expect(await states()).toEqual(["expired"]);
  });

  it("finds the session of an order that never heard of it", async () => {
    const { token } = await shop.quote();
    shop.stripe.failNext("drop-after", "drop-before", "drop-before");
    await shop.post("/v1/orders", { quote: token });
    const [session] = shop.stripe.sessions.keys();
    shop.stripe.markPaid(session!);
    shop.pass(300);
    await shop.reconcile();
    expect(await shop.order()).toMatchObject({ state: "paid", tillSessionId: session });
    expect(shop.stripe.sessions.size).toBe(1);
  });

  it("ends an order that never came to the till, once no session can be opened any more", async () => {
    const { token } = await shop.quote();
    shop.stripe.failNext("drop-before", "drop-before", "drop-before");
    await shop.post("/v1/orders", { quote: token });
    shop.pass(3600);
    await shop.reconcile();
    expect(await states()).toEqual(["placed"]);
    shop.pass(2 * 3600);
    await shop.reconcile();
    expect(await states()).toEqual(["expired"]);
    expect(await shop.log()).toContain("payment not begun in time");
  });

  it("works through an event that a crash left between storing and settling", async () => {
    const { session } = await shop.place();
    shop.stripe.markPaid(session);
    const { id, type } = shop.happen("checkout.session.completed", shop.sessionOf(session));
    await shop.shop.events.receive({ id, type, sessionId: session, receivedAt: shop.now() });
    shop.pass(300);
    await shop.reconcile();
    expect(await states()).toEqual(["paid"]);
    expect((await shop.db.q.select().from(paymentEvents))[0]?.settledAt).not.toBeNull();
  });

  it("hears of a refund and a dispute that could not be delivered", async () => {
    const { session } = await shop.place();
    shop.stripe.markPaid(session);
    await shop.hear(shop.happen("checkout.session.completed", shop.sessionOf(session)));
    shop.stripe.markRefunded(session, 700);
    shop.happen("charge.refunded", shop.stripe.sessions.get(session)!.charge);
    shop.happen("charge.dispute.created", shop.stripe.markDisputed(session));
    await shop.reconcile();
    expect(await shop.order()).toMatchObject({
      ...{ refundedMinor: 700, disputeState: "needs_response" },
    });
    const seen = shop.stripe.seen.length;
    await shop.reconcile();
    // Each is worked through once: the second run only asks what could not be delivered.
    expect(shop.stripe.seen.slice(seen).map(({ path }) => path.split("?")[0])).toEqual([
      "/v1/events",
    ]);
  });

  it("is bounded, and comes to every order in turns", async () => {
    const sessions = [];
    for (let n = 0; n < 7; n++) sessions.push((await shop.place()).session);
    for (const session of sessions) shop.stripe.markPaid(session);
    shop.pass(300);
    const looked = await shop.reconcile(3);
    expect(looked).toBeGreaterThan(0);
    expect(looked).toBeLessThanOrEqual(3);
    for (let turn = 0; turn < 6 && (await states()).includes("placed"); turn++) {
      shop.pass(60);
      await shop.reconcile(3);
    }
    expect(new Set(await states())).toEqual(new Set(["paid"]));
  });

  it("stops when the till cannot be reached, says so once, and loses nothing", async () => {
    const { session } = await shop.place();
    shop.stripe.markPaid(session);
    shop.pass(300);
    shop.stripe.failNext("500", "500", "500");
    await shop.reconcile();
    expect(await states()).toEqual(["placed"]);
    expect(shop.logged).toHaveLength(1);
    await shop.reconcile();
    expect(await states()).toEqual(["paid"]);
  });
});
