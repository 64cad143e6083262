/**
 * Laws of payments: whatever happens at the till, and in whatever order, however often, or not at all its news comes,
 * the shop ends where the till's own objects say, and no minor unit is lost or invented.
 */
import { eq } from "drizzle-orm";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { orderEvents, orders, refunds } from "#data/schema.ts";
import { cancelOrder } from "#service/actions/cancel-order.ts";
import { leftToRefund, refundOrder } from "#service/actions/refund.ts";
import { Refusal } from "#service/problem.ts";
import { type PaidShop, WAYS, openPaidShop } from "../helpers/paid-shop.ts";

const RUNS = 60;
const MAKER_S = 300;

/** What may happen, each once it can; what cannot is passed over. */
const HAPPENINGS = [
  ...(["pay", "pay slowly", "slow payment comes", "slow payment fails", "expire"] as const),
  ...(["give back a part elsewhere", "give back the rest elsewhere", "a refund fails"] as const),
  ...([
    "dispute",
    "dispute is won",
    "maker gives back",
    "maker cancels",
    "maker cancels and gives back",
  ] as const),
] as const;
type Happening = (typeof HAPPENINGS)[number];

interface News {
  readonly id: string;
  readonly type: string;
  readonly object: unknown;
}

let shop: PaidShop;
let owner: string;
beforeAll(async () => {
  shop = await openPaidShop(WAYS);
  await shop.signIn();
  owner = (await shop.shop.people.ofShop("quillfen"))[0]!.person.id;
});
afterAll(() => shop.end());

const orderOf = async (id: string) => (await shop.shop.orders.byId(id))!;

/** Let something happen at the till, or by the maker's hand; the news of it is kept. */
async function happen(what: Happening, session: string, orderId: string): Promise<News[]> {
  const { stripe } = shop;
  const record = stripe.sessions.get(session)!;
  const json = () => shop.sessionOf(session);
  const { charge, payment } = record;
  const left = charge.amount - charge.amount_refunded;
  const isSlow = !record.isPaid && payment.status === "processing";
  const order = await orderOf(orderId);
  switch (what) {
    case "pay":
    case "pay slowly":
      if (!record.isOpen) return [];
      if (what === "pay") stripe.markPaid(session);
      else stripe.markUnpaid(session);
      return [shop.happen("checkout.session.completed", json())];
    case "slow payment comes":
    case "slow payment fails": {
      if (!isSlow) return [];
      const came = what === "slow payment comes";
      stripe.endSlowPayment(session, came);
      const type = `checkout.session.async_payment_${came ? "succeeded" : "failed"}`;
      return [shop.happen(type, json())];
    }
    case "expire":
      if (!record.isOpen) return [];
      stripe.markExpired(session);
      return [shop.happen("checkout.session.expired", json())];
    case "give back a part elsewhere":
    case "give back the rest elsewhere": {
      if (!record.isPaid || left < 2) return [];
      const minor = what.includes("rest") ? left : Math.ceil(left / 3);
      const refund = stripe.markRefunded(session, minor);
      return [
        shop.happen("refund.created", { ...refund }),
        shop.happen("charge.refunded", { ...charge }),
      ];
    }
    case "a refund fails": {
      const refund = stripe.refunds.find(
        ({ payment_intent: of, status }) => of === record.paymentId && status !== "failed",
      );
      return refund
        ? [shop.happen("refund.failed", { ...stripe.endRefund(refund.id, "failed") })]
        : [];
    }
    case "dispute":
    case "dispute is won":
      if (!record.isPaid) return [];
      return [
        shop.happen("charge.dispute.updated", {
          ...stripe.markDisputed(session, what === "dispute" ? "needs_response" : "won"),
        }),
      ];
    default:
      await byMaker(what, order);
      return [];
  }
}

async function byMaker(what: Happening, order: Awaited<ReturnType<typeof orderOf>>): Promise<void> {
  const act = async () => {
    if (what === "maker gives back") {
      const minor = Math.floor(leftToRefund(order, await shop.shop.refunds.of(order.id)) / 2);
      const request = { id: crypto.randomUUID(), minor, why: "law", askedBy: owner };
      if (minor > 0) await refundOrder(shop.shop, order, request);
      return;
    }
    const back = what.includes("gives back") ? { refundedBy: owner } : {};
    await cancelOrder(shop.shop, order, { who: "maker", why: "law", ...back });
  };
  await act().catch((error: unknown) => {
    if (!(error instanceof Refusal)) throw error; // not to be had in this state, which is an answer
  });
}

