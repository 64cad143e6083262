/**
 * Scripts, style sheets and fonts.
 */
import { Hono } from "hono";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";

export function assetRoutes(shop: Shop) {
  return new Hono().get("/:name", (c) => {
    const asset = shop.asset(c.req.param("name"));
    if (!asset) throw new Refusal("request.route.unknown", "There is no such file.");
    return c.body(asset.body, 200, {
      "content-type": asset.type,
      "cache-control": "public, max-age=300",
      "x-content-type-options": "nosniff",
      // The storefront script is meant for pages of other shops.
      "cross-origin-resource-policy": "cross-origin",
      "access-control-allow-origin": "*",
    });
  });
}
