/**
 * Money of an order, in the owner's hands: given back in whole or in part, and an order cancelled with its money.
 */
import { Hono } from "hono";
import { cancelOrder } from "../../actions/cancel-order.ts";
import { refundOrder } from "../../actions/refund.ts";
import type { OrderWithQuote } from "../../batches/groups.ts";
import { readForm } from "../../middleware.ts";
import type { OrderMoney } from "../../pages/maker-order-money.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { NOT_WHOLE, isDrawnId } from "../../typed/form-carried.ts";
import { readMoney } from "../../typed/read-money.ts";
import { textOf } from "../../typed/text.ts";
import { whyFault } from "../../typed/why.ts";
import { type Signed, type SignedContext, ownersOnly } from "./visit.ts";

/** What the order's own page lends. */
export interface OrderDesk {
  ownOrder(shopId: string, reference: string): Promise<OrderWithQuote>;
  /** The page again, with what stands against what was asked for. */
  showAgain(
    c: SignedContext,
    status: 409 | 422,
    says: { readonly fault?: string; readonly typed?: string } & Partial<OrderMoney>,
  ): Promise<Response>;
}

export function orderMoneyRoutes(shop: Shop, { ownOrder, showAgain }: OrderDesk) {
  async function refund(c: SignedContext) {
    const form = await readForm(c);
    const typedRefund = { amount: textOf(form, "amount"), why: textOf(form, "why") };
    const { order, quote } = await ownOrder(c.get("shopId"), c.req.param("reference") ?? "");
    const again = (refundFault: string, status: 409 | 422 = 422) =>
      showAgain(c, status, { refundFault, typedRefund });
    const { why } = typedRefund;
    const against = whyFault(why);
    if (against) return again(against);
    const read = readMoney(typedRefund.amount, quote.currency);
    if ("sentence" in read) return again(read.sentence);
    if (read.value === 0) return again("Write the amount that goes back. Nothing was changed.");
    const id = textOf(form, "id");
    if (!isDrawnId(id)) return again(NOT_WHOLE);
    const askedBy = c.get("visit").personId;
    try {
      await refundOrder(shop, order, { id, minor: read.value, why, askedBy });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      return again(error.message, error.code === "order.state.conflict" ? 409 : 422);
    }
    return c.redirect(`/maker/orders/${order.reference}#sum`, 303);
  }

  async function cancel(c: SignedContext) {
    const form = await readForm(c);
    const why = textOf(form, "why");
    const { order } = await ownOrder(c.get("shopId"), c.req.param("reference") ?? "");
    const against = whyFault(why);
    if (against) return showAgain(c, 422, { fault: against, typed: why });
    const back = textOf(form, "money") === "back";
    const asker = back ? { refundedBy: c.get("visit").personId } : {};
    try {
      await cancelOrder(shop, order, { who: "maker", why, ...asker });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      return showAgain(c, 409, { fault: error.message, typed: why });
    }
    return c.redirect(`/maker/orders/${order.reference}`, 303);
  }

  return new Hono<Signed>()
    .post("/:reference/refund", ownersOnly, refund)
    .post("/:reference/cancel", ownersOnly, cancel);
}
