/**
 * A quote in, an order out; and where an order stands, for whoever holds its token.
 */
import type { OrderStanding } from "#core/wire.ts";
import { Hono } from "hono";
import { blendCodeOfQuote } from "../actions/blend-code.ts";
import type { Offers } from "../actions/offer.ts";
import { customerOrder } from "../actions/open-order.ts";
import { placeOrder } from "../actions/place-order.ts";
import { readJson } from "../middleware.ts";
import { isFromHost } from "../plugin/keys.ts";
import type { Shop } from "../ports.ts";
import { OrderRequestShape } from "../shapes.ts";
import { answerHostOrder } from "./host-orders.ts";

export function orderRoutes(shop: Shop, offers: Offers) {
  return new Hono()
    .post("/orders", async (c) => {
      if (isFromHost(c)) return await answerHostOrder(shop, offers, c);
      const { quote } = await readJson(c, OrderRequestShape);
      const { order, repeated } = await placeOrder(shop, offers, quote);
      return c.json(order, repeated ? 200 : 201, { "cache-control": "no-store" });
    })
    .get("/orders/:order/:token", async (c) => {
      const { order, quote } = await customerOrder(
        shop,
        c.req.param("order"),
        c.req.param("token"),
      );
      const { reference, state, totalMinor, currency } = order;
      const blend = (await blendCodeOfQuote(shop, quote)) ?? null;
      const answer: OrderStanding = { reference, state, totalMinor, currency, blend };
      return c.json(answer, 200, { "cache-control": "no-store" });
    });
}
