/**
 * Records of batches: entries in a chain, only ever added to.
 */
import type { RecordKind } from "#core/make/batch-record.ts";
import { batchRecord } from "#data/schema.ts";
import { and, asc, desc, eq } from "drizzle-orm";
import { type NewEntry, type RecordOwner, chain, firstHash } from "../batches/record-chain.ts";
import { Conflict, type Database, type Statement } from "./database.ts";

export type BatchRecordRow = typeof batchRecord.$inferSelect;

/** The batch whose record it is. */
export interface RecordedBatch extends RecordOwner {
  readonly id: string;
}

/** So many may be at one record at once before the last of them is sent back to look again. */
const TRIES_MOST = 8;

export function batchRecordIn({ q, atomic }: Database) {
  async function tipOf({ id, shopId, number }: RecordedBatch) {
    const [last] = await q
      .select({ sequence: batchRecord.sequence, hash: batchRecord.hash })
      .from(batchRecord)
      .where(eq(batchRecord.batchId, id))
      .orderBy(desc(batchRecord.sequence))
      .limit(1);
    return last ?? { sequence: 0, hash: await firstHash({ shopId, number }) };
  }

  /**
   * Write a list of statements with entries of the record in it. When somebody else’s entry took the place meanwhile,
   * the entries are hung on that one and the list is written again.
   * @param entries one or more
   * @param write writes one atomic list in which the statements it is handed stand
   * @returns place of the last of the entries
   * @throws Conflict when the list fails for a reason of its own
   */
  async function writeWith(
    batch: RecordedBatch,
    entries: readonly NewEntry[],
    write: (statements: readonly Statement[]) => Promise<void>,
  ): Promise<number> {
    let tip = await tipOf(batch);
    for (let tries = 1; ; tries++) {
      const rows = await chain(tip, entries);
      const { id: batchId, shopId } = batch;
      try {
        await write(rows.map((row) => q.insert(batchRecord).values({ ...row, batchId, shopId })));
        return rows.at(-1)!.sequence;
      } catch (error) {
        if (!(error instanceof Conflict) || tries === TRIES_MOST) throw error;
        const now = await tipOf(batch);
        if (now.hash === tip.hash) throw error; // so it was not the record that somebody else changed
        tip = now;
      }
    }
  }

  return {
    writeWith,
    /** Write the first entry of a record. @throws Conflict when there is one */
    begin: async (batch: RecordedBatch, entry: NewEntry): Promise<void> => {
      const { id: batchId, shopId } = batch;
      const [row] = await chain({ sequence: 0, hash: await firstHash(batch) }, [entry]);
      await atomic([q.insert(batchRecord).values({ ...row!, batchId, shopId })]);
    },
    isBegun: async (batchId: string): Promise<boolean> =>
      (
        await q
          .select({ sequence: batchRecord.sequence })
          .from(batchRecord)
          .where(eq(batchRecord.batchId, batchId))
          .limit(1)
      ).length > 0,
    /** The last entry of a kind, if there is one. */
    lastOf: async (batchId: string, kind: RecordKind): Promise<BatchRecordRow | undefined> =>
      (
        await q
          .select()
          .from(batchRecord)
          .where(and(eq(batchRecord.batchId, batchId), eq(batchRecord.kind, kind)))
          .orderBy(desc(batchRecord.sequence))
          .limit(1)
      )[0],
    /** All entries, in their places. */
    ofBatch: async (batchId: string): Promise<BatchRecordRow[]> =>
      await q
        .select()
        .from(batchRecord)
        .where(eq(batchRecord.batchId, batchId))
        .orderBy(asc(batchRecord.sequence)),
  };
}
