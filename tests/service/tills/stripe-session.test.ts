/**
 * A charge as the form that opens a session, and a session as the shop sees it, field by field.
 */
import type Stripe from "stripe";
import { describe, expect, it } from "vitest";
import { toSessionParams, toTillSession } from "#service/tills/stripe-session.ts";
import { TillRefusal } from "#service/tills/till.ts";
import { makeCharge } from "./till.contract.ts";

describe("the form that opens a session", () => {
  it("says outright whatever an account could switch behind our back", () => {
    const own = { order: "ord_7h2k9", reference: "Q-7H2K9" };
    const expiresAt = new Date("2026-11-25T09:00:00.999Z");
    const { successUrl, cancelUrl, ...charge } = makeCharge({ expiresAt, taxInclusive: false });
    expect(toSessionParams({ ...charge, successUrl, cancelUrl })).toEqual({
      ...{ mode: "payment", ui_mode: "hosted_page", client_reference_id: "ord_7h2k9" },
      metadata: own,
      payment_intent_data: { description: "Q-7H2K9", metadata: own },
      line_items: [
        {
          quantity: 2,
          price_data: {
            ...{ currency: "gbp", unit_amount: 1450, tax_behavior: "exclusive" },
            product_data: { name: "Meadow base, 120 ml jar", description: "Q-7H2K9" },
          },
        },
      ],
      allowed_payment_method_types: ["card"],
      automatic_tax: { enabled: false },
      adaptive_pricing: { enabled: false },
      allow_promotion_codes: false,
      expires_at: 1_795_597_200,
      ...{ success_url: successUrl, cancel_url: cancelUrl },
    });
    const [line] = toSessionParams(makeCharge()).line_items!;
    expect(line!.price_data!.tax_behavior).toBe("inclusive");
  });

  it("has no line for tax and asks for no address when neither is wanted", () => {
    const form = toSessionParams(makeCharge());
    expect(form.line_items).toHaveLength(1);
    expect(form).not.toHaveProperty("shipping_options");
    expect(form).not.toHaveProperty("shipping_address_collection");
  });

  it("has the tax on top as one line in the same currency, on which nothing more is due", () => {
    const charge = makeCharge({ currency: "SEK", taxInclusive: false, taxMinor: 580 });
    expect(toSessionParams(charge).line_items?.[1]).toEqual({
      quantity: 1,
      price_data: {
        currency: "sek",
        unit_amount: 580,
        tax_behavior: "inclusive",
        product_data: { name: "Tax" },
      },
    });
  });

  it.each([
    [undefined, undefined],
    [{ least: 0, most: 2 }, { maximum: { unit: "business_day", value: 2 } }],
    [
      { least: 1, most: 2 },
      {
        minimum: { unit: "business_day", value: 1 },
        maximum: { unit: "business_day", value: 2 },
      },
    ],
  ])("tells a way that takes %o days with the estimate %o", (days, estimate) => {
    const ways = [{ name: "Post\n", minor: 395, ...(days ? { days } : {}) }];
    const form = toSessionParams(makeCharge({ carriage: { ways, countries: ["GB", "IE"] } }));
    expect(form.shipping_address_collection).toEqual({ allowed_countries: ["GB", "IE"] });
    expect(form.shipping_options).toEqual([
      {
        shipping_rate_data: {
          type: "fixed_amount",
          display_name: "Post",
          fixed_amount: { amount: 395, currency: "gbp" },
          tax_behavior: "inclusive",
          ...(estimate ? { delivery_estimate: estimate } : {}),
        },
      },
    ]);
    const [option] = form.shipping_options!;
    expect("delivery_estimate" in option!.shipping_rate_data!).toBe(estimate !== undefined);
  });
});

