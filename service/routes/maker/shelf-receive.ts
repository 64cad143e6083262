/**
 * A delivery received as a lot.
 */
import { textOf } from "../../typed/text.ts";
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { lotFormPage } from "../../pages/maker-shelf-lot-form.ts";
import { lotHref } from "../../pages/maker-shelf.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { quoted } from "../../typed/fault.ts";
import { LOT_FIELDS, readLot } from "../../shelf/lot-fields.ts";
import { Conflict } from "../../storage/database.ts";
import { blankFields, textFields } from "../../typed/fields.ts";
import { NOT_WHOLE, isDrawnId } from "../../typed/form-carried.ts";
import { makerPage } from "./page.ts";
import { ownIngredient, shelfGround } from "./shelf-ground.ts";
import type { Signed } from "./visit.ts";

/** Mounted under an ingredient's own address, which names it as `id`. */
export function receiveRoutes(shop: Shop) {
  return new Hono<Signed>()
    .get("/", async (c) => {
      const ground = shelfGround(shop, c);
      const { row, ingredient } = await ownIngredient(shop, ground.shopId, c.req.param("id")!);
      const fields = {
        ...blankFields(LOT_FIELDS),
        supplier: row.supplier,
        receivedOn: ground.today,
      };
      const says = { fields, revision: 0, faults: [] };
      const model = lotFormPage(ground, ingredient, { id: shop.numbers.id() }, says);
      return c.html(await makerPage(shop, c, "shelf", "maker-shelf-lot-form", model));
    })
    .post("/", async (c) => {
      const ground = shelfGround(shop, c);
      const { shopId, personId, at } = ground;
      const { row, ingredient } = await ownIngredient(shop, shopId, c.req.param("id")!);
      const form = await readForm(c);
      const id = textOf(form, "id");
      if (!isDrawnId(id)) throw new Refusal("shelf.form.broken", NOT_WHOLE);
      const fields = textFields(form, LOT_FIELDS);
      const reading = readLot(fields, { ...ground, ingredient });
      let faults = "faults" in reading ? reading.faults : [];
      if ("read" in reading) {
        const bare = { blockedBecause: null, archivedAt: null, revision: 1 };
        const lot = { id, shopId, ingredientId: row.id, ...reading.read, ...bare };
        try {
          await shop.lots.receive(lot, { at, personId });
          return c.redirect(lotHref(id), 303);
        } catch (error) {
          if (!(error instanceof Conflict)) throw error;
          // The same form sent twice has been received already.
          if (await shop.lots.byId(shopId, id)) return c.redirect(lotHref(id), 303);
          const code = quoted(reading.read.code);
          const sentence = `You have a lot ${code} of this already. Count that one, or add to the code.`;
          faults = [{ field: "code", sentence }];
        }
      }
      const model = lotFormPage(ground, ingredient, { id }, { fields, revision: 0, faults });
      return c.html(await makerPage(shop, c, "shelf", "maker-shelf-lot-form", model), 422);
    });
}
