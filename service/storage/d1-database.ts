/**
 * The database at the edge: Cloudflare D1, which is SQLite behind a binding, without interactive transactions.
 */
import * as schema from "#data/schema.ts";
import journal from "#data/migrations/meta/_journal.json" with { type: "json" };
import { sql } from "drizzle-orm";
import type { BatchItem } from "drizzle-orm/batch";
import { drizzle } from "drizzle-orm/d1";
import { type Database, type Query, asStorageError } from "./database.ts";

export type D1Binding = Parameters<typeof drizzle>[0];

/**
 * The storage port over a D1 binding. Tables are brought up to date from outside, by `wrangler d1 migrations apply`.
 * @param binding `env.DB` of the Worker
 */
export function openD1Database(binding: D1Binding): Database {
  const q = drizzle(binding, { schema, casing: "snake_case" });
  const atomic: Database["atomic"] = async (statements) => {
    const [first, ...rest] = statements as readonly BatchItem<"sqlite">[];
    if (!first) return; // D1 calls an empty batch an error
    try {
      await q.batch([first, ...rest]);
    } catch (error) {
      throw asStorageError(error);
    }
  };
  return { q: q as unknown as Query, atomic, write: (statement) => atomic([statement]) };
}

/**
 * Migrations this build was made with that the database has not had.
 * @returns file names, oldest first
 */
export async function missingMigrations({ q }: Database): Promise<string[]> {
  const wanted = journal.entries.map(({ tag }) => `${tag}.sql`);
  // The table is wrangler's own and is not there before the first migration.
  const [table] = await q.all<{ name: string }>(
    sql`select name from sqlite_master where type = 'table' and name = 'd1_migrations'`,
  );
  if (!table) return wanted;
  const had = await q.all<{ name: string }>(sql`select name from d1_migrations`);
  const names = new Set(had.map(({ name }) => name));
  return wanted.filter((name) => !names.has(name));
}
