/**
 * The storage port: queries, and lists of statements that happen together or not at all.
 *
 * D1 offers no interactive transactions and better-sqlite3's must not be async, so neither is offered here. A list that
 * depends on a guarded update puts `mustHaveChanged` after it: when the update met no row, the whole list is undone.
 */
import * as schema from "#data/schema.ts";
import { type SQL, sql } from "drizzle-orm";
import type { BatchItem } from "drizzle-orm/batch";
import type { BaseSQLiteDatabase } from "drizzle-orm/sqlite-core";
import { causesOf } from "./causes.ts";
import { writtenStatement } from "./written-once.ts";

export type Query = BaseSQLiteDatabase<"async", unknown, typeof schema>;
export type Statement = BatchItem<"sqlite">;

export interface Database {
  /** Query builder; every query is awaited, on both engines. */
  readonly q: Query;
  /**
   * Run statements in one transaction.
   * @throws Conflict when `mustHaveChanged` found that the statement before it changed no row, or a unique rule broke
   * @throws StockShort when a lot would have gone below nothing
   */
  atomic(statements: readonly Statement[]): Promise<void>;
  /** Run one statement; resolves when it is safe. An engine may let several callers share one commit. */
  write(statement: Statement): Promise<void>;
}

/** Another request was there first: the guarded update met no row, or a unique value was taken. */
export class Conflict extends Error {}

/** A movement would take more from a lot than is left of it. */
export class StockShort extends Error {}

/** Fails the list when the statement before it did not change exactly one row. */
export function mustHaveChanged(q: Query): readonly Statement[] {
  let guard = guards.get(q);
  if (!guard) {
    const insert = writtenStatement(() =>
      q
        .insert(schema.musts)
        .values({ ok: sql<number>`changes()` })
        .prepare(),
    );
    const clear = writtenStatement(() => q.delete(schema.musts).prepare());
    guards.set(q, (guard = [insert(), clear()]));
  }
  return guard;
}

/** The guard of each connection, which stands behind nearly every change. */
const guards = new WeakMap<Query, readonly Statement[]>();

/** Fails the list unless a condition is 1 at this place of it. */
export function mustHold(q: Query, condition: SQL<number>): Statement[] {
  return [
    q.insert(schema.musts).values({ ok: condition }),
    q.delete(schema.musts),
  ] as unknown as Statement[];
}

/** The last is said by a trigger of the batch record, whose next entry somebody else has written. */
const OVERTAKEN =
  /UNIQUE constraint failed|CHECK constraint failed: must_hold|batch record out of turn/;

/**
 * An engine's error in this port's words: a broken UNIQUE or guard rule, a lot below nothing, or the error itself.
 * Looks through causes, as drivers wrap.
 */
export function asStorageError(error: unknown): unknown {
  for (const at of causesOf(error)) {
    if (OVERTAKEN.test(at.message)) {
      return new Conflict("was there first", { cause: error });
    }
    if (/CHECK constraint failed: lot_never_below_nothing/.test(at.message)) {
      return new StockShort("the lot holds less than that", { cause: error });
    }
  }
  return error;
}
