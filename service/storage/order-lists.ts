/**
 * Orders as a maker looks through them: by what is to be done, a page at a time, over indexes.
 */
import type { OrderState } from "#core/order/states.ts";
import { batches, orders } from "#data/schema.ts";
import { type SQL, and, asc, desc, eq, gt, gte, lt, or, sql } from "drizzle-orm";
import type { Database, Query } from "./database.ts";

/** A count stops here and says "more than". */
export const COUNT_MOST = 1000;

/** The orders of one state; or, over all states, those of which money was given back. */
export type OrderList = OrderState | "refunded";

/** Where a page ended. */
export interface Mark {
  readonly placedAt: number;
  readonly id: string;
}

const COLUMNS = {
  id: orders.id,
  reference: orders.reference,
  state: orders.state,
  snapshot: orders.snapshot,
  totalMinor: orders.totalMinor,
  refundedMinor: orders.refundedMinor,
  placedAt: orders.placedAt,
  paidAt: orders.paidAt,
  heldBecause: orders.heldBecause,
  customerName: orders.customerName,
  customerEmail: orders.customerEmail,
  batchNumber: batches.number,
};

export type OrderLists = ReturnType<typeof orderListsIn>;
export type ListedOrder = Awaited<ReturnType<OrderLists["page"]>>[number];

/** Orders as they are listed. @param more columns besides */
export function listedOrders<More extends Readonly<Record<string, SQL>>>(
  q: Query,
  more: More,
  where: SQL | undefined,
) {
  return q
    .select({ ...COLUMNS, ...more })
    .from(orders)
    .leftJoin(batches, eq(batches.id, orders.batchId))
    .where(where);
}

/** The rows of a list. Written out, not bound: a partial index is used only when the statement itself says its rule. */
function membersOf(shopId: string, list: OrderList): SQL | undefined {
  const which = list === "refunded" ? sql`${orders.refundedMinor} > 0` : eq(orders.state, list);
  return and(eq(orders.shopId, shopId), which);
}

export function orderListsIn({ q }: Database) {
  return {
    /** How many orders a list has, counted to one more than COUNT_MOST. */
    count: async (shopId: string, list: OrderList): Promise<number> => {
      const some = q
        .select({ placedAt: orders.placedAt })
        .from(orders)
        .where(membersOf(shopId, list))
        // Without an order asked for, SQLite takes any index that begins with the shop, and walks it for the refunded.
        .orderBy(asc(orders.placedAt))
        .limit(COUNT_MOST + 1)
        .as("some");
      return (await q.select({ n: sql<number>`count(*)` }).from(some))[0]?.n ?? 0;
    },
    /**
     * Orders of one list.
     * @param from where to go on, and which way: work is listed oldest first, what is done newest first
     */
    page: async (
      shopId: string,
      list: OrderList,
      {
        most,
        after,
        newestFirst,
      }: { most: number; after?: Mark | undefined; newestFirst: boolean },
    ) => {
      const beyond = newestFirst ? lt : gt;
      const way = newestFirst ? desc : asc;
      const from =
        after &&
        or(
          beyond(orders.placedAt, after.placedAt),
          and(eq(orders.placedAt, after.placedAt), beyond(orders.id, after.id)),
        );
      const reach =
        after &&
        (newestFirst
          ? sql`${orders.placedAt} <= ${after.placedAt}`
          : gte(orders.placedAt, after.placedAt));
      return await listedOrders(q, {}, and(membersOf(shopId, list), reach, from))
        .orderBy(way(orders.placedAt), way(orders.id))
        .limit(most);
    },
  };
}
