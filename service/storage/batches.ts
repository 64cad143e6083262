/**
 * Batches: what is made together, with the work order as it was issued.
 */
import { batches, orders } from "#data/schema.ts";
import { and, count, desc, eq, like } from "drizzle-orm";
import type { Database } from "./database.ts";
import type { Move, Orders } from "./orders.ts";

export type BatchRow = typeof batches.$inferSelect;
export type NewBatch = typeof batches.$inferInsert;
export type Batches = ReturnType<typeof batchesIn>;

export function batchesIn(db: Database, orderStore: Orders) {
  const { q } = db;
  return {
    byId: async (id: string): Promise<BatchRow | undefined> =>
      (await q.select().from(batches).where(eq(batches.id, id)))[0],
    byNumber: async (shopId: string, number: string): Promise<BatchRow | undefined> =>
      (
        await q
          .select()
          .from(batches)
          .where(and(eq(batches.shopId, shopId), eq(batches.number, number)))
      )[0],
    latest: async (shopId: string, most: number) =>
      await q
        .select({
          number: batches.number,
          state: batches.state,
          issuedAt: batches.issuedAt,
          orders: count(orders.id),
        })
        .from(batches)
        .leftJoin(orders, eq(orders.batchId, batches.id))
        .where(eq(batches.shopId, shopId))
        .groupBy(batches.id)
        .orderBy(desc(batches.issuedAt), desc(batches.number))
        .limit(most),
    /** How many batch numbers begin this way, to find the next one. */
    countFrom: async (shopId: string, prefix: string): Promise<number> =>
      (
        await q
          .select({ n: count() })
          .from(batches)
          .where(and(eq(batches.shopId, shopId), like(batches.number, `${prefix}%`)))
      )[0]?.n ?? 0,
    /** Store a batch and bring its orders into making, all or none. */
    issue: async (batch: NewBatch, moves: readonly Move[]): Promise<void> =>
      await db.atomic([
        q.insert(batches).values(batch),
        ...moves.flatMap(orderStore.moveStatements),
      ]),
    /** Close a batch and call its orders made, all or none. */
    close: async (batchId: string, moves: readonly Move[]): Promise<void> =>
      await db.atomic([
        q
          .update(batches)
          .set({ state: "made" })
          .where(and(eq(batches.id, batchId), eq(batches.state, "open"))),
        ...moves.flatMap(orderStore.moveStatements),
      ]),
  };
}
