/**
 * Test jars as the maker wrote them down; a jar is struck out or restored, never deleted.
 */
import { testJars } from "#data/schema.ts";
import { and, desc, eq, sql } from "drizzle-orm";
import type { Database } from "./database.ts";

export type TestJarRow = typeof testJars.$inferSelect;
export type NewTestJar = Omit<TestJarRow, "number" | "struckAt">;

export function testJarsIn(db: Database) {
  const { q } = db;
  return {
    /** Store a jar under the next number of the shop; Conflict when a jar of that id is there already. */
    add: async (row: NewTestJar): Promise<void> => {
      const next = sql<number>`(select coalesce(max(${testJars.number}), 0) + 1 from ${testJars}
        where ${testJars.shopId} = ${row.shopId})`;
      await db.atomic([q.insert(testJars).values({ ...row, number: next })]);
    },
    byId: async (shopId: string, id: string): Promise<TestJarRow | undefined> =>
      (
        await q
          .select()
          .from(testJars)
          .where(and(eq(testJars.shopId, shopId), eq(testJars.id, id)))
      )[0],
    /** The newest first. */
    latest: async (shopId: string, most: number): Promise<TestJarRow[]> =>
      await q
        .select()
        .from(testJars)
        .where(eq(testJars.shopId, shopId))
        .orderBy(desc(testJars.number))
        .limit(most),
    /**
     * Strike a jar out, or restore it.
     * @param struckAt when [s since 1970]; null restores
     */
    setStruck: async (shopId: string, id: string, struckAt: number | null): Promise<void> =>
      await db.atomic([
        q
          .update(testJars)
          .set({ struckAt })
          .where(and(eq(testJars.shopId, shopId), eq(testJars.id, id))),
      ]),
  };
}
