/**
 * What a D1 binding does, over SQLite in this process: for tests of what lies around the database. What D1 does
 * otherwise than SQLite is tried in workerd (`d1.test.ts`).
 */
import SQLite from "better-sqlite3";
import type { D1Binding } from "#service/storage/d1-database.ts";
import { migrateFile } from "#service/storage/migrate-file.ts";
import { MIGRATIONS } from "../helpers/shop.ts";

interface Statement {
  bind(...values: unknown[]): Statement;
  all(): Promise<{ results: unknown[] }>;
  run(): Promise<{ results: unknown[] }>;
  raw(): Promise<unknown[]>;
  now(): { results: unknown[] };
}

/** An empty database with the tables of this version. */
export function memoryD1(): { readonly binding: D1Binding; readonly close: () => void } {
  const sqlite = new SQLite(":memory:");
  sqlite.pragma("foreign_keys = ON");
  migrateFile(sqlite, ":memory:", MIGRATIONS);
  const statement = (text: string, values: readonly unknown[] = []): Statement => {
    const now = () => {
      const prepared = sqlite.prepare(text);
      if (prepared.reader) return { results: prepared.all(...values) };
      prepared.run(...values);
      return { results: [] };
    };
    return {
      bind: (...bound) => statement(text, bound),
      ...{ all: async () => now(), run: async () => now(), now },
      raw: async () =>
        sqlite
          .prepare(text)
          .raw()
          .all(...values),
    };
  };
  const batch = async (list: readonly Statement[]) =>
    sqlite.transaction(() => list.map((each) => each.now()))();
  const binding = { prepare: (text: string) => statement(text), batch };
  return { binding: binding as unknown as D1Binding, close: () => sqlite.close() };
}
