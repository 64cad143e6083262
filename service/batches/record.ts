/**
 * The record of a batch: begun, added to, and read back with its chain looked at.
 */
import type { RecordKind } from "#core/make/batch-record.ts";
import type { Shop } from "../ports.ts";
import { Conflict, type Statement } from "../storage/database.ts";
import type { BatchRow } from "../storage/batches.ts";
import { type ChainCheck, type ChainedEntry, type NewEntry, checkChain } from "./record-chain.ts";
import { BODIES, type BodyOf, type ReadEntry } from "./record-shapes.ts";
import { takenOverBody } from "./record-told.ts";

export interface BatchRecordRead {
  readonly entries: readonly ReadEntry[];
  readonly check: ChainCheck;
  /** Entries whose words are not of the shape their kind has, by their place; they are left out of `entries`. */
  readonly unread: readonly number[];
  /** The entries as they are stored, with those that are left out. */
  readonly rows: readonly ChainedEntry[];
}

/** What somebody writes into a record. */
export interface Told<Kind extends RecordKind = RecordKind> {
  readonly kind: Kind;
  /** Name of who writes it. */
  readonly by: string;
  readonly body: BodyOf<Kind>;
}

/**
 * Add entries to the record of a batch, all or none, beginning the record when there is none yet.
 * @param told one or more, in the order they are to stand
 * @returns place of the last of them
 */
export async function tellRecord<Kind extends RecordKind>(
  shop: Shop,
  batch: BatchRow,
  ...told: readonly Told<Kind>[]
): Promise<number> {
  await beginRecord(shop, batch, told[0]!.by);
  const entries = told.map((each) => entryOf(shop, each));
  return await shop.batchRecord.writeWith(batch, entries, (statements) =>
    shop.db.atomic(statements),
  );
}

/**
 * Add an entry together with the change it tells of.
 * @param write writes the change as one list with these statements in it
 * @throws Conflict when that list fails
 */
export async function recordWith<Kind extends RecordKind>(
  shop: Shop,
  batch: BatchRow,
  told: Told<Kind>,
  write: (statements: readonly Statement[]) => Promise<void>,
): Promise<void> {
  await beginRecord(shop, batch, told.by);
  await shop.batchRecord.writeWith(batch, [entryOf(shop, told)], write);
}

/** An entry as of now. */
function entryOf<Kind extends RecordKind>(
  { clock }: Pick<Shop, "clock">,
  { kind, by, body }: Told<Kind>,
): NewEntry {
  return { at: clock.seconds(), kind, by, body };
}

/** A batch from before its record was kept begins it with what is stored of it. */
export async function beginRecord(shop: Shop, batch: BatchRow, by: string): Promise<void> {
  if (await shop.batchRecord.isBegun(batch.id)) return;
  const lots = await shop.batchLots.ofBatch(batch.id);
  const origins = new Map(lots.map(({ lotId, ...origin }) => [lotId, origin]));
  const body = await takenOverBody(batch, origins);
  try {
    await shop.batchRecord.begin(batch, entryOf(shop, { kind: "taken-over", by, body }));
  } catch (error) {
    if (!(error instanceof Conflict)) throw error; // somebody else has begun it just now
  }
}

/** Read a record and look at every link of its chain. */
export async function readRecord(shop: Shop, batch: BatchRow): Promise<BatchRecordRead> {
  const rows = await shop.batchRecord.ofBatch(batch.id);
  const unread: number[] = [];
  const entries = rows.flatMap(({ sequence, at, by, kind, body }) => {
    const read = BODIES[kind]?.safeParse(jsonOf(body));
    if (read?.success) return [{ sequence, at, by, kind, body: read.data } as ReadEntry];
    unread.push(sequence);
    return [];
  });
  return { entries, unread, rows, check: await checkChain(batch, rows) };
}

/** The decision on a batch that stands now; nothing when there is none, or it cannot be read. */
export async function decisionOn(
  { batchRecord }: Pick<Shop, "batchRecord">,
  batchId: string,
): Promise<BodyOf<"release"> | undefined> {
  const row = await batchRecord.lastOf(batchId, "release");
  return row && BODIES.release.safeParse(jsonOf(row.body)).data;
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
