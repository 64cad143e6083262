/**
 * The database at the edge: Cloudflare D1, which is SQLite behind a binding, without interactive transactions.
 */
import * as schema from "#data/schema.ts";
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
