/**
 * The embedded default: one SQLite file, write-ahead log, every commit flushed.
 */
import * as schema from "#data/schema.ts";
import SQLite from "better-sqlite3";
import { drizzle } from "drizzle-orm/better-sqlite3";
import { mkdirSync } from "node:fs";
import { dirname } from "node:path";
import { type Database, type Query, type Statement, asStorageError } from "./database.ts";
import { gatherLists } from "./gather.ts";
import { keepStatements } from "./kept-statements.ts";
import { migrateFile } from "./migrate-file.ts";

export interface NodeDatabase extends Database {
  /** Close the file; nothing may be asked after. */
  close(): void;
}

/** What a connection must answer, or the service does not start: an order that was confirmed is on the disk. */
const PRAGMAS = { journal_mode: "wal", synchronous: 2, foreign_keys: 1, trusted_schema: 0 };

/**
 * Open the shop's file and bring its tables up to date.
 * @param file path, or ":memory:" for a shop that is forgotten
 * @param migrations folder with the migrations
 * @throws MigrationFault when the tables cannot be brought up to date; any other error when a pragma does not hold. The
 *   file is then as it was
 */
export function openNodeDatabase(file: string, migrations: string): NodeDatabase {
  if (file !== ":memory:") mkdirSync(dirname(file), { recursive: true });
  const sqlite = new SQLite(file);
  sqlite.pragma("journal_mode = WAL");
  sqlite.pragma("synchronous = FULL");
  sqlite.pragma("foreign_keys = ON");
  sqlite.pragma("trusted_schema = OFF");
  try {
    checkPragmas(sqlite, file === ":memory:");
    migrateFile(sqlite, file, migrations);
  } catch (error) {
    sqlite.close();
    throw error;
  }
  keepStatements(sqlite);
  const q = drizzle({ client: sqlite, schema, casing: "snake_case" });
  const run = sqlite.transaction((list: readonly Statement[]) => list.forEach(runNow));
  // Inside another transaction better-sqlite3 makes a savepoint of one, so that a list is undone alone.
  const runAll = sqlite.transaction((lists: readonly (readonly Statement[])[]) =>
    lists.map((list) => {
      try {
        run(list);
        return undefined;
      } catch (error) {
        // Some faults, a full disk among them, make SQLite undo the whole transaction.
        if (!sqlite.inTransaction) throw error;
        return asStorageError(error);
      }
    }),
  );
  const atomic = gatherLists((lists: readonly (readonly Statement[])[]) => {
    return runAll.immediate(lists);
  }, nextTurn);
  return {
    q: q as unknown as Query,
    atomic,
    write: (statement) => atomic([statement]),
    close: () => sqlite.close(),
  };
}

/** Lets the requests that are already here go on first. */
const nextTurn = () => new Promise<void>((resolve) => setImmediate(resolve));

/**
 * Runs a built statement inside better-sqlite3's synchronous transaction. `execute()` would be a promise and commit too
 * early, so this uses drizzle 0.45's internal `_prepare`; a test holds it to that.
 */
function runNow(statement: Statement): void {
  const prepared = (
    statement as unknown as { _prepare(): { execute(): { sync(): unknown } } }
  )._prepare();
  prepared.execute().sync();
}

function checkPragmas(sqlite: SQLite.Database, inMemory: boolean): void {
  for (const [name, wanted] of Object.entries(PRAGMAS)) {
    const found = sqlite.pragma(name, { simple: true });
    if (found === wanted || (inMemory && name === "journal_mode")) continue;
    throw new Error(`SQLite answers ${name} = ${String(found)}, and ${wanted} is needed`);
  }
}
