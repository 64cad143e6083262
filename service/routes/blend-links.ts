/**
 * A blend as a code, and a code as a blend.
 */
import type { BlendLinkAnswer, BlendOpened } from "#core/wire.ts";
import { Hono } from "hono";
import { blendCode, openBlendCode } from "../actions/blend-code.ts";
import type { Offers } from "../actions/offer.ts";
import { readJson } from "../middleware.ts";
import type { Shop } from "../ports.ts";
import { BlendLinkRequestShape } from "../shapes.ts";

export function blendLinkRoutes(shop: Shop, offers: Offers) {
  return new Hono()
    .post("/blend-links", async (c) => {
      const { product, choice, jar } = await readJson(c, BlendLinkRequestShape);
      const answer: BlendLinkAnswer = await blendCode(shop, await offers.of(product), {
        choice,
        jar,
      });
      return c.json(answer);
    })
    .get("/blend-links/:code", async (c) => {
      const opened: BlendOpened = await openBlendCode(shop, offers, c.req.param("code"));
      return c.json(opened, 200, { "cache-control": "no-store" });
    });
}
