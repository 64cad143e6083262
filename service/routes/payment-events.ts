/**
 * Signed events from the payment service: raw body, verified first, stored, and each worked through once.
 */
import { Hono } from "hono";
import { tillProblem } from "../actions/place-order.ts";
import { receiveEvent } from "../actions/receive-event.ts";
import type { Shop } from "../ports.ts";

export function paymentEventRoutes(shop: Shop) {
  return new Hono().post("/payment-events", async (c) => {
    try {
      const event = await shop.till.readEvent(
        exactText(await c.req.arrayBuffer()),
        c.req.header("stripe-signature"),
      );
      const worked = await receiveEvent(shop, event);
      return c.json({ received: true, repeated: !worked });
    } catch (error) {
      throw tillProblem(error);
    }
  });
}

/** The body as it was signed: `text()` would drop a byte order mark and let an altered body pass. */
function exactText(body: ArrayBuffer): string {
  return new TextDecoder("utf-8", { ignoreBOM: true }).decode(body);
}
