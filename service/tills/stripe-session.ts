/**
 * A charge as Stripe's Checkout Session, and back.
 */
import type Stripe from "stripe";
import { lineName } from "./charge-form.ts";
import { type Charge, TillRefusal, type TillSession, type TillState } from "./till.ts";

/**
 * Everything that an account's dashboard could switch behind our back is said outright: tax, price
 * localisation, promotion codes and payment methods. Cards only, because other methods can settle
 * days later.
 */
export function toSessionParams(charge: Charge): Stripe.Checkout.SessionCreateParams {
  const metadata = { order: charge.orderId, reference: charge.reference };
  return {
    mode: "payment",
    ui_mode: "hosted_page",
    client_reference_id: charge.orderId,
    metadata,
    // Copied on to the charge, so that refunds and disputes can be told apart by order.
    payment_intent_data: { description: charge.reference, metadata },
    line_items: [
      {
        quantity: charge.quantity,
        price_data: {
          currency: charge.currency.toLowerCase(),
          unit_amount: charge.unitAmountMinor,
          tax_behavior: charge.taxInclusive ? "inclusive" : "exclusive",
          product_data: { name: lineName(charge.description), description: charge.reference },
        },
      },
      ...taxLines(charge),
    ],
    allowed_payment_method_types: ["card"],
    automatic_tax: { enabled: false },
    adaptive_pricing: { enabled: false },
    allow_promotion_codes: false,
    expires_at: Math.floor(charge.expiresAt.getTime() / 1000),
    success_url: charge.successUrl,
    cancel_url: charge.cancelUrl,
  };
}

/**
 * Tax on top, worked out by us and shown to the customer before: a line of its own. The service's automatic tax stays
 * off, or it would charge it a second time.
 */
function taxLines({ taxMinor, currency }: Charge) {
  if (taxMinor === undefined) return [];
  const price_data = {
    currency: currency.toLowerCase(),
    unit_amount: taxMinor,
    tax_behavior: "inclusive" as const, // nothing more is due on it
    product_data: { name: "Tax" },
  };
  return [{ quantity: 1, price_data }];
}

/**
 * @throws TillRefusal `payment.till.rejected` for a session without an amount, which no charge of
 *   ours has
 */
export function toTillSession(session: Stripe.Checkout.Session): TillSession {
  const { amount_subtotal: subtotal, amount_total: total, currency } = session;
  if (subtotal === null || total === null || currency === null) {
    throw new TillRefusal("payment.till.rejected", `session ${session.id} is not a payment`);
  }
  const payment = session.payment_intent;
  const latest = typeof payment === "object" ? payment?.latest_charge : null;
  const paid = typeof latest === "object" ? latest : null;
  return {
    id: session.id,
    url: session.url,
    state: toState(session),
    orderId: session.client_reference_id ?? session.metadata?.["order"] ?? null,
    amountSubtotalMinor: subtotal,
    amountTotalMinor: total,
    currency: currency.toUpperCase(),
    live: session.livemode,
    paymentId: typeof payment === "string" ? payment : (payment?.id ?? null),
    refundedMinor: paid?.amount_refunded ?? 0,
    disputed: paid?.disputed ?? false,
    name: session.customer_details?.name ?? null,
    email: session.customer_details?.email ?? null,
  };
}

/** `no_payment_required` counts as unknown: every charge of ours requires payment. */
function toState({ status, payment_status: payment }: Stripe.Checkout.Session): TillState {
  if (status === "open") return "open";
  if (status === "expired") return "expired";
  if (status !== "complete") return "unknown";
  if (payment === "paid") return "paid";
  return payment === "unpaid" ? "unpaid" : "unknown";
}
