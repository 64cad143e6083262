/**
 * `softset backup FILE`, `softset backup --check FILE` and `softset restore FILE`: copies of a database.
 */
import { systemClock } from "../numbers.ts";
import { type Copied, backUp, restore } from "../operations/backup.ts";
import { inspectFile } from "../operations/inspect.ts";
import { readDatabaseCommand } from "./database-option.ts";
import { jsonText } from "./json-text.ts";
import type { Told } from "./run.ts";

const BACKUP =
  "softset backup FILE [--database FILE or --shop HOST], or softset backup --check FILE";
const RESTORE = "softset restore FILE [--database FILE or --shop HOST]";

/**
 * Copy the database to a new file, beside a running service or without one; or look through a copy.
 * @returns as JSON text what is in it; status 1 when a copy that was looked through is not whole
 * @throws Refusal when the file is taken or cannot be read
 */
export async function backupCommand(rest: readonly string[]): Promise<Told> {
  const check = { check: { type: "boolean" } } as const;
  const { file, database, values } = readDatabaseCommand(rest, BACKUP, 1, check);
  if (values["check"]) {
    const found = await inspectFile(file);
    const isWhole = found.faults.length === 0;
    const sentence = isWhole ? "Whole." : "Not whole: do not rely on this file.";
    return { status: isWhole ? 0 : 1, stdout: jsonText({ sentence, file, ...found }) };
  }
  const copied = await backUp(database, file, systemClock.seconds());
  const sentence = `The database ${database} was copied and the copy looked through: ${counted(copied)}. The keys are not in it; keep a copy of those too, elsewhere.`;
  return { status: 0, stdout: jsonText({ sentence, ...copied }) };
}

/**
 * Put a copy where the database is wanted; never over one that is there.
 * @throws Refusal when there is a database already, or the copy is not whole
 */
export async function restoreCommand(rest: readonly string[]): Promise<Told> {
  const { file, database } = readDatabaseCommand(rest, RESTORE, 1);
  const copied = await restore(file, database);
  const sentence = `${file} now stands at ${database}, looked through: ${counted(copied)}. Start the service with the keys it had.`;
  return { status: 0, stdout: jsonText({ sentence, ...copied }) };
}

function counted({ rows, batchRecords }: Copied): string {
  const total = Object.values(rows).reduce((sum, each) => sum + each, 0);
  return `${rows["orders"] ?? 0} orders, ${batchRecords.records} batch records, ${total} rows in all`;
}
