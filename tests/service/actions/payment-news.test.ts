/**
 * News of payments as it really comes: slow, twice, out of order, about what nobody knows; refunds and disputes made
 * elsewhere. The till's own objects decide, whatever the news says.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { disputes, paymentEvents, refunds } from "#data/schema.ts";
import { cancelOrder } from "#service/actions/cancel-order.ts";
import { type PaidShop, openPaidShop } from "../../helpers/paid-shop.ts";
import { sendForm } from "../../helpers/shop-acts.ts";

let shop: PaidShop;
let session: string;
beforeEach(async () => {
  shop = await openPaidShop();
  ({ session } = await shop.place());
});
afterEach(() => shop.end());

const tell = async (type: string, object: unknown = shop.sessionOf(session)) =>
  expect((await shop.hear(shop.happen(type, object))).status).toBe(200);
const charge = () => shop.stripe.sessions.get(session)!.charge;
async function pay() {
  shop.stripe.markPaid(session);
  await tell("checkout.session.completed");
}

describe("a slow payment", () => {
  it("is on its way until it comes, and the customer is not sent to pay again", async () => {
    shop.stripe.markUnpaid(session);
    await tell("checkout.session.completed");
    await tell("checkout.session.completed");
    const order = await shop.order();
    expect(order).toMatchObject({ state: "placed", capturedMinor: null });
    expect(order.pendingSince).not.toBeNull();
    const token = await shop.shop.seals.orderToken(order.id);
    const page = await (await shop.request(`/orders/${order.id}/${token}`)).text();
    expect(page).toContain("Your payment is on its way");
    expect(page).not.toContain("Go to payment");
    shop.stripe.endSlowPayment(session, true);
    await tell("checkout.session.async_payment_succeeded");
    expect((await shop.order()).state).toBe("paid");
    expect(await shop.log()).toEqual(["placed", "payment on its way", "paid"]);
  });

  it("that fails ends the order, and the blend may be ordered anew", async () => {
    shop.stripe.markUnpaid(session);
    await tell("checkout.session.completed");
    shop.stripe.endSlowPayment(session, false);
    await tell("checkout.session.async_payment_failed");
    expect(await shop.order()).toMatchObject({ state: "expired", capturedMinor: null });
    expect(await shop.log()).toContain("the payment did not come through");
    const { id } = await shop.order();
    const token = await shop.shop.seals.orderToken(id);
    const page = await (await shop.request(`/orders/${id}/${token}`)).text();
    const [, blend] = /class="act" href="([^"]+)"/.exec(page)!;
    expect((await shop.request(blend!.replaceAll("&#x3D;", "="))).status).toBe(200);
    expect((await shop.place()).placed.state).toBe("placed");
  });

  it("whose success is heard before its completion is paid once", async () => {
    shop.stripe.markUnpaid(session);
    shop.stripe.endSlowPayment(session, true);
    await tell("checkout.session.async_payment_succeeded");
    await tell("checkout.session.completed");
    expect(await shop.log()).toEqual(["placed", "paid"]);
  });
});

describe("news out of order", () => {
  it("of an expiry after the payment is no news", async () => {
    await pay();
    await tell("checkout.session.expired", { ...shop.sessionOf(session), status: "expired" });
    expect((await shop.order()).state).toBe("paid");
  });

  it("of a whole refund before the payment leaves nothing to be made", async () => {
    shop.stripe.markPaid(session);
    const { amount } = charge();
    shop.stripe.markRefunded(session, amount);
    await tell("charge.refunded", charge());
    expect(await shop.order()).toMatchObject({ state: "held", refundedMinor: amount });
    await tell("checkout.session.completed");
    expect(await shop.order()).toMatchObject({ state: "held", refundedMinor: amount });
  });

  it("of a payment for an order that was cancelled holds it, with its money ready to go back", async () => {
    await cancelOrder(shop.shop, await shop.order(), {
      who: "maker",
      why: "the shea has not come",
    });
    expect(shop.sessionOf(session)).toMatchObject({ status: "expired" });
    shop.stripe.markPaid(session); // pressed in the same second
    await tell("checkout.session.completed");
    const order = await shop.order();
    expect(order).toMatchObject({ state: "held", heldBecause: "paid after it was cancelled" });
    expect(order.capturedMinor).toBe(order.totalMinor);
  });

  it("of a payment for an order that was held before its money came keeps it held, and counts it", async () => {
    shop.stripe.patch(session, { status: "melted" });
    await tell("checkout.session.completed");
    expect(await shop.order()).toMatchObject({ state: "held", capturedMinor: null });
    shop.stripe.markPaid(session);
    await tell("checkout.session.completed");
    const { state, capturedMinor, totalMinor } = await shop.order();
    expect([state, capturedMinor]).toEqual(["held", totalMinor]);
  });
});

describe("refunds made elsewhere", () => {
  beforeEach(pay);
  const kept = async () =>
    (await shop.db.q.select().from(refunds)).map(({ amountMinor, state }) => [amountMinor, state]);

  it("in three parts, heard in any order and twice, are the till's own sum", async () => {
    const parts = [500, 300, 200].map((minor) => shop.stripe.markRefunded(session, minor));
    for (const at of [2, 0, 2, 1]) await tell("refund.created", parts[at]);
    expect(await shop.order()).toMatchObject({ state: "paid", refundedMinor: 1000 });
    expect((await kept()).sort()).toEqual([
      [200, "done"],
      [300, "done"],
      [500, "done"],
    ]);
    expect((await shop.log()).filter((what) => what.startsWith("given back"))).toHaveLength(1);
  });

  it("that fail come back, and the maker reads it", async () => {
    const { id } = shop.stripe.markRefunded(session, 500);
    await tell("charge.refunded", charge());
    const failed = shop.stripe.endRefund(id, "failed");
    await tell("refund.failed", failed);
    expect(await shop.order()).toMatchObject({ state: "paid", refundedMinor: 0 });
    expect(await kept()).toEqual([[500, "failed"]]);
    expect((await shop.log()).join("; ")).toContain(
      "giving back 5.00 GBP failed (expired_or_canceled_card); the money is with you",
    );
  });

  it("of more than was taken hold the order", async () => {
    shop.stripe.sessions.get(session)!.setCharge({ amount_refunded: 9_999_999 });
    await tell("charge.refunded", charge());
    expect(await shop.order()).toMatchObject({
      state: "held",
      heldBecause: "the payment service says that more was given back than was taken",
    });
  });

  it("of a cancelled order are no payment after its cancelling", async () => {
    await cancelOrder(shop.shop, await shop.order(), { who: "maker", why: "asked for" });
    shop.stripe.markRefunded(session, 500);
    await tell("charge.refunded", charge());
    expect(await shop.order()).toMatchObject({ state: "cancelled", refundedMinor: 500 });
  });
});

describe("a dispute", () => {
  beforeEach(pay);
  const state = async () => (await shop.order()).disputeState;

  it.each([["won"], ["lost"], ["settled_by_owl"]])(
    "is flagged on the order from its opening to %s, and the order stays where it is",
    async (end) => {
      await tell("charge.dispute.created", shop.stripe.markDisputed(session));
      expect(await state()).toBe("needs_response");
      await tell("charge.dispute.closed", shop.stripe.markDisputed(session, end));
      expect(await state()).toBe(end);
      expect((await shop.order()).state).toBe("paid");
      expect(await shop.db.q.select().from(disputes)).toMatchObject([
        { state: end, reason: "product_not_received" },
      ]);
      const about = (await shop.log()).filter((what) => what.startsWith("payment contested"));
      expect(about).toHaveLength(2);
    },
  );

  it("is said on the sheets that the order is made by", async () => {
    await tell("charge.dispute.created", shop.stripe.markDisputed(session));
    const cookie = await shop.signIn();
    const { id } = await shop.order();
    const issued = await sendForm(shop, "/maker/batches", cookie, [["order", id]]);
    const sheets = await shop.request(issued.headers.get("location")!, { headers: { cookie } });
    expect(await sheets.text()).toContain("Payment contested: ");
  });

  it("heard of twice and out of order says what the till says now", async () => {
    const opened = { ...shop.stripe.markDisputed(session) };
    const closed = shop.stripe.markDisputed(session, "won");
    await tell("charge.dispute.closed", closed);
    await tell("charge.dispute.created", opened);
    await tell("charge.dispute.updated", opened);
    expect(await state()).toBe("won");
    expect((await shop.log()).filter((what) => what.startsWith("payment"))).toHaveLength(1);
  });

  it("that is only a question is told as well, though the payment shows none", async () => {
    const asked = shop.stripe.markDisputed(session, "warning_needs_response");
    expect(charge().disputed).toBe(false);
    await tell("charge.dispute.created", asked);
    expect(await state()).toBe("warning_needs_response");
  });
});

describe("news nobody can use", () => {
  it.each([
    [
      "of an unknown session",
      "checkout.session.completed",
      { id: "cs_test_x", object: "checkout.session" },
    ],
    [
      "of an unknown payment",
      "charge.dispute.created",
      { id: "du_1", object: "dispute", payment_intent: "pi_no" },
    ],
  ])("%s is kept, answered and logged", async (_, type, object) => {
    await tell(type, object);
    const [event] = await shop.db.q.select().from(paymentEvents);
    expect(event?.settledAt).not.toBeNull();
    expect(shop.logged).toEqual([{ event: event!.id, type, note: "no order for this event" }]);
  });

  it("of a kind yet to come is kept, and asks nothing of the till", async () => {
    const before = shop.stripe.seen.length;
    await tell("freezer.thawed", { object: "freezer" });
    expect(shop.stripe.seen).toHaveLength(before);
    expect(await shop.db.q.select().from(paymentEvents)).toHaveLength(1);
    expect(shop.logged).toEqual([]);
  });
});

describe("a second payment of one order", () => {
  it("holds the order and says which payment is to go back", async () => {
    await pay();
    const order = await shop.order();
    const twin = "cs_test_twin";
    const first = shop.stripe.sessions.get(session)!;
    const json = { ...first.toJson(false), id: twin };
    shop.stripe.sessions.set(twin, { ...first, id: twin, toJson: () => json } as typeof first);
    await tell("checkout.session.completed", json);
    const { state, heldBecause, tillSessionId, capturedMinor } = await shop.order();
    expect(state).toBe("held");
    expect(heldBecause).toContain(twin);
    expect([tillSessionId, capturedMinor]).toEqual([session, order.capturedMinor]);
  });
});
