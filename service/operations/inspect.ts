/**
 * What is in a database file and whether it is whole: the engine's own checks, rows by table, money by currency, and
 * the chain of every batch record.
 */
import journal from "#data/migrations/meta/_journal.json" with { type: "json" };
import SQLite from "better-sqlite3";
import { type ChainedEntry, checkChain } from "../batches/record-chain.ts";
import { faultWords } from "../batches/record-words.ts";
import { columnsOf, hasTable, rowsByTable } from "../storage/sqlite-tables.ts";
import { refuseMissing } from "./place-file.ts";

/** Sums of one currency [minor units] */
export interface MoneyTotal {
  readonly currency: string;
  readonly orders: number;
  /** Orders whose money came, and how much it was: as it was captured, else the order's total. */
  readonly paidOrders: number;
  readonly paidMinor: number;
  readonly refundedMinor: number;
}

export interface Inspection {
  /** Name of the newest migration it has had, as 0004_money_and_messages; empty for one this version does not know. */
  readonly schema: string;
  readonly rows: Readonly<Record<string, number>>;
  readonly money: readonly MoneyTotal[];
  readonly batchRecords: { readonly records: number; readonly entries: number };
  /** Sentences; empty when it is whole. */
  readonly faults: readonly string[];
}

/** Faults named one by one; more say no more. */
const NAMED_MOST = 20;

/**
 * Look through a database file; nothing in it is changed, and a service may be running on it.
 * @throws Refusal operations.file.unreadable when there is no file
 */
export async function inspectFile(file: string): Promise<Inspection> {
  refuseMissing(file);
  let sqlite: SQLite.Database | undefined;
  try {
    sqlite = new SQLite(file, { readonly: true });
    return await inspect(sqlite);
  } catch (error) {
    if (!(error instanceof SQLite.SqliteError)) throw error;
    return unreadable(`It cannot be read through: ${error.message}.`);
  } finally {
    sqlite?.close();
  }
}

/** The same of an open database, as of one moment. */
export async function inspect(sqlite: SQLite.Database): Promise<Inspection> {
  sqlite.exec("begin");
  try {
    if (!hasTable(sqlite, "shops")) return unreadable("It is no database of a shop.");
    const records = await recordFaults(sqlite);
    return {
      schema: schemaOf(sqlite),
      rows: Object.fromEntries(rowsByTable(sqlite)),
      money: moneyOf(sqlite),
      batchRecords: { records: records.records, entries: records.entries },
      faults: [...engineFaults(sqlite), ...records.faults],
    };
  } finally {
    if (sqlite.inTransaction) sqlite.exec("rollback");
  }
}

function unreadable(fault: string): Inspection {
  const batchRecords = { records: 0, entries: 0 };
  return { schema: "", rows: {}, money: [], batchRecords, faults: [fault] };
}

function engineFaults(sqlite: SQLite.Database): string[] {
  const pages = sqlite.pragma(`integrity_check(${NAMED_MOST})`) as { integrity_check: string }[];
  const damaged = pages
    .map(({ integrity_check: said }) => said)
    .filter((said) => said !== "ok")
    .map((said) => `The engine finds: ${said}.`);
  const loose = sqlite.pragma("foreign_key_check") as { table: string; rowid: number }[];
  const named = loose
    .slice(0, NAMED_MOST)
    .map(({ table, rowid }) => `Row ${rowid} of ${table} belongs to something that is not there.`);
  return [...damaged, ...named];
}

function schemaOf(sqlite: SQLite.Database): string {
  if (!hasTable(sqlite, "__drizzle_migrations")) return "";
  const row = sqlite
    .prepare<[], { at: number | null }>("select max(created_at) as at from __drizzle_migrations")
    .get();
  return journal.entries.find(({ when }) => when === Number(row?.at))?.tag ?? "";
}

/** Older schemas have fewer columns of money. */
function moneyOf(sqlite: SQLite.Database): MoneyTotal[] {
  const columns = columnsOf(sqlite, "orders");
  const paid = columns.includes("captured_minor")
    ? "coalesce(captured_minor, total_minor)"
    : "total_minor";
  const refunded = columns.includes("refunded_minor") ? "sum(refunded_minor)" : "0";
  return sqlite
    .prepare<[], MoneyTotal>(
      `select currency, count(*) as orders, count(paid_at) as paidOrders,
        coalesce(sum(case when paid_at is not null then ${paid} end), 0) as paidMinor,
        ${refunded} as refundedMinor
       from orders group by currency order by currency`,
    )
    .all();
}

async function recordFaults(sqlite: SQLite.Database) {
  if (!hasTable(sqlite, "batch_record")) return { records: 0, entries: 0, faults: [] };
  const batches = sqlite
    .prepare<[], { id: string; shopId: string; number: string }>(
      `select id, shop_id as shopId, number from batches
       where exists (select 1 from batch_record where batch_id = batches.id) order by number`,
    )
    .all();
  const ofBatch = sqlite.prepare<[string], ChainedEntry>(
    `select sequence, at, by, kind, body, previous_hash as previousHash, hash
     from batch_record where batch_id = ? order by sequence`,
  );
  const faults: string[] = [];
  let entries = 0;
  for (const { id, ...owner } of batches) {
    const check = await checkChain(owner, ofBatch.all(id));
    entries += check.entries;
    const named = check.faults.map((each) => `Batch ${owner.number}: ${faultWords(each)}`);
    faults.push(...named.slice(0, NAMED_MOST));
  }
  return { records: batches.length, entries, faults };
}
