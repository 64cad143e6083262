/**
 * A page of the settings that holds one part of the shop's particulars: shown, and saved over the revision it was read
 * at, whoever else saves meanwhile.
 */
import { Hono } from "hono";
import { readForm } from "../../middleware.ts";
import type { PartSays } from "../../pages/maker-shop-part.ts";
import type { PageName } from "../../pages/render.ts";
import type { Shop } from "../../ports.ts";
import type { ShopParticulars } from "../../shapes.ts";
import type { ShopRow } from "../../storage/shops.ts";
import type { Fault } from "../../typed/fault.ts";
import { wholeIn } from "../../typed/form-carried.ts";
import { makerPage } from "./page.ts";
import { saveParticulars } from "./save-particulars.ts";
import type { Signed, SignedContext } from "./visit.ts";

export interface SettingsPart<Fields> {
  /** Address of the page. */
  readonly href: string;
  readonly template: PageName;
  /** What the form shows of the shop as it is stored. */
  fieldsOf(owner: ShopRow): Fields;
  typed(form: FormData): Fields;
  /** All particulars with what was typed among them, or what stands against it. */
  read(
    fields: Fields,
    owner: ShopRow,
  ): { readonly particulars: ShopParticulars } | { readonly faults: readonly Fault[] };
  model(owner: ShopRow, says: PartSays<Fields>): object;
}

export function settingsPartRoutes<Fields>(shop: Shop, part: SettingsPart<Fields>) {
  const own = async (c: SignedContext) => (await shop.shops.byId(c.get("shopId")))!;

  async function show(
    c: SignedContext,
    says: Partial<PartSays<Fields>> = {},
    status: 200 | 409 | 422 = 200,
  ) {
    const owner = await own(c);
    const saved = c.req.query("saved") !== undefined;
    const all = { fields: part.fieldsOf(owner), faults: [], overtaken: false, saved, ...says };
    const model = part.model(owner, all);
    return c.html(await makerPage(shop, c, "shop", part.template, model), status);
  }

  return new Hono<Signed>()
    .get("/", (c) => show(c))
    .post("/", async (c) => {
      const form = await readForm(c);
      const owner = await own(c);
      const fields = part.typed(form);
      const since = wholeIn(form, "revision");
      if (since !== owner.revision) return await show(c, { fields, overtaken: true }, 409);
      const read = part.read(fields, owner);
      if ("faults" in read) return await show(c, { fields, faults: read.faults }, 422);
      const isSaved = await saveParticulars(shop, owner, since, read.particulars);
      if (!isSaved) return await show(c, { fields, overtaken: true }, 409);
      return c.redirect(`${part.href}?saved`, 303);
    });
}
