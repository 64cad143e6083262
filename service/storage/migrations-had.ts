/**
 * Whether the tables are those this build was made with, by the notes of whoever migrates: wrangler at the edge, the
 * service itself on a machine of its own.
 */
import journal from "#data/migrations/meta/_journal.json" with { type: "json" };
import { sql } from "drizzle-orm";
import type { Database, Query } from "./database.ts";

export interface MigrationsHad {
  /** Names of those that are due, oldest first, as 0004_money_and_messages. */
  readonly missing: readonly string[];
  /** The database has had one that this build does not know: a newer version has been here. */
  readonly isNewer: boolean;
}

/** Of the two who migrate only one has ever been at a database. */
export async function migrationsHad({ q }: Database): Promise<MigrationsHad> {
  const had = new Set(await namesHad(q));
  const known = journal.entries.map(({ tag }) => tag);
  const missing = known.filter((name) => !had.has(name));
  return { missing, isNewer: had.size + missing.length > known.length };
}

async function namesHad(q: Query): Promise<string[]> {
  // Neither table is there before the first migration.
  const tables = await q.all<{ name: string }>(
    sql`select name from sqlite_master where type = 'table'
      and name in ('__drizzle_migrations', 'd1_migrations')`,
  );
  const has = (table: string) => tables.some(({ name }) => name === table);
  if (has("__drizzle_migrations")) {
    const notes = await q.all<{ at: number }>(
      sql`select created_at as at from __drizzle_migrations`,
    );
    const nameOf = new Map(journal.entries.map(({ when, tag }) => [when, tag]));
    return notes.map(({ at }) => nameOf.get(Number(at)) ?? String(at));
  }
  if (!has("d1_migrations")) return [];
  const notes = await q.all<{ name: string }>(sql`select name from d1_migrations`);
  return notes.map(({ name }) => name.replace(/\.sql$/, ""));
}
