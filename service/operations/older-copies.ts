/**
 * The copy that is kept before the tables of a database change, named by the schema it has: shop.schema-0004.db.
 */
import type SQLite from "better-sqlite3";
import { chmodSync, readdirSync, rmSync } from "node:fs";
import { basename, dirname, extname, join } from "node:path";
import { clearPart, partOf, putInstead } from "./place-file.ts";

/** So many schemas back one can go; own choice. */
const KEPT_MOST = 3;

/**
 * Copy a database to a file beside it.
 * @param schema number of its newest migration, as 0004
 * @returns where the copy is
 * @throws the engine's error when there is no room, or a page cannot be read: then nothing has been changed
 */
export function keepCopy(sqlite: SQLite.Database, file: string, schema: string): string {
  const copy = join(dirname(file), `${stemOf(file)}.schema-${schema}.db`);
  clearPart(copy);
  // Opening a database does not wait for anything, so the backup interface, which does, cannot be used here.
  sqlite.prepare("VACUUM INTO ?").run(partOf(copy));
  chmodSync(partOf(copy), 0o600); // it holds names and addresses
  putInstead(copy);
  for (const older of copiesOf(file).slice(0, -KEPT_MOST)) rmSync(older);
  return copy;
}

/** Copies of a database that are there, oldest schema first. */
export function copiesOf(file: string): string[] {
  const begin = `${stemOf(file)}.schema-`;
  return readdirSync(dirname(file))
    .filter((name) => name.startsWith(begin) && /^\d{4}\.db$/.test(name.slice(begin.length)))
    .sort()
    .map((name) => join(dirname(file), name));
}

const stemOf = (file: string) => basename(file, extname(file));
