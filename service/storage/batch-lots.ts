/**
 * Lots that stand on the shelf for a batch, and the rows that say which of them went into it.
 */
import { batchLots, lots } from "#data/schema.ts";
import { and, asc, eq, gt, inArray, isNull, sql } from "drizzle-orm";
import type { Database, Statement } from "./database.ts";
import { inPages } from "./in-pages.ts";
import type { LotRow } from "./stock.ts";

export type BatchLotRow = typeof batchLots.$inferSelect;
/** A row binds five values, and D1 takes a hundred in a statement. */
const ROWS_MOST = 18;

export function batchLotsIn({ q }: Database) {
  return {
    /** Every lot with something left of these ingredients, blocked and out-of-date ones too; first expired first. */
    onHand: async (shopId: string, ingredientIds: readonly string[]): Promise<LotRow[]> => {
      const pages = inPages(ingredientIds).map((ids) =>
        q
          .select()
          .from(lots)
          .where(
            and(
              eq(lots.shopId, shopId),
              inArray(lots.ingredientId, ids),
              gt(lots.onHandMg, 0),
              isNull(lots.archivedAt),
            ),
          )
          .orderBy(
            sql`${lots.bestBefore} is null`,
            asc(lots.bestBefore),
            asc(lots.receivedOn),
            asc(lots.id),
          ),
      );
      return (await Promise.all(pages)).flat();
    },
    /** Which of these ingredients the shop keeps lots of, used-up ones counted. */
    kept: async (shopId: string, ingredientIds: readonly string[]): Promise<Set<string>> => {
      const pages = inPages(ingredientIds).map((ids) =>
        q
          .selectDistinct({ id: lots.ingredientId })
          .from(lots)
          .where(and(eq(lots.shopId, shopId), inArray(lots.ingredientId, ids))),
      );
      return new Set((await Promise.all(pages)).flat().map(({ id }) => id));
    },
    ofBatch: async (batchId: string) =>
      await q
        .select({
          run: batchLots.run,
          ingredientId: batchLots.ingredientId,
          usedMg: batchLots.usedMg,
          lotId: lots.id,
          code: lots.code,
          supplier: lots.supplier,
          bestBefore: lots.bestBefore,
        })
        .from(batchLots)
        .innerJoin(lots, eq(lots.id, batchLots.lotId))
        .where(eq(batchLots.batchId, batchId))
        .orderBy(asc(batchLots.run)),
    /** Statements that write down which lots went in, for an atomic list. */
    usedStatements: (rows: readonly BatchLotRow[]): Statement[] =>
      inPages(rows, ROWS_MOST).map((page) => q.insert(batchLots).values(page)),
  };
}
