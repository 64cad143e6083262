/**
 * The stand-in for Stripe's API is only worth its tests if it refuses what the real one would.
 */
import Stripe from "stripe";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { toSessionParams } from "#service/tills/stripe-session.ts";
import { makeCharge } from "../service/tills/till.contract.ts";
import { startStripeServer, type StripeServer } from "./stripe-server.ts";

let server: StripeServer;
beforeAll(async () => {
  server = await startStripeServer();
});
afterAll(() => server.close());

/** Send our own form with something planted in it, past every check of the till. */
async function send(plant: (form: Record<string, unknown>) => void) {
  const form = toSessionParams(makeCharge()) as Record<string, unknown>;
  plant(form);
  const { secretKey, ...address } = server.settings;
  const client = new Stripe(secretKey, { ...address, maxNetworkRetries: 0 });
  const { create } = client.checkout.sessions;
  return create.call(client.checkout.sessions, form as Stripe.Checkout.SessionCreateParams).then(
    () => "opened",
    (error: Stripe.errors.StripeError) => `${error.code} ${error.param}`,
  );
}

/** The price inside the first line, to plant something there. */
function price(form: Record<string, unknown>): Record<string, unknown> {
  return (form["line_items"] as { price_data: Record<string, unknown> }[])[0]?.price_data ?? {};
}

describe("the stand-in for Stripe's API", () => {
  it("opens a session for the form as it is", async () => {
    expect(await send(() => undefined)).toBe("opened");
  });

  it("refuses a parameter that the API does not have", async () => {
    expect(await send((form) => (form["colour"] = "gold"))).toBe("parameter_unknown colour");
    expect(await send((form) => (price(form)["unit_price"] = 1))).toMatch(
      /^parameter_unknown line_items.*unit_price$/,
    );
  });

  it("refuses the parameter that this version of the API has dropped", async () => {
    expect(await send((form) => (form["payment_method_types"] = ["card"]))).toBe(
      "parameter_unknown payment_method_types",
    );
  });

  it.each<[string, (form: Record<string, unknown>) => void]>([
    ["a mode that does not exist", (form) => (form["mode"] = "pay")],
    ["a tax behaviour that does not exist", (form) => (price(form)["tax_behavior"] = "included")],
    ["a card misspelt", (form) => (form["allowed_payment_method_types"] = ["cards"])],
    ["an amount that is not a number", (form) => (price(form)["unit_amount"] = Number.NaN)],
    ["half a penny", (form) => (price(form)["unit_amount"] = 10.5)],
    ["no currency", (form) => delete price(form)["currency"]],
    ["a currency in capitals", (form) => (price(form)["currency"] = "GBP")],
    ["no name", (form) => (price(form)["product_data"] = { name: "" })],
    ["a metadata value of 501", (form) => (form["metadata"] = { order: "o".repeat(501) })],
    [
      "51 metadata pairs",
      (form) =>
        (form["metadata"] = Object.fromEntries(
          Array.from({ length: 51 }, (_, i) => [`k${i}`, "v"]),
        )),
    ],
    [
      "a session of 20 minutes",
      (form) => (form["expires_at"] = Math.floor(Date.now() / 1000) + 1200),
    ],
    [
      "a session of two days",
      (form) => (form["expires_at"] = Math.floor(Date.now() / 1000) + 172_800),
    ],
  ])("refuses %s", async (_what, plant) => {
    expect(await send(plant)).toMatch(/^parameter_(invalid|unknown)/);
  });
});
