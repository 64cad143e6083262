/**
 * The inbox of signed payment events: stored first, worked through after, each once.
 */
import { paymentEvents } from "#data/schema.ts";
import { and, asc, eq, isNull, lte, sql } from "drizzle-orm";
import type { Database } from "./database.ts";
import { writtenOnce, writtenStatement } from "./written-once.ts";

/** What came before these was redelivered long ago, or its order is looked at by itself. */
const EVENTS_WINDOW = 5000;

export type PaymentEventRow = typeof paymentEvents.$inferSelect;

export function paymentEventsIn({ q, write }: Database) {
  const value = sql.placeholder;
  const insert = writtenStatement(() =>
    q
      .insert(paymentEvents)
      .values({
        ...{ id: value("id"), type: value("type"), sessionId: value("sessionId") },
        receivedAt: value("receivedAt"),
      })
      .onConflictDoNothing()
      .prepare(),
  );
  const byId = writtenOnce(() =>
    q
      .select()
      .from(paymentEvents)
      .where(eq(paymentEvents.id, value("id")))
      .prepare(),
  );
  const mark = writtenStatement(() =>
    q
      .update(paymentEvents)
      .set({ settledAt: sql`${value("at")}` })
      .where(eq(paymentEvents.id, value("id")))
      .prepare(),
  );
  const leftOver = writtenOnce(() =>
    q
      .select()
      .from(paymentEvents)
      .where(
        and(
          sql`rowid > (select max(rowid) from payment_events) - ${sql.raw(String(EVENTS_WINDOW))}`,
          isNull(paymentEvents.settledAt),
          lte(paymentEvents.receivedAt, value("before")),
        ),
      )
      .orderBy(asc(paymentEvents.receivedAt))
      .limit(value("most"))
      .prepare(),
  );
  return {
    /**
     * Store an event unless it is here already.
     * @returns whether it still waits to be worked through, be it new or left over from a crash
     */
    receive: async (row: Omit<PaymentEventRow, "settledAt">): Promise<boolean> => {
      await write(insert(row));
      const [stored] = await byId().execute({ id: row.id });
      return stored?.settledAt === null;
    },
    settle: async (id: string, at: number): Promise<void> => {
      await write(mark({ id, at }));
    },
    /** Those of the ids that are not here; at most 500 ids at once. */
    unknownOf: async (ids: readonly string[]): Promise<string[]> => {
      if (ids.length === 0) return [];
      const known = await q
        .select({ id: paymentEvents.id })
        .from(paymentEvents)
        .where(sql`${paymentEvents.id} in (select value from json_each(${JSON.stringify(ids)}))`);
      const has = new Set(known.map(({ id }) => id));
      return ids.filter((id) => !has.has(id));
    },
    /** Events that came before a moment and that a crash left over, oldest first, among the newest EVENTS_WINDOW. */
    waiting: async (before: number, most: number): Promise<PaymentEventRow[]> =>
      await leftOver().execute({ before, most }),
  };
}
