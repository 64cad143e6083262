/**
 * An order and its frozen facts, for the customer who holds its token.
 */
import type { QuoteSnapshot } from "#core/wire.ts";
import { isSameText } from "../numbers.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { QuoteSnapshotShape } from "../shapes.ts";
import type { OrderRow } from "../storage/orders.ts";

/**
 * Open an order by its secret token.
 * @throws Refusal order.unknown when there is no such order or the token is not its own; the two are not told apart
 */
export async function customerOrder(
  shop: Shop,
  orderId: string,
  token: string,
): Promise<{ readonly order: OrderRow; readonly quote: QuoteSnapshot }> {
  const [order, wanted] = await Promise.all([
    shop.orders.byId(orderId),
    shop.seals.orderToken(orderId),
  ]);
  if (!order || !isSameText(token, wanted)) {
    throw new Refusal("order.unknown", "There is no order at this address. Is the link complete?");
  }
  return { order, quote: frozenQuote(order) };
}

/** What was quoted, as it was frozen with the order. */
export function frozenQuote({ snapshot }: Pick<OrderRow, "snapshot">): QuoteSnapshot {
  return QuoteSnapshotShape.parse(JSON.parse(snapshot));
}
