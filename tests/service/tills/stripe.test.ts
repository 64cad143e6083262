/**
 * The Stripe till against the stand-in for Stripe's API: what it sends and what it reads.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { startStripeServer, type StripeServer } from "../../helpers/stripe-server.ts";
import { openStripeTill as openTill } from "./stripe-till.fixture.ts";
import { CARRIAGE, describeTill, expectRefusal, makeCharge } from "./till.contract.ts";

describeTill("Stripe", async () => {
  // Slow enough for two calls to meet, so that the second is told of a conflict.
  const server = await startStripeServer({ latencyMs: 20 });
  return {
    till: openTill(server),
    count: () => server.sessions.size,
    pay: async (id, way) => server.markPaid(id, undefined, way === undefined ? {} : { way }),
    expire: async (id) => server.markExpired(id),
    close: server.close,
  };
});

let server: StripeServer;
beforeEach(async () => {
  server = await startStripeServer();
});
afterEach(() => server.close());

describe("what the Stripe till sends", () => {
  it("sends exactly this form, which nothing in a dashboard can alter", async () => {
    const charge = makeCharge();
    await openTill(server).open(charge);
    const own = { order: "ord_7h2k9", reference: "Q-7H2K9" };
    expect(server.seen[0]?.form).toEqual({
      mode: "payment",
      ui_mode: "hosted_page",
      client_reference_id: "ord_7h2k9",
      metadata: own,
      payment_intent_data: { description: "Q-7H2K9", metadata: own },
      line_items: [
        {
          quantity: "2",
          price_data: {
            currency: "gbp",
            unit_amount: "1450",
            tax_behavior: "inclusive",
            product_data: { name: "Meadow base, 120 ml jar", description: "Q-7H2K9" },
          },
        },
      ],
      allowed_payment_method_types: ["card"],
      automatic_tax: { enabled: "false" },
      adaptive_pricing: { enabled: "false" },
      allow_promotion_codes: "false",
      expires_at: String(Math.floor(charge.expiresAt.getTime() / 1000)),
      success_url: charge.successUrl,
      cancel_url: charge.cancelUrl,
    });
  });

  it("names the pinned version and its own key on every call", async () => {
    const till = openTill(server);
    const { id } = await till.open(makeCharge());
    await till.read(id);
    const [open, read] = server.seen;
    expect(open?.headers["stripe-version"]).toBe("2026-10-28.endive");
    expect(open?.headers["idempotency-key"]).toBe("ord_7h2k9.1");
    expect(read?.headers["stripe-version"]).toBe("2026-10-28.endive");
  });

  it("says when tax comes on top", async () => {
    await openTill(server).open(makeCharge({ taxInclusive: false }));
    expect(JSON.stringify(server.seen[0]?.form)).toContain('"tax_behavior":"exclusive"');
  });

  it("charges tax on top as a line of its own, with the service's own tax off", async () => {
    await openTill(server).open(makeCharge({ taxInclusive: false, taxMinor: 580 }));
    const { form } = server.seen[0]!;
    expect(form).toMatchObject({
      line_items: [
        { quantity: "2", price_data: { unit_amount: "1450", tax_behavior: "exclusive" } },
        { quantity: "1", price_data: { unit_amount: "580", product_data: { name: "Tax" } } },
      ],
      automatic_tax: { enabled: "false" },
    });
  });

  it("offers the ways to send it with their days, and asks for an address", async () => {
    await openTill(server).open(makeCharge({ carriage: CARRIAGE }));
    expect(server.seen[0]?.form).toMatchObject({
      shipping_address_collection: { allowed_countries: ["GB", "IE"] },
      shipping_options: [
        {
          shipping_rate_data: {
            type: "fixed_amount",
            display_name: "Post",
            fixed_amount: { amount: "395", currency: "gbp" },
            tax_behavior: "inclusive",
            delivery_estimate: {
              minimum: { unit: "business_day", value: "2" },
              maximum: { unit: "business_day", value: "4" },
            },
          },
        },
        { shipping_rate_data: { display_name: "Courier", fixed_amount: { amount: "795" } } },
      ],
    });
  });

  it.each([
    ["a name of 5000 characters", "x".repeat(5000), `${"x".repeat(249)}…`],
    ["line breaks and control characters", "Meadow\r\nbase\u0000\tjar", "Meadow base jar"],
    ["marks that turn the writing direction", "jar \u202Eesab\u202C \u2066x\u2069", "jar esab x"],
    ["half a character", "Meadow \ud83c base", "Meadow base"],
    ["flowers and accents", "Fleur d'été 🌼👩‍🌾", "Fleur d'été 🌼👩‍🌾"],
    ["markup", "<b>&amp;</b>", "<b>&amp;</b>"],
  ])("sends a line that can be shown: %s", async (_what, description, shown) => {
    await openTill(server).open(makeCharge({ description }));
    const [line] = server.seen[0]?.form["line_items"] as [
      { price_data: { product_data: { name: string } } },
    ];
    expect(line.price_data.product_data.name).toBe(shown);
  });

  it("stays within the sizes of ids and metadata at their longest", async () => {
    const charge = makeCharge({
      orderId: "o".repeat(200),
      reference: "r".repeat(500),
      idempotencyKey: "k".repeat(255),
    });
    expect((await openTill(server).open(charge)).orderId).toBe("o".repeat(200));
    await expectRefusal(
      openTill(server).open({ ...charge, reference: "r".repeat(501) }),
      "payment.charge.invalid",
    );
    expect(server.seen).toHaveLength(1);
  });

  it.each([
    ["the key used in time", { idempotencyKey: "k" }, 1],
    ["the key of a charge whose day is over", { expiresAt: new Date(Date.now() - 1) }, 0],
  ])("sends %s", async (_what, changed, calls) => {
    await openTill(server)
      .open(makeCharge(changed))
      .catch(() => undefined);
    expect(server.seen).toHaveLength(calls);
  });
});

describe("what the Stripe till makes of a session", () => {
  it("tells payment, address, refunds and disputes as the service counts them", async () => {
    const till = openTill(server);
    const { id } = await till.open(makeCharge());
    server.markPaid(id, "ann@customer.example");
    const paid = await till.read(id);
    expect(paid).toMatchObject({ state: "paid", email: "ann@customer.example", refundedMinor: 0 });
    expect(paid?.paymentId).toMatch(/^pi_/);
    server.markRefunded(id, 500);
    server.markDisputed(id);
    expect(await till.read(id)).toMatchObject({
      state: "paid",
      refundedMinor: 500,
      disputed: true,
      paymentId: paid?.paymentId,
    });
  });

  it("answers a repeated call as of the opening: only reading tells the truth", async () => {
    const till = openTill(server);
    const charge = makeCharge();
    const { id } = await till.open(charge);
    server.markPaid(id);
    expect(await till.open(charge)).toMatchObject({ id, state: "open" });
    expect(await till.read(id)).toMatchObject({ id, state: "paid" });
  });

  it("tells money that is still to come from money that is there", async () => {
    const till = openTill(server);
    const { id } = await till.open(makeCharge());
    server.markUnpaid(id);
    expect(await till.read(id)).toMatchObject({ state: "unpaid" });
    server.endSlowPayment(id, false);
    expect(await till.read(id)).toMatchObject({ state: "failed" });
    server.endSlowPayment(id, true);
    expect(await till.read(id)).toMatchObject({ state: "paid" });
  });

  it.each([
    { status: "thawed" },
    { status: null },
    { status: "complete", payment_status: "half_paid" },
    { status: "complete", payment_status: "no_payment_required" },
  ])("holds a session in a state that it does not know: %o", async (fields) => {
    const till = openTill(server);
    const { id } = await till.open(makeCharge());
    server.patch(id, { ...fields, something_new: { a: 1 } });
    expect(await till.read(id)).toMatchObject({ state: "unknown", orderId: "ord_7h2k9" });
  });

  it("tells tax that came on top apart", async () => {
    const till = openTill(server);
    const { id } = await till.open(makeCharge({ taxInclusive: false }));
    server.patch(id, { amount_total: 3480 });
    expect(await till.read(id)).toMatchObject({
      amountSubtotalMinor: 2900,
      amountTotalMinor: 3480,
    });
  });

  it("tells live from test", async () => {
    const till = openTill(server);
    const { id } = await till.open(makeCharge());
    server.patch(id, { livemode: true });
    expect(till.live).toBe(false);
    expect(await till.read(id)).toMatchObject({ live: true });
    expect(openTill(server, { secretKey: "rk_live_1" }).live).toBe(true);
  });

  it.each(["", "..", "cs_a/../b", "cs_%2e", "practice_1", "cs_1?expand[]=customer"])(
    "never asks the service for what cannot be a session: %j",
    async (id) => {
      expect(await openTill(server).read(id)).toBeUndefined();
      expect(server.seen).toHaveLength(0);
    },
  );

  it("refuses a session without an amount", async () => {
    const till = openTill(server);
    const { id } = await till.open(makeCharge());
    server.patch(id, { amount_total: null });
    await expectRefusal(till.read(id), "payment.till.rejected");
  });
});
