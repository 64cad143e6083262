/**
 * What can be composed: the products for sale and everything a page needs to start.
 */
import { Hono } from "hono";
import type { Offers } from "../actions/offer.ts";
import type { Shop } from "../ports.ts";
import { ProductShape } from "../shapes.ts";

export function composeRoutes(shop: Shop, offers: Offers) {
  return new Hono()
    .get("/products", async (c) => {
      const owner = await shop.shops.first();
      const rows = owner ? await shop.shops.published(owner.id) : [];
      return c.json({
        products: rows.map((row) => {
          const { id, name, words } = ProductShape.parse(JSON.parse(row.product));
          return { id, name, words, version: row.version };
        }),
      });
    })
    .get("/products/:product", async (c) => {
      const { wire } = await offers.of(c.req.param("product"), "recent", c.req.query("zone"));
      return c.json(wire, 200, { "cache-control": "no-cache" });
    });
}
