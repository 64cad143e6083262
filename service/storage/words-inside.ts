/**
 * Words looked for inside a text, capitals or not.
 */
import { type SQL, sql } from "drizzle-orm";
import type { SQLiteColumn } from "drizzle-orm/sqlite-core";

/** By `instr`, because D1 takes patterns of 50 bytes at most. SQLite's `lower` knows the letters a to z. */
export function holdsWords(column: SQLiteColumn, words: string): SQL {
  const lower = words.replaceAll(/[A-Z]/g, (letter) => letter.toLowerCase());
  return sql`instr(lower(${column}), ${lower}) > 0`;
}