describe("a session as the shop sees it", () => {
  const BARE = {
    id: "cs_test_1",
    object: "checkout.session",
    amount_subtotal: 2900,
    amount_total: 2900,
    client_reference_id: null,
    collected_information: null,
    currency: "gbp",
    customer_details: null,
    livemode: false,
    metadata: null,
    payment_intent: null,
    payment_status: "unpaid",
    shipping_cost: null,
    status: "open",
    url: "https://checkout.example/c/pay/cs_test_1",
  };
  const read = (fields: object = {}) =>
    toTillSession({ ...BARE, ...fields } as unknown as Stripe.Checkout.Session);

  it("is empty where the service says nothing", () => {
    expect(read()).toEqual({
      ...{ id: "cs_test_1", url: BARE.url, state: "open", orderId: null, live: false },
      ...{ amountSubtotalMinor: 2900, amountTotalMinor: 2900, currency: "GBP" },
      ...{ carriageMinor: 0, carriageName: null, deliverTo: null, paymentId: null },
      ...{ refundedMinor: 0, disputed: false, name: null, email: null },
    });
  });

  it("holds whatever the service says", () => {
    const charge = { amount_refunded: 500, disputed: true };
    const address = {
      ...{ line1: "7 Fen Lane", line2: "Barn", city: "Ely", state: "Cambs" },
      ...{ postal_code: "CB7 4AA", country: "GB" },
    };
    const paid = read({
      ...{ status: "complete", payment_status: "paid", url: null, livemode: true },
      ...{ amount_total: 3295, client_reference_id: "ord_1", metadata: { order: "ord_other" } },
      payment_intent: { id: "pi_1", status: "succeeded", latest_charge: charge },
      shipping_cost: { amount_total: 395, shipping_rate: { display_name: "Post" } },
      collected_information: { shipping_details: { name: "Wren Fenner", address } },
      customer_details: { name: "Wren", email: "wren@customer.example" },
    });
    expect(paid).toEqual({
      ...{ id: "cs_test_1", url: null, state: "paid", orderId: "ord_1", live: true },
      ...{ amountSubtotalMinor: 2900, amountTotalMinor: 3295, currency: "GBP" },
      ...{ carriageMinor: 395, carriageName: "Post", paymentId: "pi_1" },
      deliverTo: {
        ...{ name: "Wren Fenner", lines: ["7 Fen Lane", "Barn"], city: "Ely", region: "Cambs" },
        ...{ postcode: "CB7 4AA", country: "GB" },
      },
      ...{ refundedMinor: 500, disputed: true, name: "Wren", email: "wren@customer.example" },
    });
  });

  it("takes the order from what was written on it when it names none", () => {
    expect(read({ metadata: { order: "ord_2" } }).orderId).toBe("ord_2");
    expect(read({ metadata: {} }).orderId).toBeNull();
  });

  it("leaves out of an address what is not there", () => {
    const address = { line1: "7 Fen Lane", line2: null, city: null, state: null };
    const details = { name: "Wren", address: { ...address, postal_code: null, country: null } };
    expect(read({ collected_information: { shipping_details: details } }).deliverTo).toEqual({
      ...{ name: "Wren", lines: ["7 Fen Lane"] },
      ...{ city: "", region: "", postcode: "", country: "" },
    });
    expect(read({ collected_information: { shipping_details: null } }).deliverTo).toBeNull();
  });

  it("knows payment and way by name also when the service sends ids alone", () => {
    const cost = { amount_total: 395, shipping_rate: "shr_1" };
    const alone = read({ payment_intent: "pi_2", shipping_cost: cost });
    expect(alone).toMatchObject({ paymentId: "pi_2", carriageMinor: 395, carriageName: null });
    expect(alone).toMatchObject({ refundedMinor: 0, disputed: false });
    const unnamed = read({ shipping_cost: { amount_total: 0, shipping_rate: null } });
    expect(unnamed).toMatchObject({ carriageMinor: 0, carriageName: null });
    const charge = read({ payment_intent: { id: "pi_3", latest_charge: "ch_1" } });
    expect(charge).toMatchObject({ paymentId: "pi_3", refundedMinor: 0, disputed: false });
  });

  const complete = (payment_status: string, payment_intent: unknown = null) => ({
    ...{ status: "complete", payment_status, payment_intent },
  });
  it.each([
    [{ status: "open", payment_status: "paid" }, "open"],
    [{ status: "expired", payment_status: "paid" }, "expired"],
    [{ status: "thawed", payment_status: "paid" }, "unknown"],
    [complete("paid"), "paid"],
    [complete("no_payment_required"), "unknown"],
    [complete("unpaid"), "unpaid"],
    [complete("unpaid", "pi_1"), "unpaid"],
    [complete("unpaid", { id: "pi_1", status: "processing" }), "unpaid"],
    [complete("unpaid", { id: "pi_1", status: "requires_payment_method" }), "failed"],
    [complete("unpaid", { id: "pi_1", status: "canceled" }), "failed"],
  ])("of %o is %s", (fields, state) => {
    expect(read(fields).state).toBe(state);
  });

  it.each(["amount_subtotal", "amount_total", "currency"])("is none without its %s", (field) => {
    let error: unknown;
    try {
      read({ [field]: null });
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(TillRefusal);
    expect(error).toMatchObject({
      code: "payment.till.rejected",
      message: "session cs_test_1 is not a payment",
    });
  });
});
