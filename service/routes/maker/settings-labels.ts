/**
 * Label settings: part of the shop's settings, saved over the same revision.
 */
import { Hono } from "hono";
import { labelSettingsOf } from "../../documents/label-settings.ts";
import { readForm } from "../../middleware.ts";
import { particularsOf } from "../../pages/maker-shop-form.ts";
import {
  type LabelSettingsSay,
  fieldsOfLabel,
  labelSettingsPage,
  readLabel,
  typedLabel,
} from "../../pages/maker-shop-labels.ts";
import type { Shop } from "../../ports.ts";
import { makerPage } from "./page.ts";
import { saveParticulars } from "./save-particulars.ts";
import type { Signed, SignedContext } from "./visit.ts";

export function labelSettingRoutes(shop: Shop) {
  const own = async (c: SignedContext) => (await shop.shops.byId(c.get("shopId")))!;

  async function show(
    c: SignedContext,
    says: Partial<LabelSettingsSay>,
    status: 200 | 409 | 422 = 200,
  ) {
    const row = await own(c);
    const particulars = particularsOf(row);
    const fields = fieldsOfLabel(labelSettingsOf(particulars, row.locale));
    const saved = c.req.query("saved") !== undefined;
    const all = { fields, faults: [], overtaken: false, saved, ...says };
    const model = labelSettingsPage(row.revision, particulars.responsible, all);
    return c.html(await makerPage(shop, c, "shop", "maker-shop-labels", model), status);
  }

  return new Hono<Signed>()
    .get("/", (c) => show(c, {}))
    .post("/", async (c) => {
      const form = await readForm(c);
      const row = await own(c);
      const fields = typedLabel(form);
      const since = Number(form.get("revision") ?? Number.NaN);
      if (since !== row.revision) return await show(c, { fields, overtaken: true }, 409);
      const read = readLabel(fields, shop.numbers.id);
      if ("faults" in read) return await show(c, { fields, faults: read.faults }, 422);
      const particulars = { ...particularsOf(row), label: read.settings };
      const isSaved = await saveParticulars(shop, row, since, particulars);
      if (!isSaved) return await show(c, { fields, overtaken: true }, 409);
      return c.redirect("/maker/shop/labels?saved", 303);
    });
}
