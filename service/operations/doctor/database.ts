/**
 * The database file: is it whole, are its tables those of this version, is there room, is there a copy.
 */
import SQLite from "better-sqlite3";
import { existsSync, statSync, statfsSync } from "node:fs";
import { dirname } from "node:path";
import { migrationsHad } from "../../storage/migrations-had.ts";
import { lastBackup } from "../backup.ts";
import { inspect } from "../inspect.ts";
import { copiesOf } from "../older-copies.ts";
import { openReader } from "../reader.ts";
import { countWords } from "../../words/count-words.ts";
import { type Word, look, mend, well } from "./word.ts";
import { aboutWork } from "./work.ts";

const MIB = 1024 * 1024;
/** Own choices: room for a copy before a migration and a day's writes; a log that nobody folds in. */
const FREE_LEAST_BYTES = 200 * MIB;
const LOG_MOST_BYTES = 64 * MIB;
const BACKUP_OLD_S = 2 * 24 * 3600;
const HOUR_S = 3600;

/** @param now [s since 1970] */
export async function aboutDatabase(file: string, now: number): Promise<Word[]> {
  if (!existsSync(dirname(file)) || !existsSync(file)) {
    return [look("database", `There is no database at ${file}; the first start makes it.`)];
  }
  const outside = [aboutRoom(file), aboutLog(file), aboutBackup(file, now)];
  let sqlite: SQLite.Database | undefined;
  try {
    sqlite = new SQLite(file, { readonly: true });
    const { faults, rows } = await inspect(sqlite);
    if (faults.length > 0) return [...damaged(file, faults), ...outside];
    const whole = `${file} is whole: ${countWords(rows["orders"] ?? 0, "order")}.`;
    const tables = await aboutTables(sqlite);
    // Of other tables nothing can be asked.
    const work = tables.state === "well" ? await aboutWork(openReader(sqlite), now) : [];
    return [well("database", whole), tables, ...outside, ...work];
  } catch (error) {
    if (!(error instanceof SQLite.SqliteError)) throw error;
    if (/SQLITE_(CORRUPT|NOTADB)/.test(error.code)) {
      return [...damaged(file, [`${file} is damaged: ${error.message}.`]), ...outside];
    }
    const advice = "see that its folder can be read and written by whoever runs the service.";
    return [mend("database", `${file} cannot be read (${error.message}): ${advice}`), ...outside];
  } finally {
    sqlite?.close();
  }
}

function damaged(file: string, faults: readonly string[]): Word[] {
  const latest = copiesOf(file).at(-1);
  const copy = latest ? ` A copy from before the last migration is at ${latest}.` : "";
  const advice =
    "Stop the service, move the file away with what is beside it under its name, and put back your newest backup: " +
    `softset restore FILE.${copy}`;
  return [...faults.map((fault) => mend("database", fault)), mend("database.restore", advice)];
}

async function aboutTables(sqlite: SQLite.Database): Promise<Word> {
  const about = "database.tables";
  const { missing, isNewer } = await migrationsHad(openReader(sqlite));
  if (isNewer) {
    return mend(
      about,
      "The tables are of a newer version: start that one, or restore a copy from before.",
    );
  }
  if (missing.length > 0) {
    return look(
      about,
      `The next start brings the tables up to date (${missing.join(", ")}) and keeps a copy.`,
    );
  }
  return well(about, "The tables are those of this version.");
}

function aboutRoom(file: string): Word {
  const { bavail, bsize } = statfsSync(dirname(file));
  const free = bavail * bsize;
  const needed = Math.max(FREE_LEAST_BYTES, 2 * statSync(file).size);
  const said = `${mib(free)} are free on its disk`;
  return free >= needed
    ? well("database.free", `${said}.`)
    : mend(
        "database.free",
        `${said}, and a migration or a backup may need ${mib(needed)}: make room.`,
      );
}

function aboutLog(file: string): Word {
  const log = `${file}-wal`;
  const bytes = existsSync(log) ? statSync(log).size : 0;
  return bytes <= LOG_MOST_BYTES
    ? well("database.log", `Its write-ahead log has ${mib(bytes)}.`)
    : look(
        "database.log",
        `Its write-ahead log has grown to ${mib(bytes)}: something reads the database without an end. Starting the ` +
          "service again folds it in.",
      );
}

function aboutBackup(file: string, now: number): Word {
  const about = "database.backup";
  const last = lastBackup(file);
  const advice = "make one: softset backup FILE, on another disk.";
  if (!last)
    return look(
      about,
      `No backup was made with softset backup: unless something else does it, ${advice}`,
    );
  const hours = Math.floor((now - last.at) / HOUR_S);
  const said = `The last backup was made ${countWords(hours, "hour")} ago, to ${last.file}`;
  return now - last.at <= BACKUP_OLD_S
    ? well(about, `${said}.`)
    : look(about, `${said}: ${advice}`);
}

const mib = (bytes: number) => `${Math.round(bytes / MIB)} MiB`;
