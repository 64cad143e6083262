/**
 * A signed event: stored first, worked through after, marked last. An event says that something happened, never what is
 * true now, so working it through is settling the session it leads to.
 */
import type { Shop } from "../ports.ts";
import type { TillEvent } from "../tills/till.ts";
import { settlePayment } from "./settle-payment.ts";

/**
 * Take in a signed event.
 * @returns whether anything was left to do
 * @throws TillRefusal, TillUnavailable; the event is then stored and waits
 */
export async function receiveEvent(shop: Shop, event: TillEvent): Promise<boolean> {
  if (event.live !== shop.till.live) {
    shop.log({ event: event.id, note: "belongs to another set-up: live and test do not mix" });
    return false;
  }
  const { id, type, sessionId } = event;
  const waits = await shop.events.receive({
    id,
    type,
    sessionId,
    receivedAt: shop.clock.seconds(),
  });
  if (!waits) return false;
  await workThrough(shop, event);
  return true;
}

/** Settle what an event leads to, and mark it. @throws TillRefusal, TillUnavailable; it is then not marked */
export async function workThrough(shop: Shop, event: TillEvent): Promise<void> {
  if (isAboutPayments(event)) {
    const sessionId = event.sessionId ?? (await sessionOf(shop, event));
    const look = { disputes: event.type.startsWith("charge.dispute.") };
    const order = sessionId ? await settlePayment(shop, sessionId, look) : undefined;
    if (!order) shop.log({ event: event.id, type: event.type, note: "no order for this event" });
  }
  await shop.events.settle(event.id, shop.clock.seconds());
}

/** Events of other kinds are kept and lead nowhere. */
function isAboutPayments({ type }: TillEvent): boolean {
  return /^(checkout\.session|charge|refund|payment_intent)\./.test(type);
}

/** News of a refund names the order, news of a dispute the payment alone. */
async function sessionOf(
  shop: Shop,
  { orderId, paymentId }: TillEvent,
): Promise<string | undefined> {
  const known = orderId ? (await shop.orders.byId(orderId))?.tillSessionId : undefined;
  return known ?? (paymentId ? await shop.till.sessionOfPayment(paymentId) : undefined);
}
