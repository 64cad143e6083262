/**
 * Money that went back, brought to its order: always the till's own sum and list, never what an event adds or takes
 * away.
 */
import type { Shop } from "../ports.ts";
import type { Statement } from "../storage/database.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { RefundNews, RefundRow } from "../storage/refunds.ts";
import type { TillRefund, TillSession } from "../tills/till.ts";
import { sayAmount } from "./order-amounts.ts";

/**
 * Bring an order's refunds to what the till says. An order that waits to be made is held once all of it has gone back:
 * nobody makes what is not paid for.
 * @param session paid
 * @throws Conflict when somebody else does so at this moment; TillRefusal, TillUnavailable
 */
export async function settleRefunds(
  shop: Shop,
  order: OrderRow,
  session: TillSession,
): Promise<void> {
  const rows = await shop.refunds.of(order.id);
  const isWaiting = rows.some(({ state }) => state === "asked" || state === "pending");
  const isSame = session.refundedMinor === order.refundedMinor;
  if (isSame && !isWaiting) return;
  const at = shop.clock.seconds();
  const news = newsOf(order.id, rows, await shop.till.refunds(session), at);
  if (isSame && news.length === 0) return;
  const { refundedMinor, amountTotalMinor, currency } = session;
  const sums = `${sayAmount(refundedMinor, currency)} of ${sayAmount(amountTotalMinor, currency)}`;
  await shop.db.atomic([
    ...shop.refunds.newsStatements(news, at),
    ...news.flatMap((each) => failure(shop, order, each, at)),
    ...(isSame
      ? []
      : shop.orders.refundStatements(order, refundedMinor, at, `given back: ${sums}`)),
    ...holdStatements(shop, order, session, at),
  ]);
}

function holdStatements(
  shop: Shop,
  order: OrderRow,
  session: TillSession,
  at: number,
): Statement[] {
  const { refundedMinor, amountTotalMinor } = session;
  if (order.state !== "paid" || refundedMinor < amountTotalMinor) return [];
  const heldBecause =
    refundedMinor > amountTotalMinor
      ? "the payment service says that more was given back than was taken"
      : "all of the money was given back";
  const move = { orderId: order.id, at, who: "till" as const, from: ["paid" as const] };
  return shop.orders.moveStatements({
    ...move,
    to: "held",
    what: heldBecause,
    with: { heldBecause },
  });
}

/** What is new in the till's list: refunds made elsewhere, and those of ours that have moved on. */
function newsOf(
  orderId: string,
  rows: readonly RefundRow[],
  list: readonly TillRefund[],
  at: number,
): RefundNews[] {
  return list.flatMap(({ id: tillRefundId, ownId, minor, state, fault }): RefundNews[] => {
    const row = rows.find((each) => each.tillRefundId === tillRefundId || each.id === ownId);
    if (row?.state === state && row.tillRefundId === tillRefundId) return [];
    if (row) return [{ row: { ...row, state, tillRefundId, fault }, before: row.state }];
    const why = "made at the payment service";
    const made = { id: tillRefundId, orderId, amountMinor: minor, why, askedBy: null, askedAt: at };
    return [{ row: { ...made, tillKey: `till-${tillRefundId}`, tillRefundId, state, fault } }];
  });
}

/** A refund that failed leaves the money with the shop: the maker must know. */
function failure(shop: Shop, order: OrderRow, { row }: RefundNews, at: number): Statement[] {
  if (row.state !== "failed") return [];
  const why = row.fault ? ` (${row.fault})` : "";
  const what = `giving back ${sayAmount(row.amountMinor, order.currency)} failed${why}; the money is with you`;
  return [shop.orders.logStatement(order.id, at, "till", what)];
}
