/**
 * What tables a file of SQLite has, with what columns and how many rows.
 */
import type SQLite from "better-sqlite3";

/** Whether there is a table of that name. */
export function hasTable(sqlite: SQLite.Database, name: string): boolean {
  const found = sqlite
    .prepare<[string], { n: number }>(
      "select count(*) as n from sqlite_master where type = 'table' and name = ?",
    )
    .get(name);
  return found!.n > 0;
}

/**
 * Names of a table's columns, in their order; none when there is no such table.
 * @param within what the file is called in this connection, when it was attached
 */
export function columnsOf(sqlite: SQLite.Database, table: string, within = "main"): string[] {
  const columns = sqlite.pragma(`${within}.table_info("${table}")`) as { name: string }[];
  return columns.map(({ name }) => name);
}

/** Rows of every table of the shop. What begins with an underscore belongs to the tools around it. */
export function rowsByTable(sqlite: SQLite.Database): Map<string, number> {
  const tables = sqlite
    .prepare<[], { name: string }>(
      "select name from sqlite_master where type = 'table' and substr(name, 1, 1) <> '_' " +
        "and substr(name, 1, 7) <> 'sqlite_' and name <> 'd1_migrations' order by name",
    )
    .all();
  return new Map(
    tables.map(({ name }) => {
      const count = sqlite.prepare<[], { n: number }>(`select count(*) as n from "${name}"`).get();
      return [name, count!.n];
    }),
  );
}
