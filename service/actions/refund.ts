/**
 * Money given back by the maker: asked for and stored before the till is told, with a key of its own, so that no
 * fault in between gives it back twice or loses sight of it.
 */
import { refundableMinor } from "#core/order/states.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { Move, OrderRow } from "../storage/orders.ts";
import type { RefundRow } from "../storage/refunds.ts";
import { TillRefusal, TillUnavailable } from "../tills/till.ts";
import { sayAmount } from "./order-amounts.ts";
import { settlePayment } from "./settle-payment.ts";

/** Who asks for how much, and why. */
export interface RefundRequest {
  /** Our id of it, drawn before it is asked for: asked for again under the same id, it happens once. */
  readonly id: string;
  readonly minor: number;
  readonly why: string;
  /** Id of the person. */
  readonly askedBy: string;
}

/** What became of it: "asked" has no answer yet, and is asked again by itself. */
export type RefundOutcome = RefundRow["state"];

/**
 * Most that can be given back of an order from here.
 * @param rows refunds of the order
 * @returns minor units; 0 when a host shop took the money, or it came in another currency
 */
export function leftToRefund(order: OrderRow, rows: readonly RefundRow[]): number {
  if (order.tillKind === "host") return 0;
  const sumOf = (...states: readonly RefundRow["state"][]) =>
    rows
      .filter(({ state }) => states.includes(state))
      .reduce((sum, { amountMinor }) => sum + amountMinor, 0);
  const refundedMinor = Math.max(order.refundedMinor, sumOf("pending", "done"));
  return refundableMinor({ ...order, refundedMinor, askedMinor: sumOf("asked") });
}

/**
 * Give money of an order back.
 * @param move a move of the order that happens with it or not at all
 * @throws Refusal order.refund.too-much, when less than that is left; order.state.conflict, when the order has moved on
 */
export async function refundOrder(
  shop: Shop,
  order: OrderRow,
  request: RefundRequest,
  move?: Move,
): Promise<RefundOutcome> {
  const { id, minor, why, askedBy } = request;
  if (!/^[\w-]{16,64}$/.test(id)) throw new TypeError("the id of a refund is one of ours");
  if (!Number.isSafeInteger(minor) || minor <= 0)
    throw new TypeError("a refund is a whole amount above 0");
  const at = shop.clock.seconds();
  const what = `give back ${sayAmount(minor, order.currency)}: ${why}`;
  const wish = { id, orderId: order.id, amountMinor: minor, why, askedBy, at, what };
  const asked = { ...wish, tillKey: `refund-${id}` };
  try {
    await (move ? shop.refunds.askAndMove(asked, move) : shop.refunds.ask(asked));
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    const standing = await shop.refunds.byId(id);
    if (standing?.orderId !== order.id || standing.amountMinor !== minor) {
      throw await whyNot(shop, order, minor);
    }
    if (standing.state !== "asked") return standing.state;
  }
  return await carryOutRefund(shop, (await shop.refunds.byId(id))!);
}

async function whyNot(shop: Shop, order: OrderRow, minor: number): Promise<Refusal> {
  const left = leftToRefund((await shop.orders.byId(order.id))!, await shop.refunds.of(order.id));
  if (left < minor) {
    const detail = `Only ${sayAmount(left, order.currency)} of this order can still be given back. Nothing was done.`;
    return new Refusal("order.refund.too-much", detail);
  }
  return new Refusal(
    "order.state.conflict",
    "The order has just changed, so nothing was done. Look again.",
  );
}

/** A key may be forgotten after 24 hours, and the call would then be a second refund: so it is looked for instead. */
const KEY_LIFE_S = 23 * 3600;

/**
 * Tell the till of a refund that was asked for; with the same key as before, so that it happens once however often it
 * is told.
 * @returns where it stands; "asked" when the till could not be reached
 */
export async function carryOutRefund(shop: Shop, row: RefundRow): Promise<RefundOutcome> {
  const order = (await shop.orders.byId(row.orderId))!;
  try {
    if (shop.clock.seconds() - row.askedAt < KEY_LIFE_S) await tellTill(shop, order, row);
    await settlePayment(shop, order.tillSessionId!);
  } catch (error) {
    if (!(error instanceof TillRefusal || error instanceof TillUnavailable)) throw error;
    shop.log({ refund: row.id, note: "no answer to a refund yet", error: error.message });
    return (await shop.refunds.byId(row.id))!.state;
  }
  const { state } = (await shop.refunds.byId(row.id))!;
  if (state !== "asked") return state;
  // The till was asked after the key's time and lists no such refund: it never happened.
  await failRefund(shop, order, row, "the payment service knows nothing of it");
  return "failed";
}

/** @throws TillUnavailable when it is not known whether the money went */
async function tellTill(shop: Shop, order: OrderRow, row: RefundRow): Promise<void> {
  const { id: refundId, amountMinor: minor, tillKey: idempotencyKey } = row;
  const sessionId = order.tillSessionId!;
  try {
    await shop.till.refund({ sessionId, orderId: order.id, refundId, minor, idempotencyKey });
  } catch (error) {
    if (!(error instanceof TillRefusal)) throw error;
    await failRefund(shop, order, row, error.message);
  }
}

/** The till has refused: nothing has gone back, and the maker may ask anew. */
async function failRefund(
  shop: Shop,
  order: OrderRow,
  row: RefundRow,
  fault: string,
): Promise<void> {
  const at = shop.clock.seconds();
  const what = `giving back ${sayAmount(row.amountMinor, order.currency)} was refused; the money is with you`;
  try {
    await shop.db.atomic([
      ...shop.refunds.newsStatements(
        [{ row: { ...row, state: "failed", fault }, before: "asked" }],
        at,
      ),
      shop.orders.logStatement(order.id, at, "till", what),
    ]);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error; // somebody else has heard of it
  }
}
