/**
 * An order that was made goes into the post. Bench and owner alike, so no money here.
 */
import { Hono } from "hono";
import { readForm } from "../../middleware.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { Conflict } from "../../storage/database.ts";
import { textOf } from "../../typed/text.ts";
import { type Signed, placeInside } from "./visit.ts";

export function sentRoutes(shop: Shop) {
  return new Hono<Signed>().post("/:reference", async (c) => {
    const back = placeInside(shop, textOf(await readForm(c), "back"));
    const order = await shop.orders.byReference(c.get("shopId"), c.req.param("reference"));
    if (!order) throw new Refusal("order.unknown", "There is no order of that reference.");
    const at = shop.clock.seconds();
    const what = `sent, by ${c.get("visit").name || "the bench"}`;
    try {
      await shop.orders.move({ orderId: order.id, to: "sent", at, who: "maker", what });
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      throw new Refusal(
        "order.state.conflict",
        "This order is not waiting to be sent, so nothing was changed. Somebody may have marked it before you.",
      );
    }
    return c.redirect(back, 303);
  });
}
