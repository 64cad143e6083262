/**
 * Money given back: asked for first, in one guarded statement that never lets more go back than was taken, and then
 * brought to what the till says of it.
 */
import { orders, refunds } from "#data/schema.ts";
import { type SQL, and, asc, desc, eq, lte, sql } from "drizzle-orm";
import { type Database, type Statement, mustHaveChanged } from "./database.ts";
import type { Move, Orders } from "./orders.ts";
import { writtenOnce } from "./written-once.ts";

export type RefundRow = typeof refunds.$inferSelect;
export type Refunds = ReturnType<typeof refundsIn>;

/** What is asked for, with its line in the log. */
export type RefundWish = Pick<RefundRow, "id" | "orderId" | "amountMinor" | "why" | "tillKey"> & {
  readonly askedBy: string;
  readonly at: number;
  readonly what: string;
};

/** A refund brought to what the till says. */
export interface RefundNews {
  readonly row: Omit<typeof refunds.$inferInsert, "changedAt">;
  /** The state it was read in; missing when it is not here yet. */
  readonly before?: RefundRow["state"];
}

export function refundsIn(
  db: Database,
  orderStore: Pick<Orders, "moveStatements" | "logStatement">,
) {
  const { q } = db;
  const sumOf = (...states: readonly RefundRow["state"][]): SQL<number> =>
    sql`(select coalesce(sum(r.amount_minor), 0) from refunds r
      where r.order_id = ${orders.id} and r.state in ${[...states]})`;
  // A refund may be known here before the till's own sum of the order has been noted, or after.
  const left = sql`${orders.capturedMinor} - max(${orders.refundedMinor}, ${sumOf("pending", "done")})
    - ${sumOf("asked")}`;

  /** Fails the list when less than that is left of what was taken. */
  const askStatements = (wish: RefundWish): Statement[] => {
    const { id, orderId, amountMinor, why, askedBy, at, tillKey } = wish;
    const amount = sql`cast(${amountMinor} as integer)`;
    const time = sql`cast(${at} as integer)`;
    return [
      q.insert(refunds).select(
        sql`select ${id}, ${orders.id}, ${amount}, ${why}, ${askedBy}, ${time}, ${tillKey}, null, 'asked', null, ${time}
            from ${orders} where ${orders.id} = ${orderId} and ${left} >= ${amount}`,
      ),
      ...mustHaveChanged(q),
      orderStore.logStatement(orderId, at, "maker", wish.what),
    ];
  };

  const ofOrder = writtenOnce(() =>
    q
      .select()
      .from(refunds)
      .where(eq(refunds.orderId, sql.placeholder("orderId")))
      .orderBy(asc(refunds.askedAt))
      .prepare(),
  );
  const unanswered = writtenOnce(() =>
    q
      .select()
      .from(refunds)
      .where(
        and(
          eq(refunds.state, sql.placeholder("state")),
          lte(refunds.changedAt, sql.placeholder("before")),
        ),
      )
      .orderBy(asc(refunds.changedAt), desc(refunds.id))
      .limit(sql.placeholder("most"))
      .prepare(),
  );

  return {
    /** Ask for money back. @throws Conflict when less than that is left of what was taken */
    ask: async (wish: RefundWish): Promise<void> => await db.atomic(askStatements(wish)),
    /** Cancel an order and ask for its money back in one. @throws Conflict when either cannot be */
    askAndMove: async (wish: RefundWish, move: Move): Promise<void> =>
      await db.atomic([...askStatements(wish), ...orderStore.moveStatements(move)]),
    of: async (orderId: string): Promise<RefundRow[]> => await ofOrder().execute({ orderId }),
    byId: async (id: string): Promise<RefundRow | undefined> =>
      (await q.select().from(refunds).where(eq(refunds.id, id)))[0],
    /** Statements that bring refunds to what the till says; the list fails when one has moved on meanwhile. */
    newsStatements: (news: readonly RefundNews[], at: number): Statement[] =>
      news.flatMap(({ row, before }) => {
        if (before === undefined) return [q.insert(refunds).values({ ...row, changedAt: at })];
        const { state, tillRefundId, fault } = row;
        return [
          q
            .update(refunds)
            .set({ state, tillRefundId, fault, changedAt: at })
            .where(and(eq(refunds.id, row.id), eq(refunds.state, before))),
          ...mustHaveChanged(q),
        ];
      }),
    /** Note that a refund was looked at, so that the next round begins with another. */
    touch: async (id: string, at: number): Promise<void> => {
      await q.update(refunds).set({ changedAt: at }).where(eq(refunds.id, id));
    },
    /** Refunds that have waited for an answer since before a moment, those looked at longest ago first. */
    waiting: async (
      state: "asked" | "pending",
      before: number,
      most: number,
    ): Promise<RefundRow[]> => await unanswered().execute({ state, before, most }),
  };
}
