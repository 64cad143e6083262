/**
 * A quote in, an order out; and where an order stands, for whoever holds its token.
 */
import { Hono } from "hono";
import type { Offers } from "../actions/offer.ts";
import { customerOrder } from "../actions/open-order.ts";
import { placeOrder } from "../actions/place-order.ts";
import { readJson } from "../middleware.ts";
import type { Shop } from "../ports.ts";
import { OrderRequestShape } from "../shapes.ts";

export function orderRoutes(shop: Shop, offers: Offers) {
  return new Hono()
    .post("/orders", async (c) => {
      const { quote } = await readJson(c, OrderRequestShape);
      const { order, repeated } = await placeOrder(shop, offers, quote);
      return c.json(order, repeated ? 200 : 201, { "cache-control": "no-store" });
    })
    .get("/orders/:order/:token", async (c) => {
      const { order } = await customerOrder(shop, c.req.param("order"), c.req.param("token"));
      const { reference, state, totalMinor, currency } = order;
      const answer = { reference, state, totalMinor, currency };
      return c.json(answer, 200, { "cache-control": "no-store" });
    });
}
