/**
 * The bench: what to do next, orders, and the batches they are made in.
 */
import type { PriceBreakdown } from "#core/price/breakdown.ts";
import { Hono } from "hono";
import { type BatchSheets, closeBatch, issueBatch, withQuote } from "../../actions/issue-batch.ts";
import { renderWorkOrder } from "../../documents/render.ts";
import { benchPage, makerOrderPage } from "../../pages/maker-pages.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { Conflict } from "../../storage/database.ts";
import { makerPage } from "./page.ts";
import type { Signed } from "./visit.ts";

const LIST_MOST = 50;

export function benchRoutes(shop: Shop) {
  const practice = shop.till.kind === "practice";
  return new Hono<Signed>()
    .get("/", async (c) => {
      const shopId = c.get("shopId");
      const owner = await shop.shops.byId(shopId);
      const [waiting, toSend, held, batches, latest] = await Promise.all([
        shop.orders.inStates(shopId, ["paid"]),
        shop.orders.inStates(shopId, ["made"]),
        shop.orders.inStates(shopId, ["held"]),
        shop.batches.latest(shopId, LIST_MOST),
        shop.orders.latest(shopId, LIST_MOST),
      ]);
      const lists = { waiting, toSend, held, batches, latest };
      return c.html(await makerPage(shop, c, "bench", "maker-home", benchPage(owner!, lists)));
    })
    .post("/batches", async (c) => {
      const form = await c.req.formData();
      const ids = form.getAll("order").map(String);
      const number = await issueBatch(shop, c.get("shopId"), ids);
      return c.redirect(`/maker/batches/${number}`, 303);
    })
    .get("/batches/:number", async (c) => {
      const batch = await shop.batches.byNumber(c.get("shopId"), c.req.param("number"));
      if (!batch) throw new Refusal("make.batch.unknown", "There is no batch of that number.");
      const { runs } = JSON.parse(batch.workOrder) as BatchSheets;
      const owner = await shop.shops.byId(c.get("shopId"));
      const sheet = renderWorkOrder(runs[0]!.workOrder, {
        stylesheets: ["/assets/fonts.css", "/assets/print.css"],
        locale: owner!.locale,
        practice,
        backHref: "/maker",
      });
      return c.html(sheet);
    })
    .post("/batches/:number/made", async (c) => {
      await closeBatch(shop, c.get("shopId"), c.req.param("number"));
      return c.redirect("/maker", 303);
    })
    .get("/orders/:reference", async (c) => {
      const { order, quote } = await ownOrder(c.get("shopId"), c.req.param("reference"));
      const [stored, events, owner, batch] = await Promise.all([
        shop.orders.quote(order.quoteId),
        shop.orders.events(order.id),
        shop.shops.byId(order.shopId),
        order.batchId ? shop.batches.byId(order.batchId) : undefined,
      ]);
      const price = JSON.parse(stored!.priceLines) as PriceBreakdown;
      const number = batch?.number ?? null;
      const model = makerOrderPage(owner!, { order, quote }, price, events, number);
      return c.html(await makerPage(shop, c, "orders", "maker-order", model));
    })
    .post("/orders/:reference/sent", async (c) => {
      const { order } = await ownOrder(c.get("shopId"), c.req.param("reference"));
      const at = shop.clock.seconds();
      try {
        await shop.orders.move({ orderId: order.id, to: "sent", at, who: "maker", what: "sent" });
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        throw new Refusal("order.state.conflict", "This order is not waiting to be sent.");
      }
      return c.redirect("/maker", 303);
    });

  async function ownOrder(shopId: string, reference: string) {
    const order = await shop.orders.byReference(shopId, reference);
    if (!order) throw new Refusal("order.unknown", "There is no order of that reference.");
    return withQuote(order);
  }
}
