/**
 * The bench: what to do next.
 */
import { Hono } from "hono";
import { firstSteps } from "../../actions/first-steps.ts";
import { benchPage, type OwnersLists } from "../../pages/maker-home.ts";
import { momentIn } from "../../pages/maker-pages.ts";
import { untoldWords } from "../../messages/untold.ts";
import type { Shop } from "../../ports.ts";
import type { MarginReports } from "../../prices/margin-reports.ts";
import type { Desks } from "../../products/desk.ts";
import type { ShopRow } from "../../storage/shops.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

/** Orders laid out to choose a batch from; those that wait longer come first. */
const WAITING_MOST = 100;
const LIST_MOST = 50;

export function benchRoutes(shop: Shop, deskOf: Desks, reportOf: MarginReports) {
  /** The bench sees neither money nor what is still to be set up. */
  async function ownersLists(c: SignedContext, owner: ShopRow): Promise<OwnersLists> {
    const { role, personId } = c.get("visit");
    if (role !== "owner") return { steps: [], margins: undefined, untold: "" };
    const [steps, margins, untold] = await Promise.all([
      firstSteps(shop, owner, personId),
      deskOf(owner).then(reportOf),
      untoldWords(shop, owner.id),
    ]);
    return { steps, margins, untold };
  }

  return new Hono<Signed>().get("/", async (c) => {
    const shopId = c.get("shopId");
    const { count, page } = shop.orderLists;
    const first = { most: LIST_MOST, newestFirst: false };
    const owner = c.get("owner");
    const [waiting, toSend, held, batches, waits, sends, holds, asked] = await Promise.all([
      shop.orders.waiting(shopId, WAITING_MOST),
      page(shopId, "made", first),
      page(shopId, "held", first),
      shop.batches.open(shopId, LIST_MOST),
      count(shopId, "paid"),
      count(shopId, "made"),
      count(shopId, "held"),
      shop.orderCare.askedToCancel(shopId),
    ]);
    const counts = { waiting: waits, toSend: sends, held: holds };
    const model = benchPage(
      owner,
      { waiting, toSend, held, batches, counts },
      await ownersLists(c, owner),
    );
    const when = momentIn(owner);
    const cancelAsked = asked.map(({ reference, cancelAskedAt }) => ({
      reference,
      when: when(cancelAskedAt!),
    }));
    return c.html(await makerPage(shop, c, "bench", "maker-home", { ...model, cancelAsked }));
  });
}
