/**
 * What the store of batch records must do, whichever engine stands behind it: entries are only ever added, each in its
 * turn, whoever writes at the same moment.
 */
import { eq, sql } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { batchRecord, batches as batchesTable } from "#data/schema.ts";
import { type NewEntry, checkChain } from "#service/batches/record-chain.ts";
import { batchRecordIn } from "#service/storage/batch-record.ts";
import { batchesIn } from "#service/storage/batches.ts";
import { Conflict, type Database } from "#service/storage/database.ts";
import { ordersIn } from "#service/storage/orders.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { AT, aBatch } from "./contract-rows.ts";
import type { StorageUnderTest } from "./contract.ts";

const note = (words: string): NewEntry => ({ at: AT, by: "Hand", kind: "note", body: { words } });

export function describeBatchRecord(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let db: Database;
  let record: ReturnType<typeof batchRecordIn>;
  let batches: ReturnType<typeof batchesIn>;

  const add = (batch: ReturnType<typeof aBatch>, ...words: string[]) =>
    record.writeWith(batch, words.map(note), (statements) => db.atomic(statements));
  const checkOf = async (batch: ReturnType<typeof aBatch>) =>
    await checkChain(batch, await record.ofBatch(batch.id));

  async function recorded(): Promise<ReturnType<typeof aBatch>> {
    const batch = aBatch();
    await record.writeWith(batch, [note("issued")], (told) => batches.issue(batch, [], told));
    return batch;
  }

  describe(`${name}, as batch records`, () => {
    beforeAll(async () => {
      subject = await open();
      db = subject.db;
      await seedDemo(db, AT);
      record = batchRecordIn(db);
      batches = batchesIn(db, ordersIn(db));
    }, 60_000);
    afterAll(() => subject.close());

    it("begins with the batch itself, or neither is stored", async () => {
      const batch = await recorded();
      expect(await checkOf(batch)).toMatchObject({ entries: 1, faults: [] });
      const twin = { ...aBatch(), number: batch.number };
      const late = record.writeWith(twin, [note("x")], (told) => batches.issue(twin, [], told));
      await expect(late).rejects.toBeInstanceOf(Conflict);
      expect(await record.isBegun(twin.id)).toBe(false);
    });

    it("gives each of several writers at one moment a place, and breaks no link", async () => {
      const batch = await recorded();
      const words = ["one", "two", "three", "four", "five"];
      await Promise.all(words.map((each) => add(batch, each)));
      const rows = await record.ofBatch(batch.id);
      expect(rows.map(({ sequence }) => sequence)).toEqual([1, 2, 3, 4, 5, 6]);
      expect(await checkOf(batch)).toMatchObject({ entries: 6, faults: [] });
      const written = rows
        .slice(1)
        .map(({ body }) => (JSON.parse(body) as { words: string }).words);
      expect(written.sort()).toEqual([...words].sort());
    });

    it("tells a change that fails for another reason at once, and writes no entry of it", async () => {
      const batch = await recorded();
      let tries = 0;
      const late = record.writeWith(batch, [note("x")], async (told) => {
        tries++;
        await batches.amend(batch.id, "not as it reads", "{}", told);
      });
      await expect(late).rejects.toBeInstanceOf(Conflict);
      expect(tries).toBe(1);
      expect(await checkOf(batch)).toMatchObject({ entries: 1 });
    });

    it("begins once, whoever is first", async () => {
      const batch = aBatch();
      await db.atomic([db.q.insert(batchesTable).values(batch)]);
      const both = [record.begin(batch, note("a")), record.begin(batch, note("b"))];
      const ends = (await Promise.allSettled(both)).map(({ status }) => status);
      expect(ends.sort()).toEqual(["fulfilled", "rejected"]);
      expect(await checkOf(batch)).toMatchObject({ entries: 1, faults: [] });
    });

    it("lets nobody change, delete, replace or jump in, whatever the statement", async () => {
      const batch = await recorded();
      await add(batch, "second");
      const before = await record.ofBatch(batch.id);
      const second = before[1]!;
      const insert = (row: typeof second) => db.q.insert(batchRecord).values(row);
      const attempts = [
        () =>
          db.q.update(batchRecord).set({ by: "Nobody" }).where(eq(batchRecord.batchId, batch.id)),
        () => db.q.delete(batchRecord).where(eq(batchRecord.batchId, batch.id)),
        () =>
          db.q.run(
            sql`insert or replace into batch_record select batch_id, sequence, shop_id, at, 'Nobody', kind, body,
              previous_hash, hash from batch_record where batch_id = ${batch.id} and sequence = 2`,
          ),
        () => insert({ ...second, sequence: 4, previousHash: second.hash }),
        () => insert({ ...second, sequence: 3 }),
      ];
      for (const attempt of attempts) {
        await expect((async () => await attempt())()).rejects.toThrow();
      }
      expect(await record.ofBatch(batch.id)).toEqual(before);
      await add(batch, "third");
      expect(await checkOf(batch)).toMatchObject({ entries: 3, faults: [] });
    });
  });
}
