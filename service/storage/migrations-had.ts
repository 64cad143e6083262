/**
 * Whether the tables are those this build was made with, by the notes of whoever migrates: wrangler at the edge, the
 * service itself on a machine of its own.
 */
import journal from "#data/migrations/meta/_journal.json" with { type: "json" };
import { sql } from "drizzle-orm";
import { missingMigrations } from "./d1-database.ts";
import type { Database } from "./database.ts";

export interface MigrationsHad {
  /** Names of those that are due. */
  readonly missing: readonly string[];
  /** The database has had one that this build does not know: a newer version has been here. */
  readonly isNewer: boolean;
}

export async function migrationsHad(db: Database): Promise<MigrationsHad> {
  const [own] = await db.q.all<{ name: string }>(
    sql`select name from sqlite_master where type = 'table' and name = '__drizzle_migrations'`,
  );
  if (own) {
    const notes = await db.q.all<{ at: number }>(
      sql`select created_at as at from __drizzle_migrations`,
    );
    const had = new Set(notes.map(({ at }) => Number(at)));
    const missing = journal.entries.filter(({ when }) => !had.has(when)).map(({ tag }) => tag);
    return { missing, isNewer: had.size + missing.length > journal.entries.length };
  }
  const missing = await missingMigrations(db);
  const [count] = await db.q.all<{ n: number }>(
    sql`select count(*) as n from sqlite_master where type = 'table' and name = 'd1_migrations'`,
  );
  if (count?.n !== 1) return { missing, isNewer: false };
  const [notes] = await db.q.all<{ n: number }>(sql`select count(*) as n from d1_migrations`);
  return { missing, isNewer: notes!.n + missing.length > journal.entries.length };
}
