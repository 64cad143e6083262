/**
 * A payment that was made, brought to its order: one function for the signed event, the customer's return and the
 * practice till, safe to call however often, because it asks the till what is so and moves the order with one guard.
 */
import { stateAfterPayment } from "#core/order/states.ts";
import type { Shop } from "../ports.ts";
import { Conflict } from "../storage/database.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { TillEvent, TillSession } from "../tills/till.ts";

/** A payment moves these; from in making an order also comes back to paid, which is the maker's doing alone. */
const NOT_PAID_YET = ["placed", "expired", "cancelled"] as const;

/**
 * Settle what is known of a till session.
 * @param sessionId id at the till
 * @returns the order as it now stands; nothing when no order belongs to the session
 */
export async function settlePayment(shop: Shop, sessionId: string): Promise<OrderRow | undefined> {
  const session = await shop.till.read(sessionId);
  if (!session) return undefined;
  if (session.live !== shop.till.live) {
    shop.log({ session: session.id, note: "belongs to another set-up: live and test do not mix" });
    return undefined;
  }
  const order = await orderOf(shop, session);
  if (!order) return undefined;
  if (order.tillSessionId === null) {
    // The answer to "open a session" was lost; the session itself says whose it is.
    await shop.orders.setTillSession(order.id, session.id, session.url);
  }
  try {
    await moveOrder(shop, order, session);
    await noteRefund(shop, order, session);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error; // someone else has just settled it
  }
  return await shop.orders.byId(order.id);
}

/**
 * Take in a signed event: store, work through, mark.
 * @returns whether anything was left to do
 */
export async function receiveEvent(shop: Shop, event: TillEvent): Promise<boolean> {
  if (event.live !== shop.till.live) {
    shop.log({ event: event.id, note: "belongs to another set-up: live and test do not mix" });
    return false;
  }
  const waits = await shop.events.receive({
    id: event.id,
    type: event.type,
    sessionId: event.sessionId,
    receivedAt: shop.clock.seconds(),
  });
  if (!waits) return false;
  const sessionId = event.sessionId ?? (await sessionOfOrder(shop, event.orderId));
  if (sessionId) {
    const order = await settlePayment(shop, sessionId);
    if (!order) shop.log({ event: event.id, type: event.type, note: "no order for this session" });
  }
  await shop.events.settle(event.id, shop.clock.seconds());
  return true;
}

/** News of a refund names the order and no session. */
async function sessionOfOrder(shop: Shop, orderId: string | null): Promise<string | null> {
  return (orderId && (await shop.orders.byId(orderId))?.tillSessionId) || null;
}

async function orderOf(shop: Shop, session: TillSession): Promise<OrderRow | undefined> {
  const order = await shop.orders.bySession(session.id);
  if (order || !session.orderId) return order;
  const named = await shop.orders.byId(session.orderId);
  return named?.tillSessionId === null ? named : undefined;
}

async function moveOrder(shop: Shop, order: OrderRow, session: TillSession): Promise<void> {
  const at = shop.clock.seconds();
  const move = { orderId: order.id, at, who: "till" as const, from: NOT_PAID_YET };
  const who = { customerName: session.name, customerEmail: session.email };
  if (session.state === "expired" && order.state === "placed") {
    await shop.orders.move({ ...move, to: "expired", what: "payment not made in time" });
  }
  if (session.state === "unknown" && order.state === "placed") {
    const heldBecause = "the payment service reports a state this version does not know";
    await shop.orders.move({ ...move, to: "held", what: heldBecause, with: { heldBecause } });
  }
  if (session.state !== "paid") return;
  const to = stateAfterPayment(order, session);
  if (to === "paid") {
    await shop.orders.move({ ...move, to, what: "paid", with: { paidAt: at, ...who } });
  } else if (to === "held") {
    const because = heldBecause(order, session);
    await shop.orders.move({
      ...move,
      to,
      what: because,
      with: { paidAt: at, heldBecause: because, ...who },
    });
  }
}

/**
 * Note what the till has given back. An order that waits to be made is held once all of it has gone back: nobody makes
 * what is not paid for.
 */
async function noteRefund(shop: Shop, order: OrderRow, session: TillSession): Promise<void> {
  const { refundedMinor } = session;
  if (session.state !== "paid" || refundedMinor === order.refundedMinor) return;
  const at = shop.clock.seconds();
  const sums = `${refundedMinor} of ${session.amountTotalMinor} ${session.currency} (minor units)`;
  await shop.orders.noteRefund(order, refundedMinor, at, `given back: ${sums}`);
  if (order.state !== "paid" || refundedMinor < session.amountTotalMinor) return;
  const heldBecause = "all of the money was given back";
  const to = "held" as const;
  const move = { orderId: order.id, at, who: "till" as const, from: ["paid" as const] };
  await shop.orders.move({ ...move, to, what: heldBecause, with: { heldBecause } });
}

function heldBecause(order: OrderRow, session: TillSession): string {
  if (order.state === "cancelled") return "paid after it was cancelled";
  return (
    `paid ${session.amountTotalMinor} ${session.currency}, ` +
    `the order says ${order.totalMinor} ${order.currency} (minor units)`
  );
}
