/**
 * Quotes and orders. Every change of state is one guarded statement that writes its line in the order's log with it.
 */
import { type OrderState, statesBefore } from "#core/order/states.ts";
import { orderEvents, orders, quotes } from "#data/schema.ts";
import { and, asc, eq, inArray, sql } from "drizzle-orm";
import { type Database, type Statement, mustHaveChanged } from "./database.ts";

export type QuoteRow = typeof quotes.$inferSelect;
export type OrderRow = typeof orders.$inferSelect;
export type OrderEventRow = typeof orderEvents.$inferSelect;
type Who = OrderEventRow["who"];

export interface Move {
  readonly orderId: string;
  readonly to: OrderState;
  readonly at: number;
  readonly who: Who;
  readonly what: string;
  /** States it may start from, where not every one that leads here is meant. */
  readonly from?: readonly OrderState[];
  /** Columns that change with the state. */
  readonly with?: Partial<Omit<typeof orders.$inferInsert, "id" | "shopId" | "state">>;
}

export type Orders = ReturnType<typeof ordersIn>;

/** States a move may start from: those the table allows, narrowed to those that are meant. */
function startsOf({ from, to }: Move): OrderState[] {
  return statesBefore(to).filter((state) => from?.includes(state) ?? true);
}

export function ordersIn(db: Database) {
  const { q } = db;
  const log = (orderId: string, at: number, who: Who, what: string) =>
    q.insert(orderEvents).values({ orderId, at, who, what });

  /** Statements of one move, for an atomic list; the list fails when the order is no longer where the move starts. */
  const moveStatements = (move: Move): Statement[] => [
    q
      .update(orders)
      .set({ state: move.to, ...move.with })
      .where(and(eq(orders.id, move.orderId), inArray(orders.state, startsOf(move)))),
    ...mustHaveChanged(q),
    log(move.orderId, move.at, move.who, move.what),
  ];

  return {
    /** Store a quote; those that come together share one commit. */
    insertQuote: (row: QuoteRow): Promise<void> => db.write(q.insert(quotes).values(row)),
    quote: async (id: string): Promise<QuoteRow | undefined> =>
      (await q.select().from(quotes).where(eq(quotes.id, id)))[0],
    /** Store a new order with the first line of its log; Conflict when the quote has an order already. */
    place: async (row: typeof orders.$inferInsert): Promise<void> =>
      await db.atomic([
        q.insert(orders).values(row),
        log(row.id, row.placedAt, "customer", "placed"),
      ]),
    byId: async (id: string): Promise<OrderRow | undefined> =>
      (await q.select().from(orders).where(eq(orders.id, id)))[0],
    byQuote: async (quoteId: string): Promise<OrderRow | undefined> =>
      (await q.select().from(orders).where(eq(orders.quoteId, quoteId)))[0],
    byReference: async (shopId: string, reference: string): Promise<OrderRow | undefined> =>
      (
        await q
          .select()
          .from(orders)
          .where(and(eq(orders.shopId, shopId), eq(orders.reference, reference)))
      )[0],
    bySession: async (sessionId: string): Promise<OrderRow | undefined> =>
      (await q.select().from(orders).where(eq(orders.tillSessionId, sessionId)))[0],
    /** Those of the ids that are the shop's, the oldest first; at most 90 ids at once. */
    byIds: async (shopId: string, ids: readonly string[]): Promise<OrderRow[]> =>
      await q
        .select()
        .from(orders)
        // The plus keeps SQLite from walking through all of the shop's orders in the order of their time.
        .where(and(sql`+${orders.shopId} = ${shopId}`, inArray(orders.id, [...ids])))
        .orderBy(asc(orders.placedAt), asc(orders.id)),
    /** Paid orders, those that have waited longest. */
    waiting: async (shopId: string, most: number): Promise<OrderRow[]> =>
      await q
        .select()
        .from(orders)
        .where(and(eq(orders.shopId, shopId), eq(orders.state, "paid")))
        .orderBy(asc(orders.placedAt), asc(orders.id))
        .limit(most),
    ofBatch: async (batchId: string): Promise<OrderRow[]> =>
      await q
        .select()
        .from(orders)
        .where(eq(orders.batchId, batchId))
        .orderBy(asc(orders.placedAt)),
    events: async (orderId: string): Promise<OrderEventRow[]> =>
      await q
        .select()
        .from(orderEvents)
        .where(eq(orderEvents.orderId, orderId))
        .orderBy(asc(orderEvents.id)),
    /** Note what the till has given back so far, with a line in the log; Conflict when it is noted already. */
    noteRefund: async (
      { id, refundedMinor: before }: Pick<OrderRow, "id" | "refundedMinor">,
      refundedMinor: number,
      at: number,
      what: string,
    ): Promise<void> =>
      await db.atomic([
        q
          .update(orders)
          .set({ refundedMinor })
          .where(and(eq(orders.id, id), eq(orders.refundedMinor, before))),
        ...mustHaveChanged(q),
        log(id, at, "till", what),
      ]),
    setTillSession: async (orderId: string, sessionId: string, url: string | null) => {
      await q
        .update(orders)
        .set({ tillSessionId: sessionId, tillUrl: url })
        .where(eq(orders.id, orderId));
    },
    moveStatements,
    move: async (move: Move): Promise<void> => await db.atomic(moveStatements(move)),
  };
}
