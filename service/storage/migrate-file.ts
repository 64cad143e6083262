/**
 * Brings the tables of a file up to date: all that is due in one transaction, or nothing.
 *
 * The notes are those of drizzle's own migrator, which is not used, because it compares with the newest note alone (an
 * older migration that was merged later is skipped and nobody told), names no migration that failed, and lets two
 * processes migrate at once.
 */
import type SQLite from "better-sqlite3";
import { readMigrationFiles } from "drizzle-orm/migrator";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { keepCopy } from "../operations/older-copies.ts";
import { rowsByTable } from "./sqlite-tables.ts";

/** The tables cannot be brought up to date. The message says what happened, what is kept, and what to do. */
export class MigrationFault extends Error {}

interface Migration {
  /** As 0004_money_and_messages. */
  readonly name: string;
  readonly statements: readonly string[];
  /** When it was made [ms since 1970]; its note is told by it. */
  readonly when: number;
  readonly hash: string;
}

const NOTES =
  "create table if not exists __drizzle_migrations " +
  "(id SERIAL PRIMARY KEY, hash text NOT NULL, created_at numeric)";

/**
 * @param file where the database is, or ":memory:"; a copy from before is kept beside it when anything is due
 * @param folder with the migrations and their journal
 * @throws MigrationFault; the data is then as it was before
 */
export function migrateFile(sqlite: SQLite.Database, file: string, folder: string): void {
  const migrations = migrationsIn(folder);
  sqlite.exec(NOTES);
  const had = timesHad(sqlite);
  refuseStrange(migrations, had);
  const newest = migrations.findLast(({ when }) => had.has(when));
  if (newest === migrations.at(-1)) return;
  const copy = newest && file !== ":memory:" ? copyOf(sqlite, file, newest) : undefined;
  const applyDue = sqlite.transaction(() => {
    // Another process may have been here since.
    const now = timesHad(sqlite);
    const before = newest ? rowsByTable(sqlite) : new Map<string, number>();
    for (const migration of migrations)
      if (!now.has(migration.when)) apply(sqlite, migration, copy);
    if (newest) refuseLoss(sqlite, before, copy);
  });
  applyDue.immediate();
}

function migrationsIn(folder: string): Migration[] {
  const journal = JSON.parse(readFileSync(join(folder, "meta", "_journal.json"), "utf8")) as {
    entries: readonly { tag: string }[];
  };
  return readMigrationFiles({ migrationsFolder: folder }).map(
    ({ sql, folderMillis, hash }, at) => ({
      ...{ name: journal.entries[at]!.tag, statements: sql, when: folderMillis, hash },
    }),
  );
}

function timesHad(sqlite: SQLite.Database): Set<number> {
  const notes = sqlite
    .prepare<[], { created_at: number }>("select created_at from __drizzle_migrations")
    .all();
  return new Set(notes.map(({ created_at }) => Number(created_at)));
}

function refuseStrange(migrations: readonly Migration[], had: ReadonlySet<number>): void {
  const known = new Set(migrations.map(({ when }) => when));
  const newestHad = Math.max(...had);
  if ([...had].some((when) => !known.has(when))) {
    throw new MigrationFault(
      "This database was last opened by another version of Softset, whose tables this one does not know. Nothing was " +
        "changed. Start the newer version, or restore a copy from before: softset restore FILE",
    );
  }
  const late = migrations.find(({ when }) => !had.has(when) && when < newestHad);
  if (late) {
    throw new MigrationFault(
      `The migration ${late.name} is older than one this database has had already, so it was not run and nothing was ` +
        "changed. Whoever works on the tables must make it anew.",
    );
  }
}

function copyOf(sqlite: SQLite.Database, file: string, newest: Migration): string {
  try {
    return keepCopy(sqlite, file, newest.name.slice(0, 4));
  } catch (cause) {
    throw new MigrationFault(
      `No copy of the database could be kept before its tables change (${sayCause(cause)}), so nothing was changed. ` +
        "Make room on the disk, see that its folder can be written to, and start again.",
      { cause },
    );
  }
}

function apply(sqlite: SQLite.Database, migration: Migration, copy: string | undefined): void {
  const { name, statements, hash, when } = migration;
  try {
    for (const statement of statements) sqlite.exec(statement);
    const note = "insert into __drizzle_migrations (hash, created_at) values (?, ?)";
    sqlite.prepare(note).run(hash, when);
  } catch (cause) {
    throw failed(name, sayCause(cause), copy, cause);
  }
}

/** What deletes rows along with a table that is rebuilt says nothing of it, so the rows are counted. */
function refuseLoss(
  sqlite: SQLite.Database,
  before: ReadonlyMap<string, number>,
  copy: string | undefined,
): void {
  const after = rowsByTable(sqlite);
  for (const [table, rows] of before) {
    const left = after.get(table);
    if (left !== undefined && left < rows) {
      throw failed("the update", `${rows - left} rows of ${table} would be lost`, copy);
    }
  }
  const loose = sqlite.pragma("foreign_key_check") as readonly { readonly table: string }[];
  if (loose.length > 0) {
    throw failed("the update", `rows of ${loose[0]!.table} would belong to nothing`, copy);
  }
}

function failed(
  what: string,
  why: string,
  copy: string | undefined,
  cause?: unknown,
): MigrationFault {
  const kept = copy ? ` A copy of it is at ${copy}.` : "";
  return new MigrationFault(
    `The tables could not be brought up to date: ${what} failed (${why}). The database is as it was before.${kept} ` +
      "Start the version you had before, which can go on with it, and report this message.",
    { cause },
  );
}

const sayCause = (cause: unknown) => (cause instanceof Error ? cause.message : String(cause));
