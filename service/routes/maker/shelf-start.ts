/**
 * A first shelf: many ingredients put on it at once.
 */
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { shelfStartPage } from "../../pages/maker-shelf-start.ts";
import type { Shop } from "../../ports.ts";
import { FIRST_SHELF, readFirstShelf } from "../../shelf/first-shelf.ts";
import { Conflict } from "../../storage/database.ts";
import { textOf } from "../../typed/text.ts";
import { makerPage } from "./page.ts";
import { type ShelfGround, shelfGround } from "./shelf-ground.ts";
import type { Signed, SignedContext } from "./visit.ts";

const MEANWHILE = {
  field: "",
  sentence:
    "Somebody filled the shelf at the same moment, so nothing was added. Look it over and send it again.",
};

export function shelfStartRoutes(shop: Shop) {
  type Says = Parameters<typeof shelfStartPage>[2];
  async function show(c: SignedContext, ground: ShelfGround, says: Says) {
    const standing = await shop.ingredients.ofShop(ground.shopId);
    const model = shelfStartPage(ground, standing, says);
    return await makerPage(shop, c, "shelf", "maker-shelf-start", model);
  }

  return new Hono<Signed>()
    .get("/", async (c) => {
      const added = Number(c.req.query("added") ?? 0);
      const isCount = Number.isInteger(added) && added > 0 && added <= FIRST_SHELF.length;
      const says = { packs: new Map(), faults: [], added: isCount ? added : 0 };
      return c.html(await show(c, shelfGround(shop, c), says));
    })
    .post("/", async (c) => {
      const ground = shelfGround(shop, c);
      const { shopId, currency } = ground;
      const packs = packsIn(await readForm(c));
      const standing = await shop.ingredients.ofShop(shopId);
      const read = readFirstShelf(packs, standing, shopId, currency);
      if ("faults" in read) {
        return c.html(await show(c, ground, { packs, faults: read.faults, added: 0 }), 422);
      }
      try {
        await shop.ingredients.createAll(shopId, read.rows);
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        return c.html(await show(c, ground, { packs, faults: [MEANWHILE], added: 0 }), 409);
      }
      return c.redirect(`/maker/shelf/start?added=${read.rows.length}`, 303);
    });
}

function packsIn(form: FormData) {
  return new Map(
    FIRST_SHELF.map(({ id }) => [
      id,
      { pack: textOf(form, `pack-${id}`), price: textOf(form, `price-${id}`) },
    ]),
  );
}
