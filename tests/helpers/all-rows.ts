/**
 * All that a database holds, for whoever must not have changed any of it.
 */
import { sql } from "drizzle-orm";
import type { Database } from "#service/storage/database.ts";

export interface AnyRow {
  readonly shop_id?: string;
  readonly id?: string;
}

/** Every row, table by table in the order of their names. @param but tables that are left out */
export async function allRows(
  { q }: Pick<Database, "q">,
  but: readonly string[],
): Promise<{ readonly table: string; readonly rows: readonly AnyRow[] }[]> {
  const tables = await q.all<{ name: string }>(
    sql`select name from sqlite_master where type = 'table' order by name`,
  );
  const all = [];
  for (const { name: table } of tables.filter(({ name }) => !but.includes(name))) {
    all.push({ table, rows: await q.all<AnyRow>(sql`select * from ${sql.identifier(table)}`) });
  }
  return all;
}
