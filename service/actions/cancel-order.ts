/**
 * An order cancelled before it is made, and its money given back in the same act.
 */
import type { OrderState } from "#core/order/states.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { Move, OrderRow } from "../storage/orders.ts";
import { TillRefusal, TillUnavailable } from "../tills/till.ts";
import { type RefundOutcome, leftToRefund, refundOrder } from "./refund.ts";

/** Once it stands in a batch an order is held first, which takes it out of there. */
export const CANCELLABLE: readonly OrderState[] = ["placed", "paid", "held"];

/** Who cancels, and why. */
export interface Cancelling {
  readonly who: Move["who"];
  readonly why: string;
  /** Id of the person who gives back what is left of the money; missing when nothing is given back here. */
  readonly refundedBy?: string;
}

/**
 * Cancel an order.
 * @returns what became of its money; nothing when there was none to give back, or it was not asked for
 * @throws Refusal order.state.conflict when the order is in making, or has moved on meanwhile: nothing was done
 */
export async function cancelOrder(
  shop: Shop,
  order: OrderRow,
  { who, why, refundedBy }: Cancelling,
): Promise<RefundOutcome | undefined> {
  const at = shop.clock.seconds();
  const move: Move = {
    ...{ orderId: order.id, to: "cancelled", from: CANCELLABLE, at, who },
    what: `cancelled: ${why}`,
    with: { batchId: null, batchRun: null },
  };
  const minor = refundedBy === undefined ? 0 : leftToRefund(order, await shop.refunds.of(order.id));
  if (minor > 0) {
    const request = { id: shop.numbers.id(), minor, why, askedBy: refundedBy! };
    return await refundOrder(shop, order, request, move);
  }
  try {
    await shop.orders.move(move);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    const detail =
      "The order is being made or has just changed, so it was not cancelled. Look again.";
    throw new Refusal("order.state.conflict", detail);
  }
  if (order.state === "placed" && order.tillSessionId) await closeTill(shop, order.tillSessionId);
  return undefined;
}

/** So that nobody pays it any more. A payment that comes all the same is held for the maker. */
async function closeTill(shop: Shop, sessionId: string): Promise<void> {
  try {
    await shop.till.close(sessionId);
  } catch (error) {
    if (!(error instanceof TillRefusal || error instanceof TillUnavailable)) throw error;
    shop.log({
      session: sessionId,
      note: "could not close the till of a cancelled order",
      error: error.message,
    });
  }
}
