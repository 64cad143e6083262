/**
 * Money that goes back, or is called back, at Stripe.
 */
import type Stripe from "stripe";
import { throwTillError } from "./stripe-failure.ts";
import { type Till, type TillDispute, type TillRefund, TillRefusal } from "./till.ts";

/** More refunds or disputes of one payment than a maker will ever make. */
const LISTED_MOST = 100;

/** Sums and states always come from the service's own objects: events of refunds come late, twice and out of order. */
export function givingBack(
  client: Pick<Stripe, "checkout" | "refunds" | "disputes">,
): Pick<Till, "refund" | "refunds" | "disputes"> {
  return {
    async refund({ sessionId, orderId, refundId, minor, idempotencyKey }) {
      try {
        const { payment_intent: payment } = await client.checkout.sessions.retrieve(sessionId);
        const paymentId = typeof payment === "string" ? payment : payment?.id;
        if (paymentId === undefined) {
          throw new TillRefusal("payment.till.rejected", `session ${sessionId} took no payment`);
        }
        const metadata = { order: orderId, refund: refundId };
        const asked = { payment_intent: paymentId, amount: minor, metadata };
        return toTillRefund(await client.refunds.create(asked, { idempotencyKey }));
      } catch (error) {
        throwTillError(error);
      }
    },

    async refunds({ paymentId }) {
      if (paymentId === null) return [];
      const { data } = await client.refunds
        .list({ payment_intent: paymentId, limit: LISTED_MOST })
        .catch(throwTillError);
      return data.map(toTillRefund);
    },

    async disputes({ paymentId }) {
      if (paymentId === null) return [];
      const { data } = await client.disputes
        .list({ payment_intent: paymentId, limit: LISTED_MOST })
        .catch(throwTillError);
      return data.map(toTillDispute);
    },
  };
}

function toTillRefund(refund: Stripe.Refund): TillRefund {
  return {
    id: refund.id,
    ownId: refund.metadata?.["refund"] ?? null,
    minor: refund.amount,
    state: stateOf(refund.status),
    fault: refund.failure_reason ?? (refund.status === "canceled" ? "canceled" : null),
  };
}

/** A word yet to come is not the end of it. */
function stateOf(status: string | null): TillRefund["state"] {
  if (status === "succeeded") return "done";
  return status === "failed" || status === "canceled" ? "failed" : "pending";
}

function toTillDispute(dispute: Stripe.Dispute): TillDispute {
  const { id, amount, currency, status, reason, created } = dispute;
  return {
    id,
    minor: amount,
    currency: currency.toUpperCase(),
    state: status,
    reason,
    openedAt: created,
  };
}
