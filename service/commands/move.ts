/**
 * `softset export FILE.sql` and `softset import FILE.sql`: a whole shop between a machine of its own and the edge.
 */
import SQLite from "better-sqlite3";
import { chmodSync, closeSync, openSync, writeSync } from "node:fs";
import { MIGRATIONS_FOLDER } from "../migrations-folder.ts";
import { inspect } from "../operations/inspect.ts";
import {
  clearPart,
  partOf,
  putInPlace,
  refuseMissing,
  refuseTaken,
} from "../operations/place-file.ts";
import { importSql } from "../operations/sql-in.ts";
import { writeRows } from "../operations/sql-out.ts";
import { Refusal } from "../problem.ts";
import { migrationsHad } from "../storage/migrations-had.ts";
import { openReader } from "../operations/reader.ts";
import { readDatabaseCommand } from "./database-option.ts";
import { jsonText } from "./json-text.ts";
import type { Told } from "./run.ts";

const EXPORT = "softset export FILE.sql [--database FILE or --shop HOST]";
const IMPORT = "softset import FILE.sql [--database FILE or --shop HOST]";

/**
 * Write a whole database down as SQL for D1, beside a running service or without one.
 * @returns as JSON text what is in it, and what to do with it
 * @throws Refusal when the file is taken, the database cannot be read or its tables are of another version
 */
export async function exportCommand(rest: readonly string[]): Promise<Told> {
  const { file, database } = readDatabaseCommand(rest, EXPORT, 1);
  refuseMissing(database);
  refuseTaken(file);
  clearPart(file);
  const sqlite = new SQLite(database, { readonly: true });
  try {
    const { missing, isNewer } = await migrationsHad(openReader(sqlite));
    if (missing.length > 0 || isNewer) {
      throw new Refusal(
        "operations.file.damaged",
        "The tables of this database are of another version. Start the service once with this one, then export.",
      );
    }
    const { schema, money, faults } = await inspect(sqlite);
    if (faults.length > 0) throw new Refusal("operations.file.damaged", faults.join(" "));
    const out = openSync(partOf(file), "wx", 0o600);
    const told = (() => {
      try {
        return writeRows(sqlite, schema, (text) => void writeSync(out, text));
      } finally {
        closeSync(out);
      }
    })();
    chmodSync(partOf(file), 0o600);
    putInPlace(file);
    const sentence =
      "Written. In an empty D1 database: “wrangler d1 migrations apply softset --remote”, then “wrangler d1 execute " +
      `softset --remote --file ${file}”. Give the Worker the same SOFTSET_KEYS, and stop this service first, so that nothing is stored here any more.`;
    return { status: 0, stdout: jsonText({ sentence, file, schema, money, ...told }) };
  } finally {
    sqlite.close();
  }
}

/**
 * Make a database of what `softset export` or `wrangler d1 export` wrote; never over one that is there.
 * @throws Refusal when there is a database already, or no whole shop comes of the file
 */
export async function importCommand(rest: readonly string[]): Promise<Told> {
  const { file, database } = readDatabaseCommand(rest, IMPORT, 1);
  const found = await importSql(file, database, MIGRATIONS_FOLDER);
  const sentence = `The shop now stands at ${database}. Start the service with the keys it had.`;
  return { status: 0, stdout: jsonText({ sentence, file: database, ...found }) };
}
