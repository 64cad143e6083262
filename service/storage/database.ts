/**
 * The storage port: queries, and lists of statements that happen together or not at all.
 *
 * D1 offers no interactive transactions and better-sqlite3's must not be async, so neither is offered here. A list that
 * depends on a guarded update puts `mustHaveChanged` after it: when the update met no row, the whole list is undone.
 */
import * as schema from "#data/schema.ts";
import { sql } from "drizzle-orm";
import type { BatchItem } from "drizzle-orm/batch";
import type { BaseSQLiteDatabase } from "drizzle-orm/sqlite-core";

export type Query = BaseSQLiteDatabase<"async", unknown, typeof schema>;
export type Statement = BatchItem<"sqlite">;

export interface Database {
  /** Query builder; every query is awaited, on both engines. */
  readonly q: Query;
  /**
   * Run statements in one transaction.
   * @throws Conflict when `mustHaveChanged` found that the statement before it changed no row, or a unique rule broke
   */
  atomic(statements: readonly Statement[]): Promise<void>;
  /** Run one statement; resolves when it is safe. An engine may let several callers share one commit. */
  write(statement: Statement): Promise<void>;
}

/** Another request was there first: the guarded update met no row, or a unique value was taken. */
export class Conflict extends Error {}

/** Fails the list when the statement before it did not change exactly one row. */
export function mustHaveChanged(q: Query): Statement[] {
  return [
    q.insert(schema.musts).values({ ok: sql`changes()` }),
    q.delete(schema.musts),
  ] as unknown as Statement[];
}

/** Whether an engine's error says that a CHECK or UNIQUE rule was broken; looks through causes, as drivers wrap. */
export function isConflict(error: unknown): boolean {
  for (let at = error, depth = 0; at instanceof Error && depth < 5; at = at.cause, depth++) {
    if (/UNIQUE constraint failed|CHECK constraint failed: must_hold/.test(at.message)) return true;
  }
  return false;
}
