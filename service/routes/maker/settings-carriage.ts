/**
 * Carriage: part of the shop's settings, saved over the same revision.
 */
import { Hono } from "hono";
import { readForm } from "../../middleware.ts";
import {
  type CarriageSays,
  carriagePage,
  fieldsOfCarriage,
  readCarriage,
  typedCarriage,
} from "../../pages/maker-shop-carriage.ts";
import { particularsOf } from "../../pages/maker-shop-form.ts";
import type { Shop } from "../../ports.ts";
import type { ShopRow } from "../../storage/shops.ts";
import { makerPage } from "./page.ts";
import { saveParticulars } from "./save-particulars.ts";
import type { Signed, SignedContext } from "./visit.ts";

const currencyOf = ({ currency: code, currencyExponent: exponent }: ShopRow) => ({
  code,
  exponent,
});

export function carriageRoutes(shop: Shop) {
  const own = async (c: SignedContext) => (await shop.shops.byId(c.get("shopId")))!;

  async function show(
    c: SignedContext,
    says: Partial<CarriageSays>,
    status: 200 | 409 | 422 = 200,
  ) {
    const row = await own(c);
    const particulars = particularsOf(row);
    const fields = fieldsOfCarriage(particulars, currencyOf(row));
    const saved = c.req.query("saved") !== undefined;
    const all = { fields, faults: [], overtaken: false, saved, ...says };
    const model = carriagePage(row.revision, particulars, currencyOf(row), all);
    return c.html(await makerPage(shop, c, "shop", "maker-shop-carriage", model), status);
  }

  return new Hono<Signed>()
    .get("/", (c) => show(c, {}))
    .post("/", async (c) => {
      const form = await readForm(c);
      const row = await own(c);
      const fields = typedCarriage(form);
      const since = Number(form.get("revision") ?? Number.NaN);
      if (since !== row.revision) return await show(c, { fields, overtaken: true }, 409);
      const { carriage: _carriage, deliverTo: _deliverTo, ...rest } = particularsOf(row);
      const read = readCarriage(fields, rest, currencyOf(row), shop.numbers.id);
      if ("faults" in read) return await show(c, { fields, faults: read.faults }, 422);
      const particulars = { ...rest, ...read.kept };
      const isSaved = await saveParticulars(shop, row, since, particulars);
      if (!isSaved) return await show(c, { fields, overtaken: true }, 409);
      return c.redirect("/maker/shop/carriage?saved", 303);
    });
}
