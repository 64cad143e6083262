/**
 * Payments a customer's bank has called back in question, as the till last told of them.
 */
import { disputes, orders } from "#data/schema.ts";
import { and, desc, eq, isNull } from "drizzle-orm";
import { type Database, type Statement, mustHaveChanged } from "./database.ts";
import type { OrderRow, Orders } from "./orders.ts";

export type DisputeRow = typeof disputes.$inferSelect;

export function disputesIn(db: Database, orderStore: Pick<Orders, "logStatement" | "tell">) {
  const { q } = db;

  const keep = ({ openedAt, orderId, id, ...told }: DisputeRow): Statement =>
    q
      .insert(disputes)
      .values({ id, orderId, openedAt, ...told })
      .onConflictDoUpdate({ target: disputes.id, set: told });

  return {
    of: async (orderId: string): Promise<DisputeRow[]> =>
      await q
        .select()
        .from(disputes)
        .where(eq(disputes.orderId, orderId))
        .orderBy(desc(disputes.openedAt), desc(disputes.id)),
    /**
     * Keep what the till tells, flag the order with the newest state, and write it in the order's log.
     * @param rows all disputes of the order, newest first; at least one
     * @throws Conflict when the flag is another by now
     */
    note: async (
      { id, disputeState }: Pick<OrderRow, "id" | "disputeState">,
      rows: readonly DisputeRow[],
      at: number,
      what: string,
    ): Promise<void> => {
      const before =
        disputeState === null ? isNull(orders.disputeState) : eq(orders.disputeState, disputeState);
      await db.atomic([
        q
          .update(orders)
          .set({ disputeState: rows[0]!.state })
          .where(and(eq(orders.id, id), before)),
        ...mustHaveChanged(q),
        ...rows.map(keep),
        orderStore.logStatement(id, at, "till", what),
        ...orderStore.tell([id], "disputed", at),
      ]);
    },
  };
}
