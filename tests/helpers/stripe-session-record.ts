/**
 * One Checkout Session inside the stand-in for Stripe's API: how it is asked for, and how it
 * answers.
 */
import { randomUUID } from "node:crypto";
import type { ErrorObject } from "ajv";
import { type Address, type ShippingForm, shippingFault, shippingOf } from "./stripe-shipping.ts";
import { compileSessionCreate } from "./stripe-schema.ts";

export interface Refusal {
  readonly status: number;
  readonly error: { type?: string; code?: string; param?: string; message?: string };
}

/** The part of a form that our sessions use, once the schema has let it pass. */
interface SessionForm extends ShippingForm {
  mode?: string;
  success_url?: string;
  client_reference_id?: string;
  metadata?: Record<string, string>;
  payment_intent_data?: { metadata?: Record<string, string> };
  expires_at?: number;
  line_items?: {
    quantity?: number;
    price_data?: { currency: string; unit_amount?: number; product_data?: { name: string } };
  }[];
}

const check = await compileSessionCreate();

/**
 * Check a decoded form as strictly as the documents allow and make a session of it.
 * @param nowS now [s since 1970]
 */
export function createSession(
  form: Readonly<Record<string, unknown>>,
  nowS: number,
): SessionRecord | Refusal {
  const copy = structuredClone(form);
  if (!check(copy)) return refuseForm(check.errors?.[0]);
  const asked = copy as SessionForm;
  const line = asked.line_items?.[0];
  const {
    currency = "",
    unit_amount: unit = Number.NaN,
    product_data: product,
  } = line?.price_data ?? {};
  const quantity = line?.quantity ?? Number.NaN;
  const leftS = (asked.expires_at ?? Number.NaN) - nowS;
  const wrong =
    (asked.mode !== "payment" && "mode") ||
    (!asked.success_url && "success_url") ||
    ((asked.client_reference_id?.length ?? 0) > 200 && "client_reference_id") ||
    (!fitsMetadata(asked.metadata) && "metadata") ||
    (!fitsMetadata(asked.payment_intent_data?.metadata) && "payment_intent_data[metadata]") ||
    (!(Number.isInteger(unit) && unit >= 0) && "line_items[0][price_data][unit_amount]") ||
    (!(Number.isInteger(quantity) && quantity >= 1) && "line_items[0][quantity]") ||
    (!/^[a-z]{3}$/.test(currency) && "line_items[0][price_data][currency]") ||
    shippingFault(asked, currency) ||
    (!isName(product?.name) && "line_items[0][price_data][product_data][name]") ||
    (!(leftS > 29 * 60 && leftS <= 24 * 3600 + 60) && "expires_at");
  if (wrong) return refuse("parameter_invalid", wrong);
  // Every line counts; only the first is looked at closely above.
  const totalMinor = (asked.line_items ?? []).reduce(
    (sum, line) => sum + Number(line.price_data?.unit_amount) * Number(line.quantity),
    0,
  );
  if (totalMinor < 30) return refuse("amount_too_small", "line_items");
  if (totalMinor > 99_999_999) return refuse("amount_too_large", "line_items");
  return makeRecord(asked, currency, totalMinor, nowS);
}

function makeRecord(asked: SessionForm, currency: string, totalMinor: number, nowS: number) {
  const id = `cs_test_${randomUUID().replaceAll("-", "")}`;
  const metadata = asked.payment_intent_data?.metadata ?? {};
  const charge = {
    ...{ id: `ch_${id.slice(8)}`, object: "charge", payment_intent: `pi_${id.slice(8)}`, metadata },
    ...{ amount: 0, amount_refunded: 0, disputed: false },
  };
  const payment = {
    ...{ id: charge.payment_intent, object: "payment_intent", status: "succeeded" },
    latest_charge: charge,
  };
  let isPaymentMade = false;
  const opened: Record<string, unknown> = {
    id,
    object: "checkout.session",
    created: Math.floor(nowS),
    amount_subtotal: totalMinor,
    amount_total: totalMinor,
    client_reference_id: asked.client_reference_id ?? null,
    currency,
    customer_details: null,
    collected_information: null,
    shipping_cost: null,
    expires_at: asked.expires_at,
    livemode: false,
    metadata: asked.metadata ?? {},
    mode: asked.mode,
    payment_status: "unpaid",
    status: "open",
    url: `https://checkout.example/c/pay/${id}`,
  };
  let fields = opened;
  return {
    id,
    paymentId: payment.id,
    charge,
    payment,
    get isPaid() {
      return fields["payment_status"] === "paid";
    },
    get isOpen() {
      return fields["status"] === "open";
    },
    get createdS() {
      return Number(fields["created"]);
    },
    toJson(expand: boolean) {
      const shown = expand ? payment : payment.id;
      return { ...fields, payment_intent: isPaymentMade ? shown : null };
    },
    /** As if it had just been opened. */
    reset() {
      [isPaymentMade, fields, payment.status] = [false, opened, "succeeded"];
      Object.assign(charge, { amount: 0, amount_refunded: 0, disputed: false });
    },
    set(changed: Record<string, unknown>) {
      fields = { ...fields, ...changed };
    },
    /**
     * What the customer does on the payment page.
     * @param chosen place of the way to send it among those offered
     */
    pay(
      payment_status: "paid" | "unpaid",
      email: string | null,
      chosen: { readonly way?: number; readonly address?: Address } = {},
    ) {
      isPaymentMade = true;
      const shipping = shippingOf(asked, chosen);
      const total = totalMinor + (shipping.shipping_cost?.amount_total ?? 0);
      payment.status = payment_status === "paid" ? "succeeded" : "processing";
      charge.amount = total;
      fields = { ...fields, status: "complete", payment_status, url: null, amount_total: total };
      fields = { ...fields, ...shipping, customer_details: { email } };
    },
    setCharge(changed: Partial<typeof charge>) {
      Object.assign(charge, changed);
    },
  };
}

export type SessionRecord = ReturnType<typeof makeRecord>;

export function fail(message: string): never {
  throw new Error(message);
}

function isName(name: string | undefined): boolean {
  return name !== undefined && name.trim() !== "" && name.length <= 5000;
}

/** 50 pairs, names to 40 characters, values to 500 (Stripe, "Metadata"). */
function fitsMetadata(metadata: Record<string, string> = {}): boolean {
  const pairs = Object.entries(metadata);
  const fits = ([name, value]: [string, string]) => name.length <= 40 && value.length <= 500;
  return pairs.length <= 50 && pairs.every(fits);
}

function refuseForm(error: ErrorObject | undefined): Refusal {
  const unknown = error?.params["additionalProperty"] as string | undefined;
  const where = error?.instancePath.slice(1) ?? "";
  return unknown === undefined
    ? refuse("parameter_invalid", where)
    : refuse("parameter_unknown", [where, unknown].filter(Boolean).join("/"));
}

function refuse(code: string, param: string): Refusal {
  return { status: 400, error: { code, param, message: `${code}: ${param}` } };
}
