/**
 * Quotes and orders. Every change of state is one guarded statement that writes its line in the order's log with it.
 */
import { type OrderState, statesBefore } from "#core/order/states.ts";
import { orderEvents, orders, quotes, shops } from "#data/schema.ts";
import {
  type AnyColumn,
  and,
  asc,
  count,
  eq,
  inArray,
  isNotNull,
  isNull,
  lte,
  ne,
  sql,
} from "drizzle-orm";
import { type Database, type Statement, mustHaveChanged } from "./database.ts";
import { messagesIn } from "./messages.ts";
import { writtenOnce, writtenStatement } from "./written-once.ts";

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
  /** Only while no payment was taken: two who hear of one at once must not both take it. */
  readonly whileUnpaid?: true;
  /** Columns that change with the state. */
  readonly with?: Partial<Omit<typeof orders.$inferInsert, "id" | "shopId" | "state">>;
}

export type Orders = ReturnType<typeof ordersIn>;

/** States a move may start from: those the table allows, narrowed to those that are meant. */
function startsOf({ from, to }: Move): OrderState[] {
  return statesBefore(to).filter((state) => from?.includes(state) ?? true);
}

export function ordersIn(db: Database, { tell } = messagesIn(db)) {
  const { q } = db;
  const logLine = writtenStatement(() => {
    const value = sql.placeholder;
    const line = { orderId: value("orderId"), at: value("at"), who: value("who") };
    return q
      .insert(orderEvents)
      .values({ ...line, what: value("what") })
      .prepare();
  });
  const log = (orderId: string, at: number, who: Who, what: string) =>
    logLine({ orderId, at, who, what });

  /** Statements of one move, for an atomic list; the list fails when the order is no longer where the move starts. */
  const moveStatements = (move: Move): Statement[] => [
    q
      .update(orders)
      .set({ state: move.to, ...move.with })
      .where(
        and(
          eq(orders.id, move.orderId),
          inArray(orders.state, startsOf(move)),
          move.whileUnpaid && isNull(orders.paidAt),
        ),
      ),
    ...mustHaveChanged(q),
    log(move.orderId, move.at, move.who, move.what),
    ...tell([move.orderId], move.to, move.at),
  ];

  const by = (column: AnyColumn) =>
    writtenOnce(() =>
      q
        .select()
        .from(orders)
        .where(eq(column, sql.placeholder("value")))
        .prepare(),
    );
  const [byId, byQuote, bySession] = [
    by(orders.id),
    by(orders.quoteId),
    by(orders.tillSessionId),
  ] as const;

  // A host shop's order was never at our till.
  const unpaid = and(
    // All shops by name, so that the index over shop and state is used.
    inArray(orders.shopId, q.select({ id: shops.id }).from(shops)),
    eq(orders.state, "placed"),
    ne(orders.tillKind, "host"),
    lte(orders.placedAt, sql.placeholder("before")),
  );
  const bare = and(unpaid, isNull(orders.tillSessionId));
  const atTill = and(unpaid, isNotNull(orders.tillSessionId));
  const most = sql.placeholder("most");
  const oldestFirst = [asc(orders.placedAt), asc(orders.id)];
  const bareOnes = writtenOnce(() =>
    q
      .select()
      .from(orders)
      .where(bare)
      .orderBy(...oldestFirst)
      .limit(most)
      .prepare(),
  );
  const countAtTill = writtenOnce(() =>
    q.select({ n: count() }).from(orders).where(atTill).prepare(),
  );
  const pageAtTill = writtenOnce(() =>
    q
      .select()
      .from(orders)
      .where(atTill)
      .orderBy(...oldestFirst)
      .limit(most)
      .offset(sql.placeholder("from"))
      .prepare(),
  );

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
        ...tell([row.id], "placed", row.placedAt),
      ]),
    byId: async (id: string): Promise<OrderRow | undefined> =>
      (await byId().execute({ value: id }))[0],
    byQuote: async (quoteId: string): Promise<OrderRow | undefined> =>
      (await byQuote().execute({ value: quoteId }))[0],
    byReference: async (shopId: string, reference: string): Promise<OrderRow | undefined> =>
      (
        await q
          .select()
          .from(orders)
          .where(and(eq(orders.shopId, shopId), eq(orders.reference, reference)))
      )[0],
    bySession: async (sessionId: string): Promise<OrderRow | undefined> =>
      (await bySession().execute({ value: sessionId }))[0],
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
    /**
     * Statements that note what the till has given back so far, with a line in the log; the list fails when it is noted
     * already. Others are told when more has gone back than before.
     */
    refundStatements: (
      { id, refundedMinor: before }: Pick<OrderRow, "id" | "refundedMinor">,
      refundedMinor: number,
      at: number,
      what: string,
    ): Statement[] => [
      q
        .update(orders)
        .set({ refundedMinor })
        .where(and(eq(orders.id, id), eq(orders.refundedMinor, before))),
      ...mustHaveChanged(q),
      log(id, at, "till", what),
      ...(refundedMinor > before ? tell([id], "refunded", at) : []),
    ],
    /** Money came for an order that is held, which stays so; Conflict when it is known. */
    noteTaken: async (
      id: string,
      at: number,
      taken: NonNullable<Move["with"]> & { readonly paidAt: number },
    ): Promise<void> =>
      await db.atomic([
        q
          .update(orders)
          .set(taken)
          .where(and(eq(orders.id, id), isNull(orders.paidAt))),
        ...mustHaveChanged(q),
        log(id, at, "till", "paid while it was held"),
      ]),
    /** A slow payment is on its way; Conflict when that is known. @param who to be told if it does not come */
    notePending: async (
      id: string,
      at: number,
      what: string,
      who: Pick<OrderRow, "customerName" | "customerEmail">,
    ): Promise<void> =>
      await db.atomic([
        q
          .update(orders)
          .set({ pendingSince: at, ...who })
          .where(and(eq(orders.id, id), isNull(orders.pendingSince))),
        ...mustHaveChanged(q),
        log(id, at, "till", what),
      ]),
    setTillSession: async (orderId: string, sessionId: string, url: string | null) => {
      await q
        .update(orders)
        .set({ tillSessionId: sessionId, tillUrl: url })
        .where(eq(orders.id, orderId));
    },
    /**
     * Use another key at the till from now on, unless somebody else has done so or a session is known by now.
     * @returns whether the key is the new one
     */
    setTillKey: async (orderId: string, before: string, key: string): Promise<boolean> => {
      const changed = await q
        .update(orders)
        .set({ tillKey: key })
        .where(
          and(eq(orders.id, orderId), eq(orders.tillKey, before), isNull(orders.tillSessionId)),
        )
        .returning({ id: orders.id });
      return changed.length === 1;
    },
    /** Orders at the till without a session since before a moment, the oldest first. */
    withoutSession: async (before: number, most: number): Promise<OrderRow[]> =>
      await bareOnes().execute({ before, most }),
    /**
     * Orders at the till with a session, placed before a moment; the oldest first, from a place on.
     * @param turn which turn of looking through them this is; each looks at the next ones, and begins again at the end
     */
    withSession: async (before: number, most: number, turn: number): Promise<OrderRow[]> => {
      const [found] = await countAtTill().execute({ before });
      if (!found?.n || most < 1) return [];
      const from = (turn % Math.ceil(found.n / most)) * most;
      return await pageAtTill().execute({ before, most, from });
    },
    moveStatements,
    logStatement: log,
    /** Statements that tell others of a change, for the list that makes it. */
    tell,
    move: async (move: Move): Promise<void> => await db.atomic(moveStatements(move)),
  };
}
