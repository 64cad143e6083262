/**
 * Quotes and orders. Every change of state is one guarded statement that writes its line in the order's log with it.
 */
import { type OrderState, statesBefore } from "#core/order/states.ts";
import { orderEvents, orders, quotes } from "#data/schema.ts";
import { and, asc, desc, eq, inArray } from "drizzle-orm";
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
  /** Columns that change with the state. */
  readonly with?: Partial<Pick<OrderRow, "paidAt" | "batchId" | "batchRun" | "heldBecause">>;
}

export type Orders = ReturnType<typeof ordersIn>;

export function ordersIn(db: Database) {
  const { q } = db;
  const log = (orderId: string, at: number, who: Who, what: string) =>
    q.insert(orderEvents).values({ orderId, at, who, what });

  /** Statements of one move, for an atomic list; the list fails when the order is no longer where the move starts. */
  const moveStatements = (move: Move): Statement[] => [
    q
      .update(orders)
      .set({ state: move.to, ...move.with })
      .where(and(eq(orders.id, move.orderId), inArray(orders.state, statesBefore(move.to)))),
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
    inStates: async (shopId: string, states: readonly OrderState[]): Promise<OrderRow[]> =>
      await q
        .select()
        .from(orders)
        .where(and(eq(orders.shopId, shopId), inArray(orders.state, [...states])))
        .orderBy(asc(orders.placedAt), asc(orders.id)),
    latest: async (shopId: string, most: number): Promise<OrderRow[]> =>
      await q
        .select()
        .from(orders)
        .where(eq(orders.shopId, shopId))
        .orderBy(desc(orders.placedAt), desc(orders.id))
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
