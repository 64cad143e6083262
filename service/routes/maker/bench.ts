/**
 * The bench: what to do next.
 */
import { Hono } from "hono";
import { benchPage } from "../../pages/maker-home.ts";
import type { Shop } from "../../ports.ts";
import { makerPage } from "./page.ts";
import type { Signed } from "./visit.ts";

/** Orders laid out to choose a batch from; those that wait longer come first. */
const WAITING_MOST = 100;
const LIST_MOST = 50;

export function benchRoutes(shop: Shop) {
  return new Hono<Signed>().get("/", async (c) => {
    const shopId = c.get("shopId");
    const { count, page } = shop.orderLists;
    const first = { most: LIST_MOST, newestFirst: false };
    const [owner, waiting, toSend, held, batches, waits, sends, holds] = await Promise.all([
      shop.shops.byId(shopId),
      shop.orders.waiting(shopId, WAITING_MOST),
      page(shopId, "made", first),
      page(shopId, "held", first),
      shop.batches.open(shopId, LIST_MOST),
      count(shopId, "paid"),
      count(shopId, "made"),
      count(shopId, "held"),
    ]);
    const counts = { waiting: waits, toSend: sends, held: holds };
    const model = benchPage(owner!, { waiting, toSend, held, batches, counts });
    return c.html(await makerPage(shop, c, "bench", "maker-home", model));
  });
}
