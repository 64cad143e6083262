/**
 * The inbox of signed payment events: stored first, worked through after, each once.
 */
import { paymentEvents } from "#data/schema.ts";
import { and, asc, eq, isNull, lte, sql } from "drizzle-orm";
import type { Database } from "./database.ts";

/** What came before these was redelivered long ago, or its order is looked at by itself. */
const EVENTS_WINDOW = 5000;

export type PaymentEventRow = typeof paymentEvents.$inferSelect;

export function paymentEventsIn({ q }: Database) {
  return {
    /**
     * Store an event unless it is here already.
     * @returns whether it still waits to be worked through, be it new or left over from a crash
     */
    receive: async (row: Omit<PaymentEventRow, "settledAt">): Promise<boolean> => {
      await q.insert(paymentEvents).values(row).onConflictDoNothing();
      const [stored] = await q.select().from(paymentEvents).where(eq(paymentEvents.id, row.id));
      return stored?.settledAt === null;
    },
    settle: async (id: string, at: number): Promise<void> => {
      await q.update(paymentEvents).set({ settledAt: at }).where(eq(paymentEvents.id, id));
    },
    /** Those of the ids that are not here; at most 500 ids at once. */
    unknownOf: async (ids: readonly string[]): Promise<string[]> => {
      const known = await q
        .select({ id: paymentEvents.id })
        .from(paymentEvents)
        .where(sql`${paymentEvents.id} in (select value from json_each(${JSON.stringify(ids)}))`);
      const has = new Set(known.map(({ id }) => id));
      return ids.filter((id) => !has.has(id));
    },
    /** Events that came before a moment and that a crash left over, oldest first, among the newest EVENTS_WINDOW. */
    waiting: async (before: number, most: number): Promise<PaymentEventRow[]> =>
      await q
        .select()
        .from(paymentEvents)
        .where(
          and(
            sql`rowid > (select max(rowid) from payment_events) - ${sql.raw(String(EVENTS_WINDOW))}`,
            isNull(paymentEvents.settledAt),
            lte(paymentEvents.receivedAt, before),
          ),
        )
        .orderBy(asc(paymentEvents.receivedAt))
        .limit(most),
  };
}
