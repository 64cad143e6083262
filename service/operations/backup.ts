/**
 * Copies of a database out of a running shop and back into place. A copy is looked through before it gets its name.
 */
import SQLite from "better-sqlite3";
import {
  chmodSync,
  copyFileSync,
  existsSync,
  readFileSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { Refusal } from "../problem.ts";
import { type Inspection, inspectFile } from "./inspect.ts";
import { clearPart, partOf, putInPlace, refuseMissing, refuseTaken } from "./place-file.ts";

export interface Copied extends Inspection {
  readonly file: string;
  readonly bytes: number;
}

/** All pages in one go: in pieces it would begin again whenever the service writes. */
const ALL_PAGES = 0x7fff_ffff;

/**
 * Copy the database of a shop, which may be running, to a new file.
 * @throws Refusal operations.file.taken, .unreadable, or .damaged when the copy is not whole; then there is none
 */
export async function backUp(database: string, target: string, at: number): Promise<Copied> {
  refuseMissing(database);
  refuseTaken(target);
  clearPart(target);
  const part = partOf(target);
  const sqlite = new SQLite(database, { readonly: true });
  try {
    await sqlite.backup(part, { progress: () => ALL_PAGES });
  } finally {
    sqlite.close();
  }
  asOneFile(part);
  const found = await wholeOrNothing(target);
  putInPlace(target);
  noteBackup(database, { at, file: target });
  return { file: target, bytes: statSync(target).size, ...found };
}

/**
 * Put a copy where a database is wanted.
 * @throws Refusal operations.file.taken, .unreadable, or .damaged; then nothing is there that was not before
 */
export async function restore(copy: string, database: string): Promise<Copied> {
  refuseMissing(copy);
  refuseTaken(database);
  // A log left over by another database would be played into this one.
  for (const ending of ["-wal", "-journal"]) refuseTaken(`${database}${ending}`);
  clearPart(database);
  const part = partOf(database);
  copyFileSync(copy, part);
  // A copy that was made by copying files may bring the end of its writes beside it.
  if (existsSync(`${copy}-wal`)) copyFileSync(`${copy}-wal`, `${part}-wal`);
  asOneFile(part);
  const found = await wholeOrNothing(database);
  putInPlace(database);
  return { file: database, bytes: statSync(database).size, ...found };
}

export interface LastBackup {
  /** [s since 1970] */
  readonly at: number;
  readonly file: string;
}

const noteOf = (database: string) => `${database}.last-backup.json`;

/** When and where to the last backup went, as it was noted beside the database. */
export function lastBackup(database: string): LastBackup | undefined {
  if (!existsSync(noteOf(database))) return undefined;
  return JSON.parse(readFileSync(noteOf(database), "utf8")) as LastBackup;
}

function noteBackup(database: string, note: LastBackup): void {
  writeFileSync(noteOf(database), `${JSON.stringify(note)}\n`);
}

/** Without a write-ahead log beside it, so that the copy is one file and no reader needs to write. */
function asOneFile(part: string): void {
  chmodSync(part, 0o600); // it holds names and addresses
  try {
    const sqlite = new SQLite(part);
    try {
      sqlite.pragma("journal_mode = delete");
    } finally {
      sqlite.close();
    }
  } catch (error) {
    if (!(error instanceof SQLite.SqliteError)) throw error;
    // No database, or a damaged one: who looks through it next says so.
  }
}

async function wholeOrNothing(target: string): Promise<Inspection> {
  const found = await inspectFile(partOf(target));
  if (found.faults.length === 0) return found;
  clearPart(target);
  throw new Refusal(
    "operations.file.damaged",
    `The copy is not whole, so none was made. ${found.faults.join(" ")} What you have is as it was; try an older copy, ` +
      "or look at the disk.",
  );
}
