/**
 * Signed events from the payment service: raw body, verified first, stored, and each worked through once.
 */
import { Hono } from "hono";
import { tillProblem } from "../actions/place-order.ts";
import { receiveEvent } from "../actions/settle-payment.ts";
import type { Shop } from "../ports.ts";

export function paymentEventRoutes(shop: Shop) {
  return new Hono().post("/payment-events", async (c) => {
    try {
      const event = await shop.till.readEvent(await c.req.text(), c.req.header("stripe-signature"));
      const worked = await receiveEvent(shop, event);
      return c.json({ received: true, repeated: !worked });
    } catch (error) {
      throw tillProblem(error);
    }
  });
}
