/**
 * The shop's settings; people and zones have pages of their own.
 */
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { shopPage } from "../../pages/maker-shop.ts";
import {
  type ShopFields,
  differing,
  fieldsOfShop,
  readShopForm,
  typedFields,
} from "../../pages/maker-shop-form.ts";
import type { Shop } from "../../ports.ts";
import { Conflict } from "../../storage/database.ts";
import { wholeIn } from "../../typed/form-carried.ts";
import { apiKeyRoutes } from "./api-keys.ts";
import { makerPage } from "./page.ts";
import { carriageRoutes } from "./settings-carriage.ts";
import { labelSettingRoutes } from "./settings-labels.ts";
import { peopleRoutes } from "./settings-people.ts";
import { zoneRoutes } from "./settings-zones.ts";
import type { Signed, SignedContext } from "./visit.ts";

export function settingRoutes(shop: Shop) {
  async function show(c: SignedContext, says: Partial<Parameters<typeof shopPage>[1]> = {}) {
    const row = c.get("owner");
    const currencyStays = await shop.shopSettings.hasOrders(row.id);
    const saved = c.req.query("saved") !== undefined;
    const model = shopPage(row, {
      ...{ fields: fieldsOfShop(row), faults: {}, meanwhile: [], overtaken: false, saved },
      currencyStays,
      ...says,
    });
    return await makerPage(shop, c, "shop", "maker-shop", model);
  }

  /** The page again, with both versions where they differ; the revision in it is the new one. */
  async function showOvertaken(c: SignedContext, fields: ShopFields) {
    const now = (await shop.shops.byId(c.get("shopId")))!;
    c.set("owner", now);
    const stored = fieldsOfShop(now);
    const meanwhile = differing(fields, stored).map((field) => ({ field, stored: stored[field] }));
    return c.html(await show(c, { fields, meanwhile, overtaken: true }), 409);
  }

  return new Hono<Signed>()
    .get("/", async (c) => c.html(await show(c)))
    .post("/", async (c) => {
      const shopId = c.get("shopId");
      const form = await readForm(c);
      const row = c.get("owner");
      const currencyStays = await shop.shopSettings.hasOrders(shopId);
      const fields = typedFields(form, fieldsOfShop(row));
      const since = wholeIn(form, "revision");
      if (since !== row.revision) return await showOvertaken(c, fields);
      const read = readShopForm(fields, row, currencyStays);
      if ("faults" in read) return c.html(await show(c, { fields, faults: read.faults }), 422);
      try {
        await shop.shopSettings.save(shopId, since, read.settings);
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        return await showOvertaken(c, fields);
      }
      return c.redirect("/maker/shop?saved", 303);
    })
    .route("/people", peopleRoutes(shop))
    .route("/keys", apiKeyRoutes(shop))
    .route("/carriage", carriageRoutes(shop))
    .route("/labels", labelSettingRoutes(shop))
    .route("/zones", zoneRoutes(shop));
}
