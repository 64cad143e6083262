/**
 * The query side of the storage port over a connection that only looks.
 */
import * as schema from "#data/schema.ts";
import type SQLite from "better-sqlite3";
import { drizzle } from "drizzle-orm/better-sqlite3";
import type { Database, Query } from "../storage/database.ts";

/** A database on which every write is a mistake of ours. */
export function openReader(sqlite: SQLite.Database): Database {
  const q = drizzle({ client: sqlite, schema, casing: "snake_case" }) as unknown as Query;
  const never = () => Promise.reject(new Error("this database is only looked at"));
  return { q, atomic: never, write: never };
}
