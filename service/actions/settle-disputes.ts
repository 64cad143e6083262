/**
 * A payment that the customer's bank has called back in question, brought to its order: a flag that maker and bench
 * see.
 * What becomes of the order is the maker's to say.
 */
import type { Shop } from "../ports.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { TillSession } from "../tills/till.ts";
import { sayAmount } from "./order-amounts.ts";

/**
 * @param session paid
 * @param asked news of a dispute came, so that the till is asked whether or not the payment shows one
 * @throws Conflict when somebody else does so at this moment; TillRefusal, TillUnavailable
 */
export async function settleDisputes(
  shop: Shop,
  order: OrderRow,
  session: TillSession,
  asked: boolean,
): Promise<void> {
  if (!asked && !session.disputed && order.disputeState === null) return;
  const [newest, ...older] = await shop.till.disputes(session);
  if (!newest) return;
  const known = new Map((await shop.disputes.of(order.id)).map(({ id, state }) => [id, state]));
  const isSame = [newest, ...older].every(({ id, state }) => known.get(id) === state);
  if (isSame && order.disputeState === newest.state) return;
  const at = shop.clock.seconds();
  const rows = [newest, ...older].map(({ id, minor, currency, state, reason, openedAt }) => ({
    ...{ id, orderId: order.id, amountMinor: minor, currency, state, reason },
    ...{ openedAt, changedAt: at },
  }));
  const amount = sayAmount(newest.minor, newest.currency);
  await shop.disputes.note(
    order,
    rows,
    at,
    `payment contested: ${newest.state}, ${amount}, ${newest.reason}`,
  );
}
