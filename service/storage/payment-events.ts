/**
 * The inbox of signed payment events: stored first, worked through after, each once.
 */
import { paymentEvents } from "#data/schema.ts";
import { asc, eq, isNull } from "drizzle-orm";
import type { Database } from "./database.ts";

export type PaymentEventRow = typeof paymentEvents.$inferSelect;
export type PaymentEvents = ReturnType<typeof paymentEventsIn>;

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
    /** Events a crash left over, oldest first. */
    waiting: async (most: number): Promise<PaymentEventRow[]> =>
      await q
        .select()
        .from(paymentEvents)
        .where(isNull(paymentEvents.settledAt))
        .orderBy(asc(paymentEvents.receivedAt))
        .limit(most),
  };
}
