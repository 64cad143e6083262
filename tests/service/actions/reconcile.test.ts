/**
 * What events lost is found again, within bounds, by one run after the other.
 */
import type SQLite from "better-sqlite3";
import { writeFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { messages, orders, paymentEvents } from "#data/schema.ts";
import { receiveEvent } from "#service/actions/receive-event.ts";
import { reconcile } from "#service/actions/reconcile.ts";
import { type PaidShop, openPaidShop } from "../../helpers/paid-shop.ts";
import { freshFile, openTestShop } from "../../helpers/shop.ts";

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

  it("pays an order again in yesterday's copy of the shop, and tells each reader under the same id", async () => {
    const { session } = await shop.place();
    const file = freshFile();
    const { $client: sqlite } = shop.db.q as unknown as { $client: SQLite.Database };
    writeFileSync(file, sqlite.serialize());
    shop.stripe.markPaid(session);
    const paid = shop.happen("checkout.session.completed", shop.sessionOf(session));
    await shop.hear(paid);
    const mailsOf = async ({ db }: Pick<PaidShop, "db">) =>
      (await db.q.select().from(messages))
        .filter(({ kind }) => kind === "mail")
        .map(({ id }) => id);
    const told = await mailsOf(shop);
    expect(told).toHaveLength(2);

    const settings = { ...shop.stripe.settings, webhookSecrets: ["whsec_ofTheTests"] };
    const restored = await openTestShop(settings, file);
    const restoredOrders = () => restored.db.q.select().from(orders);
    expect(await restoredOrders()).toMatchObject([{ state: "placed", capturedMinor: null }]);
    restored.pass(300);
    await reconcile(restored.shop, 40);
    expect(await restoredOrders()).toEqual([
      { ...(await shop.order()), paidAt: expect.any(Number) },
    ]);
    // What was delivered once comes again, and changes nothing.
    await receiveEvent(restored.shop, {
      ...{ id: paid.id, type: paid.type, sessionId: session },
      ...{ orderId: null, paymentId: null, live: false },
    });
    expect((await mailsOf(restored)).sort()).toEqual(told.sort());
    restored.close();
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
