/**
 * What the till says of an order, brought to it: one function for the signed event, the customer's return, the practice
 * till and the reconciler, safe to call however often, because it asks the till what is so and moves the order with one
 * guard.
 */
import { isExact, stateAfterPayment } from "#core/order/states.ts";
import type { Shop } from "../ports.ts";
import { Conflict } from "../storage/database.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { TillSession } from "../tills/till.ts";
import { sayAmount } from "./order-amounts.ts";
import { settleDisputes } from "./settle-disputes.ts";
import { settleRefunds } from "./settle-refunds.ts";
import { frozenQuote } from "./open-order.ts";

/** A payment moves these; from in making an order also comes back to paid, which is the maker's doing alone. */
const NOT_PAID_YET = ["placed", "expired", "cancelled"] as const;

/** What else is to be asked of the till. */
export interface Look {
  /** News of a dispute came: an inquiry before one does not show on the payment itself. */
  readonly disputes?: boolean;
}

/**
 * Settle what is known of a till session.
 * @param sessionId id at the till
 * @returns the order as it now stands; nothing when no order belongs to the session
 * @throws TillRefusal, TillUnavailable
 */
export async function settlePayment(
  shop: Shop,
  sessionId: string,
  look: Look = {},
): Promise<OrderRow | undefined> {
  for (let tries = SETTLE_TRIES; ; tries--) {
    try {
      return await settleOnce(shop, sessionId, look);
    } catch (error) {
      // Somebody else has just changed the order: ask the till again and look at it as it is now.
      if (!(error instanceof Conflict) || tries === 1) throw error;
    }
  }
}

/** Each time somebody else was faster; more than this at one order is a fault to be heard of. */
const SETTLE_TRIES = 5;

async function settleOnce(
  shop: Shop,
  sessionId: string,
  look: Look,
): Promise<OrderRow | undefined> {
  // The order is read first: what is noted later must have been asked of the till after what it takes the place of.
  const before = await shop.orders.bySession(sessionId);
  const session = await shop.till.read(sessionId);
  if (!session) return undefined;
  if (session.live !== shop.till.live) {
    shop.log({ session: session.id, note: "belongs to another set-up: live and test do not mix" });
    return undefined;
  }
  const order = before ?? (await orderNamedBy(shop, session));
  return order && (await settleOrder(shop, order, session, look));
}

async function settleOrder(
  shop: Shop,
  order: OrderRow,
  session: TillSession,
  look: Look,
): Promise<OrderRow> {
  await moveOrder(shop, order, session);
  const moved = (await shop.orders.byId(order.id))!;
  if (session.state !== "paid") return moved;
  await settleRefunds(shop, { ...moved, refundedMinor: order.refundedMinor }, session);
  await settleDisputes(shop, moved, session, look.disputes ?? false);
  return (await shop.orders.byId(order.id))!;
}

/**
 * The order of a session that no order holds the id of. The answer to "open a session" may have been lost, or a second
 * session opened after a look-up missed the first: then whichever is paid counts.
 */
async function orderNamedBy(shop: Shop, session: TillSession): Promise<OrderRow | undefined> {
  const named = session.orderId ? await shop.orders.byId(session.orderId) : undefined;
  if (!named) return undefined;
  if (named.tillSessionId === null || (session.state === "paid" && named.paidAt === null)) {
    await shop.orders.setTillSession(named.id, session.id, session.url);
    return { ...named, tillSessionId: session.id, tillUrl: session.url };
  }
  if (session.state === "paid") await notePaidTwice(shop, named, session);
  return undefined;
}

async function notePaidTwice(shop: Shop, order: OrderRow, session: TillSession): Promise<void> {
  const heldBecause = `paid a second time (${session.id}): give that payment back at the payment service`;
  shop.log({ order: order.id, session: session.id, note: "the order was paid a second time" });
  const move = { orderId: order.id, at: shop.clock.seconds(), who: "till" as const };
  if (order.state !== "paid") return;
  await shop.orders.move({ ...move, to: "held", what: heldBecause, with: { heldBecause } });
}

async function moveOrder(shop: Shop, order: OrderRow, session: TillSession): Promise<void> {
  const at = shop.clock.seconds();
  const move = { orderId: order.id, at, who: "till" as const, from: NOT_PAID_YET };
  const isPlaced = order.state === "placed";
  if (session.state === "paid") await takePayment(shop, order, session);
  else if (session.state === "unpaid" && order.pendingSince === null) {
    const who = { customerName: session.name, customerEmail: session.email };
    await shop.orders.notePending(order.id, at, "payment on its way", who);
  } else if (session.state === "failed" && isPlaced) {
    await shop.orders.move({ ...move, to: "expired", what: "the payment did not come through" });
  } else if (session.state === "expired" && isPlaced) {
    await shop.orders.move({ ...move, to: "expired", what: "payment not made in time" });
  } else if (session.state === "unknown" && isPlaced) {
    const heldBecause = "the payment service reports a state this version does not know";
    await shop.orders.move({ ...move, to: "held", what: heldBecause, with: { heldBecause } });
  }
}

async function takePayment(shop: Shop, order: OrderRow, session: TillSession): Promise<void> {
  const { state, totalMinor, currency } = order;
  const { carriage } = frozenQuote(order);
  const owed = { state, isPaid: order.paidAt !== null, totalMinor, currency, carriage };
  const to = stateAfterPayment(owed, session);
  const at = shop.clock.seconds();
  const taken = {
    paidAt: at,
    // What came in another currency cannot be reckoned with here.
    capturedMinor: session.currency === currency ? session.amountTotalMinor : null,
    carriageMinor: session.carriageMinor,
    carriageName: session.carriageName,
    deliverTo: session.deliverTo && JSON.stringify(session.deliverTo),
    customerName: session.name,
    customerEmail: session.email,
  };
  if (!to) {
    // Held before its money came: it stays held, and the money is known of.
    if (!owed.isPaid && state === "held") await shop.orders.noteTaken(order.id, at, taken);
    return;
  }
  const because = to === "held" ? heldBecause(order, session, isExact(owed, session)) : null;
  await shop.orders.move({
    orderId: order.id,
    at,
    who: "till",
    from: NOT_PAID_YET,
    // Held for its payment and cancelled by the maker, it would be in one of these again.
    whileUnpaid: true,
    to,
    what: because ?? "paid",
    with: { ...taken, heldBecause: because },
  });
}

function heldBecause(order: OrderRow, session: TillSession, isExact: boolean): string {
  if (isExact) return "paid after it was cancelled";
  const { amountTotalMinor, carriageMinor, carriageName, currency } = session;
  const carriage = carriageName
    ? `, ${sayAmount(carriageMinor, currency)} of it for ${carriageName}`
    : "";
  return (
    `paid ${sayAmount(amountTotalMinor, currency)}${carriage}; ` +
    `the order says ${sayAmount(order.totalMinor, order.currency)} and carriage as it was offered`
  );
}
