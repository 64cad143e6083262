/**
 * A charge as Stripe's Checkout Session, and back.
 */
import type Stripe from "stripe";
import { lineName } from "./charge-form.ts";
import {
  type Charge,
  type DeliveryAddress,
  TillRefusal,
  type TillSession,
  type TillState,
} from "./till.ts";

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
    ...carriageParams(charge),
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
 * An address is asked for only where something is sent. The price of carriage is what the customer pays: the service's
 * automatic tax is off, so whatever tax is in it stays inside.
 */
function carriageParams({
  carriage,
  currency,
}: Charge): Pick<
  Stripe.Checkout.SessionCreateParams,
  "shipping_options" | "shipping_address_collection"
> {
  if (!carriage) return {};
  return {
    shipping_address_collection: { allowed_countries: [...carriage.countries] },
    shipping_options: carriage.ways.map(({ name, minor, days }) => ({
      shipping_rate_data: {
        type: "fixed_amount" as const,
        display_name: lineName(name),
        fixed_amount: { amount: minor, currency: currency.toLowerCase() },
        tax_behavior: "inclusive" as const,
        ...(days ? { delivery_estimate: estimateOf(days) } : {}),
      },
    })),
  };
}

function estimateOf({ least, most }: { readonly least: number; readonly most: number }) {
  const unit = "business_day" as const;
  // The service takes no estimate of no days.
  return {
    ...(least > 0 ? { minimum: { unit, value: least } } : {}),
    maximum: { unit, value: most },
  };
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
    carriageMinor: session.shipping_cost?.amount_total ?? 0,
    carriageName: carriageNameOf(session),
    deliverTo: addressOf(session),
    currency: currency.toUpperCase(),
    live: session.livemode,
    paymentId: typeof payment === "string" ? payment : (payment?.id ?? null),
    refundedMinor: paid?.amount_refunded ?? 0,
    disputed: paid?.disputed ?? false,
    name: session.customer_details?.name ?? null,
    email: session.customer_details?.email ?? null,
  };
}

function carriageNameOf({ shipping_cost: cost }: Stripe.Checkout.Session): string | null {
  const rate = cost?.shipping_rate;
  return typeof rate === "object" ? (rate?.display_name ?? null) : null;
}

function addressOf({
  collected_information: collected,
}: Stripe.Checkout.Session): DeliveryAddress | null {
  const details = collected?.shipping_details;
  if (!details) return null;
  const { line1, line2, city, state, postal_code: postcode, country } = details.address;
  return {
    name: details.name,
    lines: [line1, line2].filter((line): line is string => Boolean(line)),
    city: city ?? "",
    region: state ?? "",
    postcode: postcode ?? "",
    country: country ?? "",
  };
}

/** `no_payment_required` counts as unknown: every charge of ours requires payment. */
function toState(session: Stripe.Checkout.Session): TillState {
  const { status, payment_status: payment } = session;
  if (status === "open") return "open";
  if (status === "expired") return "expired";
  if (status !== "complete") return "unknown";
  if (payment === "paid") return "paid";
  if (payment !== "unpaid") return "unknown";
  return hasFailed(session) ? "failed" : "unpaid";
}

/** The session itself says "unpaid" both while a slow payment is on its way and after it has failed. */
function hasFailed({ payment_intent: payment }: Stripe.Checkout.Session): boolean {
  const status = typeof payment === "object" ? payment?.status : undefined;
  return status === "requires_payment_method" || status === "canceled";
}
