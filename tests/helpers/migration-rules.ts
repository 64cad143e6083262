/**
 * What a migration may not do. Each runs inside a transaction, on a machine and at the edge alike, and there SQLite
 * does not listen to `PRAGMA foreign_keys`: the rebuild of a table that the migration generator writes then deletes
 * the rows of every table that cascades from it, and nobody is told.
 */

export interface Migration {
  readonly name: string;
  readonly sql: string;
}

/** Which tables point at a table, by its name. */
type Pointing = Map<string, Set<string>>;

const BREAK = "--> statement-breakpoint";
const NAME = '[`"]?(\\w+)[`"]?';
const DROPPED = new RegExp(`^drop table (?:if exists )?${NAME}`, "i");
const MADE = new RegExp(`^create table (?:if not exists )?${NAME}`, "i");
const CHANGED = new RegExp(`^alter table ${NAME}`, "i");
const RENAMED = new RegExp(`^alter table ${NAME} rename to ${NAME}`, "i");
const POINTS = new RegExp(`references ${NAME}`, "gi");

/** What is wrong with migrations, read in the order in which they are run. */
export function migrationComplaints(migrations: readonly Migration[]): string[] {
  const pointing: Pointing = new Map();
  return migrations.flatMap(({ name, sql }) =>
    sql
      .split(BREAK)
      .map((statement) => statement.replaceAll(/\s+/g, " ").trim())
      .flatMap((statement) =>
        complaintsOf(statement, pointing).map((complaint) => `${name} ${complaint}`),
      ),
  );
}

function complaintsOf(statement: string, pointing: Pointing): string[] {
  const complaints: string[] = [];
  if (/\bpragma (defer_)?foreign_keys\b/i.test(statement)) {
    complaints.push("sets foreign keys aside, which does nothing inside a transaction");
  }
  if (/\bon delete (cascade|set null|set default)\b/i.test(statement)) {
    complaints.push("lets rows be deleted or emptied along with others");
  }
  const dropped = DROPPED.exec(statement)?.[1];
  if (dropped !== undefined) {
    const children = [...(pointing.get(dropped) ?? [])].filter((table) => table !== dropped);
    if (children.length > 0) {
      complaints.push(`drops ${dropped} while ${children.join(" and ")} still points at it`);
    }
    for (const tables of pointing.values()) tables.delete(dropped);
  }
  follow(statement, pointing);
  return complaints;
}

/** Keep account of which table points at which. */
function follow(statement: string, pointing: Pointing): void {
  const [, before, after] = RENAMED.exec(statement) ?? [];
  if (before !== undefined && after !== undefined) {
    for (const tables of pointing.values()) if (tables.delete(before)) tables.add(after);
    return;
  }
  const from = (MADE.exec(statement) ?? CHANGED.exec(statement))?.[1];
  if (from === undefined) return;
  for (const [, to] of statement.matchAll(POINTS)) {
    pointing.set(to!, (pointing.get(to!) ?? new Set()).add(from));
  }
}
