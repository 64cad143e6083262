/**
 * Orders as a maker looks through them: by what is to be done, a page at a time, over indexes.
 */
import type { OrderState } from "#core/order/states.ts";
import { batches, orders } from "#data/schema.ts";
import { type SQL, and, asc, desc, eq, gt, gte, lt, or, sql } from "drizzle-orm";
import type { Database } from "./database.ts";

/** A count stops here and says "more than". */
export const COUNT_MOST = 1000;

/** Orders a search for a customer looks through before it asks whether to go on. */
export const SEARCH_WINDOW = 5000;

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

export function orderListsIn({ q }: Database) {
  const listed = (where: SQL | undefined) =>
    q.select(COLUMNS).from(orders).leftJoin(batches, eq(batches.id, orders.batchId)).where(where);

  return {
    /** How many orders stand in a state, counted to one more than COUNT_MOST. */
    count: async (shopId: string, state: OrderState): Promise<number> => {
      const some = q
        .select({ placedAt: orders.placedAt })
        .from(orders)
        .where(and(eq(orders.shopId, shopId), eq(orders.state, state)))
        .limit(COUNT_MOST + 1)
        .as("some");
      return (await q.select({ n: sql<number>`count(*)` }).from(some))[0]?.n ?? 0;
    },
    /**
     * Orders of one state.
     * @param from where to go on, and which way: work is listed oldest first, what is done newest first
     */
    page: async (
      shopId: string,
      state: OrderState,
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
      return await listed(and(eq(orders.shopId, shopId), eq(orders.state, state), reach, from))
        .orderBy(way(orders.placedAt), way(orders.id))
        .limit(most);
    },
    /** Orders whose reference begins so. */
    byReference: async (shopId: string, beginning: string, most: number) =>
      await listed(
        and(
          eq(orders.shopId, shopId),
          gte(orders.reference, beginning),
          lt(orders.reference, `${beginning}\u{10FFFF}`),
        ),
      )
        .orderBy(asc(orders.reference))
        .limit(most),
    /**
     * Orders whose customer's name or address holds the words, the newest first, among the SEARCH_WINDOW placed before
     * a moment.
     * @returns up to `most`, and the moment to look on before; nothing when all were looked through
     */
    byCustomer: async (shopId: string, words: string, before: number, most: number) => {
      const earlier = and(eq(orders.shopId, shopId), lt(orders.placedAt, before));
      const [end] = await q
        .select({ placedAt: orders.placedAt })
        .from(orders)
        .where(earlier)
        .orderBy(desc(orders.placedAt))
        .limit(1)
        .offset(SEARCH_WINDOW - 1);
      const pattern = `%${words.replace(/[\\%_]/g, "\\$&")}%`;
      const holds = (column: typeof orders.customerName | typeof orders.customerEmail) =>
        sql`${column} like ${pattern} escape '\\'`;
      const found = await listed(
        and(
          earlier,
          end && gte(orders.placedAt, end.placedAt),
          sql`(${holds(orders.customerName)} or ${holds(orders.customerEmail)})`,
        ),
      )
        .orderBy(desc(orders.placedAt), desc(orders.id))
        .limit(most + 1);
      const next = found[most];
      if (!next) return { found, before: end?.placedAt };
      const whole = found.filter(({ placedAt }) => placedAt > next.placedAt);
      // Orders of one second stay together, so that none falls between two pages.
      return whole.length > 0
        ? { found: whole, before: next.placedAt + 1 }
        : { found: found.slice(0, most), before: next.placedAt };
    },
  };
}
