/**
 * What can be composed: the products for sale and everything a page needs to start.
 */
import type { ProductOffer } from "#core/wire.ts";
import { nameIn } from "#data/names.ts";
import { Hono } from "hono";
import type { Offers } from "../actions/offer.ts";
import { oncePerOffer } from "../actions/once-per-offer.ts";
import { KEPT_BRIEFLY } from "../middleware.ts";
import type { Shop } from "../ports.ts";
import { ProductShape } from "../shapes.ts";
import { LANGS, langOf } from "../words/speak.ts";

/** The offer with its ingredients called as they are in a language; a name the maker typed stays as it is typed. */
function namedIn(language: string, offer: ProductOffer): ProductOffer {
  const ingredients = offer.ingredients.map((each) => ({ ...each, name: nameIn(language, each) }));
  return { ...offer, ingredients };
}

export function composeRoutes(shop: Shop, offers: Offers) {
  const offerTexts = new Map(
    LANGS.map((lang) => [lang, oncePerOffer(({ wire }) => JSON.stringify(namedIn(lang, wire)))]),
  );
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
      const offer = await offers.of(c.req.param("product"), "recent", c.req.query("zone"));
      const offerText = offerTexts.get(langOf(c.req.query("language") ?? offer.wire.locale))!;
      return c.body(offerText(offer), 200, {
        "content-type": "application/json",
        "cache-control": KEPT_BRIEFLY,
      });
    });
}