/** What must be so once all is heard, by the till's own objects. */
async function checkAgainstTill(session: string, orderId: string): Promise<void> {
  const record = shop.stripe.sessions.get(session)!;
  const { charge } = record;
  const order = await orderOf(orderId);
  const rows = await shop.db.q.select().from(refunds).where(eq(refunds.orderId, orderId));
  const log = (await shop.shop.orders.events(orderId)).map(({ what }) => what);
  const wasPaid = record.isPaid;

  expect(order.capturedMinor).toBe(wasPaid ? charge.amount : null);
  expect(order.refundedMinor).toBe(wasPaid ? charge.amount_refunded : 0);
  const kept = (order.capturedMinor ?? 0) - order.refundedMinor;
  expect(kept).toBeGreaterThanOrEqual(0);
  if (wasPaid) expect(kept).toBe(charge.amount - charge.amount_refunded);
  const counted = rows.filter(({ state }) => state === "done" || state === "pending");
  expect(counted.reduce((sum, { amountMinor }) => sum + amountMinor, 0)).toBe(order.refundedMinor);
  expect(rows.filter(({ state }) => state === "asked")).toEqual([]);

  const cameIn = log.filter((what) => what === "paid" || what.startsWith("paid "));
  expect(cameIn).toHaveLength(wasPaid ? 1 : 0);
  const dispute = shop.stripe.disputes.find(({ payment_intent: of }) => of === record.paymentId);
  expect(order.disputeState).toBe(dispute?.status ?? null);
  const cancelled = log.some((what) => what.startsWith("cancelled"));
  const may = wasPaid
    ? cancelled
      ? ["cancelled", "held"]
      : ["paid", "held"]
    : cancelled
      ? ["cancelled"]
      : ["expired", "placed"];
  expect(may).toContain(order.state);
  // Nobody makes what is not paid for.
  if (order.state === "paid") expect(kept > 0 || charge.amount_refunded < charge.amount).toBe(true);
}

describe("payments", () => {
  it("end as the till's own objects say, whatever comes late, twice, in another order, or never", async () => {
    const scenes = fc.record({
      happenings: fc.array(fc.constantFrom(...HAPPENINGS), { minLength: 2, maxLength: 9 }),
      begin: fc.constantFrom<Happening>("pay", "pay", "pay slowly", "expire", "dispute"),
      /** One for each delivery: which news comes next, and whether it is lost. */
      post: fc.array(fc.record({ at: fc.nat(30), lost: fc.nat(9).map((n) => n < 3) }), {
        maxLength: 24,
      }),
      early: fc.boolean(),
    });
    await fc.assert(
      fc.asyncProperty(scenes, async ({ happenings, begin, post, early }) => {
        const { session, placed } = await shop.place();
        const order = await shop.shop.orders.byReference("quillfen", placed.reference);
        const news: News[] = [];
        const deliver = async ({ at, lost }: (typeof post)[number]) => {
          const one = news[at % news.length];
          if (!one || lost) return;
          expect((await shop.hear(one)).status).toBe(200);
          shop.stripe.deliver(one.id);
        };
        for (const [at, what] of [begin, ...happenings].entries()) {
          news.push(...(await happen(what, session, order!.id)));
          if (early && post[at]) await deliver(post[at]);
        }
        for (const each of post) await deliver(each);
        shop.pass(MAKER_S);
        await shop.reconcile();
        await checkAgainstTill(session, order!.id);
        // Nothing moves any more, however often all of it is heard again.
        const before = await orderOf(order!.id);
        for (const one of news) await shop.hear(one);
        await shop.reconcile();
        expect(await orderOf(order!.id)).toEqual(before);
        await shop.db.q.update(orders).set({ state: "sent" }).where(eq(orders.id, order!.id));
        news.forEach(({ id }) => shop.stripe.deliver(id));
      }),
      { numRuns: RUNS },
    );
    const lines = await shop.db.q.select().from(orderEvents);
    expect(lines.length).toBeGreaterThan(RUNS);
  }, 300_000);
});
