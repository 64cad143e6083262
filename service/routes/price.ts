/**
 * A choice, a jar and a quantity in; a signed quote out.
 */
import { Hono } from "hono";
import { issueQuote } from "../actions/issue-quote.ts";
import type { Offers } from "../actions/offer.ts";
import { readJson } from "../middleware.ts";
import type { Shop } from "../ports.ts";
import { QuoteRequestShape } from "../shapes.ts";

export function priceRoutes(shop: Shop, offers: Offers) {
  return new Hono()
    .post("/quotes", async (c) => {
      const request = await readJson(c, QuoteRequestShape);
      return c.json(await issueQuote(shop, offers, request), 201);
    })
    .get("/quote-keys", (c) =>
      c.body(JSON.stringify(shop.seals.publicKeys()), 200, {
        "content-type": "application/jwk-set+json", // RFC 7517 section 8.5
        // A key lives as long as its shop; the hour is for the day it must be changed all the same.
        "cache-control": "public, max-age=3600",
      }),
    );
}
