/**
 * Batches: what is made together, with the work order as it was issued, and what became of it.
 */
import { batches, orderEvents, orders } from "#data/schema.ts";
import { type SQL, and, asc, count, desc, eq, gte, inArray, lt, or, sql } from "drizzle-orm";
import { type Database, type Statement, mustHaveChanged, mustHold } from "./database.ts";
import type { Move, Orders } from "./orders.ts";

/** A batch that was set aside gave its orders back; it can be taken up again while they wait. */
export type BatchRow = typeof batches.$inferSelect;
export type BatchState = BatchRow["state"];
export type NewBatch = typeof batches.$inferInsert;
export type Batches = ReturnType<typeof batchesIn>;

export interface BatchEnd {
  readonly batchId: string;
  /** JSON: BatchClosing of the service. */
  readonly closing: string;
  readonly at: number;
  readonly personId: string | null;
  /** Orders filled whole, which are made now. */
  readonly madeIds: readonly string[];
  /** Orders that came out short, which wait again. */
  readonly backIds: readonly string[];
  /** Lines in the logs of the orders. */
  readonly saysMade: string;
  readonly saysBack: string;
}

export function batchesIn(db: Database, orderStore: Orders) {
  const { q } = db;
  const one = async (where: SQL | undefined) => (await q.select().from(batches).where(where))[0];

  /** Statements that change a batch that is still in a state. */
  const change = (id: string, from: BatchState, set: Partial<NewBatch>): Statement[] => [
    q
      .update(batches)
      .set(set)
      .where(and(eq(batches.id, id), eq(batches.state, from))),
    ...mustHaveChanged(q),
  ];

  /** Statements that move all the named orders of a batch out of making, each with a line in its log. */
  const leaveMaking = (
    batchId: string,
    ids: readonly string[],
    to: "made" | "paid",
    at: number,
    what: string,
  ): Statement[] => {
    if (ids.length === 0) return [];
    const members = and(
      eq(orders.batchId, batchId),
      eq(orders.state, "in-making"),
      inArray(orders.id, [...ids]),
    );
    const leaves = to === "paid" ? { batchId: null, batchRun: null } : {};
    return [
      q.insert(orderEvents).select(
        q
          .select({
            // Every column in the table's own order, as an insert from a select asks for.
            id: sql<number>`null`.as("id"),
            orderId: orders.id,
            at: sql<number>`cast(${at} as integer)`.as("at"),
            who: sql<"maker">`'maker'`.as("who"),
            what: sql<string>`${what}`.as("what"),
          })
          .from(orders)
          .where(members),
      ),
      q
        .update(orders)
        .set({ state: to, ...leaves })
        .where(members),
      ...mustHold(q, sql<number>`changes() = ${ids.length}`),
      ...orderStore.tell(ids, to, at),
    ];
  };

  return {
    byId: async (id: string): Promise<BatchRow | undefined> => await one(eq(batches.id, id)),
    byNumber: async (shopId: string, number: string): Promise<BatchRow | undefined> =>
      await one(and(eq(batches.shopId, shopId), eq(batches.number, number))),
    /** A page of batches, the latest first; at most 90. */
    page: async (shopId: string, most: number, before?: { issuedAt: number; number: string }) => {
      const earlier =
        before &&
        or(
          lt(batches.issuedAt, before.issuedAt),
          and(eq(batches.issuedAt, before.issuedAt), lt(batches.number, before.number)),
        );
      const reach = before && sql`${batches.issuedAt} <= ${before.issuedAt}`;
      const rows = await q
        .select({
          id: batches.id,
          number: batches.number,
          state: batches.state,
          kind: batches.kind,
          issuedAt: batches.issuedAt,
        })
        .from(batches)
        .where(and(eq(batches.shopId, shopId), reach, earlier))
        .orderBy(desc(batches.issuedAt), desc(batches.number))
        .limit(most);
      const ids = rows.map(({ id }) => id);
      const members = await q
        .select({ batchId: orders.batchId, n: count() })
        .from(orders)
        .where(inArray(orders.batchId, ids))
        .groupBy(orders.batchId);
      const counts = new Map(members.map(({ batchId, n }) => [batchId, n]));
      return rows.map(({ id, ...row }) => ({ ...row, orders: counts.get(id) ?? 0 }));
    },
    /** Batches that are on the bench now, those begun first. */
    open: async (shopId: string, most: number) =>
      await q
        .select({ number: batches.number, kind: batches.kind, issuedAt: batches.issuedAt })
        .from(batches)
        .where(and(eq(batches.shopId, shopId), eq(batches.state, "open")))
        .orderBy(asc(batches.issuedAt))
        .limit(most),
    /** How many batch numbers begin this way, to find the next one. */
    countFrom: async (shopId: string, prefix: string): Promise<number> =>
      (
        await q
          .select({ n: count() })
          .from(batches)
          .where(
            and(
              eq(batches.shopId, shopId),
              gte(batches.number, prefix),
              lt(batches.number, `${prefix}\u{10FFFF}`),
            ),
          )
      )[0]?.n ?? 0,
    /** Store a batch and bring its orders into making, all or none. @param also statements that happen with it */
    issue: async (
      batch: NewBatch,
      moves: readonly Move[],
      also: readonly Statement[] = [],
    ): Promise<void> =>
      await db.atomic([
        q.insert(batches).values(batch),
        ...moves.flatMap(orderStore.moveStatements),
        ...also,
      ]),
    /**
     * Close a batch: what was weighed, what left the shelf, and the orders made, all or nothing.
     * @param also statements that take the lots, and what else happens with it
     * @throws Conflict when the batch is not open any more, or an order has left it
     */
    close: async (end: BatchEnd, also: readonly Statement[]): Promise<void> => {
      const { batchId, closing, at: closedAt, personId } = end;
      await db.atomic([
        ...change(batchId, "open", { state: "made", closing, closedAt, personId }),
        ...leaveMaking(batchId, end.madeIds, "made", closedAt, end.saysMade),
        ...leaveMaking(batchId, end.backIds, "paid", closedAt, end.saysBack),
        ...also,
      ]);
    },
    /** Set a batch aside: its orders wait again. @param closing JSON: who stood in it, to take it up again */
    setAside: async (
      batchId: string,
      orderIds: readonly string[],
      { closing, at, says }: { closing: string; at: number; says: string },
      also: readonly Statement[] = [],
    ): Promise<void> =>
      await db.atomic([
        ...change(batchId, "open", { state: "set-aside", closing }),
        ...leaveMaking(batchId, orderIds, "paid", at, says),
        ...also,
      ]),
    /** Take a batch up again that was set aside. @throws Conflict when one of its orders is elsewhere by now */
    takeUp: async (
      batchId: string,
      moves: readonly Move[],
      also: readonly Statement[] = [],
    ): Promise<void> =>
      await db.atomic([
        ...change(batchId, "set-aside", { state: "open", closing: null }),
        ...moves.flatMap(orderStore.moveStatements),
        ...also,
      ]),
    /** Statements that put other sheets in the place of an open batch's own, if these still read as read. */
    sheetStatements: (batchId: string, before: string, workOrder: string): Statement[] => [
      q
        .update(batches)
        .set({ workOrder })
        .where(
          and(eq(batches.id, batchId), eq(batches.state, "open"), eq(batches.workOrder, before)),
        ),
      ...mustHaveChanged(q),
    ],
    /** Replace the closing of a batch that is made, when it still reads as it was read. */
    amend: async (
      batchId: string,
      before: string,
      closing: string,
      also: readonly Statement[] = [],
    ): Promise<void> =>
      await db.atomic([
        q
          .update(batches)
          .set({ closing })
          .where(and(eq(batches.id, batchId), eq(batches.closing, before))),
        ...mustHaveChanged(q),
        ...also,
      ]),
  };
}
