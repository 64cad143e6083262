/**
 * A new database from SQL text: what `softset export` writes, or what `wrangler d1 export` writes of a shop at the
 * edge, with its tables or without.
 *
 * The text is carried out in a file of its own, where nothing is checked; then all rows go into a database with the
 * tables of this version, where everything is.
 */
import SQLite from "better-sqlite3";
import { createReadStream, rmSync } from "node:fs";
import { Refusal } from "../problem.ts";
import { migrateFile } from "../storage/migrate-file.ts";
import { columnsOf, hasTable, rowsByTable } from "../storage/sqlite-tables.ts";
import { type Inspection, inspectFile } from "./inspect.ts";
import { clearPart, partOf, putInPlace, refuseMissing, refuseTaken } from "./place-file.ts";
import { statementsOf } from "./sql-statements.ts";

/** Statements the engine compiles at once; own choice */
const GATHERED_CHARACTERS = 1_000_000;

/** What concerns the whole run, which is one transaction here, and wrangler's notes, which say nothing of a file. */
const OURS_TO_SAY = /^\s*(pragma\b|begin\b|commit\b|insert into ["`]?d1_migrations\b)/i;
/** A table of the shop's; the one that long rows go ahead in is not. */
const BRINGS_TABLES = /^\s*create table (?!softset_pieces\b)/i;
/** wrangler writes a zero byte down as it is, and there the engine stops to read. */
const TEXT_WITH_ZERO = /'(?:[^']|'')*'/g;

/**
 * Make a database of a script.
 * @param file the script
 * @param database where it is wanted; there must be none
 * @throws Refusal operations.file.taken, .unreadable or .damaged; then there is none
 */
export async function importSql(
  file: string,
  database: string,
  migrations: string,
): Promise<Inspection> {
  refuseMissing(file);
  refuseTaken(database);
  clearPart(database);
  const raw = `${database}.import`;
  for (const ending of ["", "-journal"]) rmSync(`${raw}${ending}`, { force: true });
  try {
    await carryOut(file, raw, migrations);
    takeOver(raw, partOf(database), migrations);
    const found = await inspectFile(partOf(database));
    if (found.faults.length > 0) throw new Unusable(found.faults.join(" "));
    putInPlace(database);
    return found;
  } catch (error) {
    clearPart(database);
    throw asRefusal(error, file);
  } finally {
    for (const ending of ["", "-journal"]) rmSync(`${raw}${ending}`, { force: true });
  }
}

/** Why no database comes of this text. */
class Unusable extends Error {}

function asRefusal(error: unknown, file: string): unknown {
  const isText = error instanceof Unusable || error instanceof SyntaxError;
  const isSql =
    error instanceof SQLite.SqliteError && /SQLITE_(ERROR|CONSTRAINT|MISMATCH)/.test(error.code);
  if (!isText && !isSql) return error;
  return new Refusal(
    "operations.file.damaged",
    `No shop comes of ${file}: ${(error as Error).message}. Nothing was made. Take the export again, whole.`,
    { cause: error },
  );
}

async function carryOut(file: string, raw: string, migrations: string): Promise<void> {
  const sqlite = new SQLite(raw);
  try {
    // It is thrown away, so nothing of it need survive a power cut.
    sqlite.pragma("journal_mode = memory");
    sqlite.pragma("synchronous = off");
    let text = "";
    let isOpen = false;
    let hasTables = false;
    const carry = () => {
      if (!isOpen) begin(sqlite, hasTables, raw, migrations);
      isOpen = true;
      sqlite.exec(text);
      text = "";
    };
    for await (const statement of statementsOf(createReadStream(file, "utf8"))) {
      if (OURS_TO_SAY.test(statement)) continue;
      // The first table stands before the first row, so this is known by the time that anything is carried out.
      hasTables ||= BRINGS_TABLES.test(statement);
      text += statement.includes("\0") ? statement.replaceAll(TEXT_WITH_ZERO, inHex) : statement;
      if (text.length > GATHERED_CHARACTERS) carry();
    }
    carry();
    sqlite.exec("commit");
  } finally {
    sqlite.close();
  }
}

function inHex(literal: string): string {
  if (!literal.includes("\0")) return literal;
  const text = literal.slice(1, -1).replaceAll("''", "'");
  return `cast(x'${Buffer.from(text).toString("hex")}' as text)`;
}

/** A script that brings no tables is given those of this version. */
function begin(sqlite: SQLite.Database, hasTables: boolean, raw: string, migrations: string): void {
  if (!hasTables) migrateFile(sqlite, raw, migrations);
  sqlite.pragma("foreign_keys = off");
  sqlite.exec("begin");
}

function takeOver(raw: string, part: string, migrations: string): void {
  const sqlite = new SQLite(part);
  try {
    sqlite.pragma("journal_mode = delete");
    sqlite.pragma("foreign_keys = on");
    migrateFile(sqlite, ":memory:", migrations);
    sqlite.prepare("attach ? as raw").run(raw);
    if (!hasTable(sqlite, "shops")) throw new Unusable("it has no tables");
    sqlite
      .transaction(() => {
        sqlite.pragma("defer_foreign_keys = on");
        for (const table of rowsByTable(sqlite).keys()) takeTable(sqlite, table);
      })
      .immediate();
    sqlite.exec("detach raw");
    const { n } = sqlite.prepare<[], { n: number }>("select count(*) as n from shops").get()!;
    if (n === 0) throw new Unusable("there is no shop in it");
  } finally {
    sqlite.close();
  }
}

function takeTable(sqlite: SQLite.Database, table: string): void {
  const ours = new Set(columnsOf(sqlite, table));
  const theirs = columnsOf(sqlite, table, "raw");
  if (theirs.length !== ours.size || theirs.some((name) => !ours.has(name))) {
    throw new Unusable(
      `its table ${table} is of another version; run “wrangler d1 migrations apply softset” there first`,
    );
  }
  const names = theirs.map((name) => `"${name}"`).join(", ");
  sqlite.exec(
    `insert into "${table}" (${names}) select ${names} from raw."${table}" order by rowid`,
  );
}
