/**
 * What the owner does for a customer who asks: keeps an order on with a reason, hands over what is held, erases it.
 */
import { Hono } from "hono";
import { eraseParticulars, orderExport } from "../../actions/order-care.ts";
import { readForm } from "../../middleware.ts";
import type { Shop } from "../../ports.ts";
import { Conflict } from "../../storage/database.ts";
import { textOf } from "../../typed/text.ts";
import { whyFault } from "../../typed/why.ts";
import { attachment } from "../attachment.ts";
import type { OrderDesk } from "./order-money.ts";
import { type Signed, ownersOnly } from "./visit.ts";

export function orderCareRoutes(shop: Shop, { ownOrder, showAgain }: OrderDesk) {
  return new Hono<Signed>()
    .post("/:reference/keep-on", ownersOnly, async (c) => {
      const why = textOf(await readForm(c), "why");
      const { order } = await ownOrder(c.get("shopId"), c.req.param("reference"));
      const against = whyFault(why);
      if (against) return await showAgain(c, 422, { fault: against });
      try {
        await shop.orderCare.keepOn(order.id, shop.clock.seconds(), why);
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        const fault = "Nobody asks to cancel this order any more. Nothing was changed.";
        return await showAgain(c, 409, { fault });
      }
      return c.redirect(`/maker/orders/${order.reference}`, 303);
    })
    .get("/:reference/data.json", ownersOnly, async (c) => {
      const { order, quote } = await ownOrder(c.get("shopId"), c.req.param("reference"));
      c.header("content-disposition", attachment(`order-${order.reference}.json`));
      return c.json(await orderExport(shop, order, quote));
    })
    .post("/:reference/erase", ownersOnly, async (c) => {
      const { order } = await ownOrder(c.get("shopId"), c.req.param("reference"));
      await eraseParticulars(shop, order, "maker");
      return c.redirect(`/maker/orders/${order.reference}#data`, 303);
    });
}
