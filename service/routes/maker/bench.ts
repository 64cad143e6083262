/**
 * The bench: what to do next.
 */
import { Hono } from "hono";
import { firstSteps } from "../../actions/first-steps.ts";
import { benchPage, type OwnersLists } from "../../pages/maker-home.ts";
import type { Shop } from "../../ports.ts";
import { marginReports } from "../../prices/margin-reports.ts";
import { desksOf } from "../../products/desk.ts";
import type { ShopRow } from "../../storage/shops.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

/** Orders laid out to choose a batch from; those that wait longer come first. */
const WAITING_MOST = 100;
const LIST_MOST = 50;

export function benchRoutes(shop: Shop) {
  const deskOf = desksOf(shop);
  const reportOf = marginReports(shop);

  /** The bench sees neither money nor what is still to be set up. */
  async function ownersLists(c: SignedContext, owner: ShopRow): Promise<OwnersLists> {
    const { role, personId } = c.get("visit");
    if (role !== "owner") return { steps: [], margins: undefined };
    const [steps, margins] = await Promise.all([
      firstSteps(shop, owner, personId),
      deskOf(owner.id).then(reportOf),
    ]);
    return { steps, margins };
  }

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
    const model = benchPage(
      owner!,
      { waiting, toSend, held, batches, counts },
      await ownersLists(c, owner!),
    );
    return c.html(await makerPage(shop, c, "bench", "maker-home", model));
  });
}
