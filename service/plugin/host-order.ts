/**
 * Orders as their host shop sees them: one, a list of them, and one cancelled.
 */
import type { HostOrder, HostOrders } from "#core/wire-host.ts";
import type * as z from "zod";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import type { ApiKeyRow } from "../storage/api-keys.ts";
import { Conflict } from "../storage/database.ts";
import type { HostMark } from "../storage/host-orders.ts";
import type { OrderRow } from "../storage/orders.ts";
import { type HostListShape, PAGE_USUAL } from "./shapes.ts";

/** Before making starts an order can be cancelled; later the maker has to be asked. */
const NOT_BEGUN = ["paid", "held"] as const;

/** An order as its host shop reads it; no personal data, money in minor units, times in seconds since 1970. */
export async function hostOrder(shop: Shop, order: OrderRow): Promise<HostOrder> {
  const { reference, state, totalMinor, currency, placedAt, cancelAskedAt } = order;
  return {
    reference,
    hostReference: order.hostReference ?? "",
    state,
    quote: order.quoteId,
    totalMinor,
    currency,
    placedAt,
    cancelAskedAt,
    orderUrl: `${shop.url}/orders/${order.id}/${await shop.seals.orderToken(order.id)}`,
  };
}

/** @throws Refusal order.unknown when it is not there, or not this key's; the two are not told apart */
export async function ownHostOrder(
  shop: Shop,
  key: ApiKeyRow,
  reference: string,
): Promise<OrderRow> {
  const order = await shop.hostOrders.byReference(key.id, reference);
  if (order) return order;
  throw new Refusal("order.unknown", "No order of that reference came with this key.");
}

/**
 * A page of a key's orders, oldest first.
 * @returns the orders, and the mark of the next page; null on the last
 */
export async function listHostOrders(
  shop: Shop,
  key: ApiKeyRow,
  asked: z.infer<typeof HostListShape>,
): Promise<HostOrders> {
  const { since, hostReference, most = PAGE_USUAL } = asked;
  const after = asked.after === undefined ? undefined : readMark(asked.after);
  const rows = await shop.hostOrders.list(key, { since, hostReference, after, most: most + 1 });
  const shown = rows.slice(0, most);
  const last = shown.at(-1);
  return {
    orders: await Promise.all(shown.map((row) => hostOrder(shop, row))),
    next: rows.length > most && last ? `${last.placedAt}.${last.id}` : null,
  };
}

function readMark(text: string): HostMark {
  const dot = text.indexOf(".");
  return { placedAt: Number(text.slice(0, dot)), id: text.slice(dot + 1) };
}

/**
 * Cancel before making starts; one that is cancelled already stays so.
 * @throws Refusal order.unknown, or order.state.conflict once making has started
 */
export async function cancelHostOrder(
  shop: Shop,
  key: ApiKeyRow,
  reference: string,
  why: string | undefined,
): Promise<OrderRow> {
  const order = await ownHostOrder(shop, key, reference);
  if (order.state === "cancelled") return order;
  try {
    await shop.orders.move({
      ...{ orderId: order.id, to: "cancelled", from: NOT_BEGUN, who: "host" },
      ...{ at: shop.clock.seconds(), what: why ? `cancelled: ${why}` : "cancelled" },
    });
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    const now = await ownHostOrder(shop, key, reference);
    if (now.state === "cancelled") return now;
    const detail = "Making has started, so nothing was cancelled. Please write to the maker.";
    throw new Refusal("order.state.conflict", detail);
  }
  return await ownHostOrder(shop, key, reference);
}
