/**
 * The shelf: what the maker buys, the lots it comes in, and tables of both. The list itself is here.
 */
import { Hono } from "hono";
import { shelfListPage } from "../../pages/maker-shelf.ts";
import type { Shop } from "../../ports.ts";
import type { Desks } from "../../products/desk.ts";
import { daysAfter } from "../../days.ts";
import { NEAR_DAYS } from "../../shelf/days.ts";
import { searchLibrary } from "../../shelf/library-search.ts";
import { makerPage } from "./page.ts";
import { shelfFileRoutes } from "./shelf-files.ts";
import { shelfGround } from "./shelf-ground.ts";
import { shelfIngredientRoutes } from "./shelf-ingredients.ts";
import { shelfLotRoutes } from "./shelf-lots.ts";
import { shelfStartRoutes } from "./shelf-start.ts";
import type { Signed } from "./visit.ts";

const PAGE_LENGTH = 50;
/** Notices of one kind on the page; one more is asked for, to know that there are more. */
const NOTICES_MOST = 5;
const WORDS_LENGTH_MOST = 80;

export function shelfRoutes(shop: Shop, desks: Desks) {
  return new Hono<Signed>()
    .get("/", async (c) => {
      const ground = shelfGround(shop, c);
      const { shopId, today } = ground;
      const words = (c.req.query("q") ?? "").trim().slice(0, WORDS_LENGTH_MOST);
      const putAway = c.req.query("away") === "yes";
      const search = {
        words,
        libraryIds: words === "" ? [] : searchLibrary(words).map(({ id }) => id),
        after: c.req.query("after") ?? "",
        putAway,
        onDay: today,
      };
      const until = daysAfter(today, NEAR_DAYS);
      const [listed, ingredients, lots] = await Promise.all([
        shop.ingredients.page(shopId, search, PAGE_LENGTH + 1),
        shop.ingredients.inNeed(shopId, today, NOTICES_MOST + 1),
        shop.lots.inNeed(shopId, today, until, NOTICES_MOST + 1),
      ]);
      const needs = { ...ingredients, ...lots, most: NOTICES_MOST };
      const model = shelfListPage(ground, listed, { ...search, pageLength: PAGE_LENGTH }, needs);
      return c.html(await makerPage(shop, c, "shelf", "maker-shelf", model));
    })
    .route("/files", shelfFileRoutes(shop))
    .route("/start", shelfStartRoutes(shop))
    .route("/lots", shelfLotRoutes(shop))
    .route("/", shelfIngredientRoutes(shop, desks));
}
