/**
 * What would be written, as SQL text: for a database that is reached by file only, as D1 is by `wrangler d1 execute`.
 */
import * as schema from "#data/schema.ts";
import { drizzle } from "drizzle-orm/sqlite-proxy";
import type { Database, Query } from "./database.ts";

interface Written {
  toSQL(): { readonly sql: string; readonly params: readonly unknown[] };
}

/**
 * Run work on a database that seems empty and write its atomic lists down instead of carrying them out.
 * @returns one statement a line
 */
export async function writeSql(work: (db: Database) => Promise<unknown>): Promise<string> {
  const lines: string[] = [];
  const none = async () => ({ rows: [] });
  // Given two arguments, drizzle 0.45 loses the casing.
  const q = drizzle(none, async () => [], { schema, casing: "snake_case" });
  const atomic: Database["atomic"] = async (statements) => {
    lines.push(...statements.map((statement) => inline(statement as unknown as Written)));
  };
  await work({ q: q as unknown as Query, atomic, write: (statement) => atomic([statement]) });
  return lines.map((line) => `${line};\n`).join("");
}

/** A statement with its values in it. Drizzle puts every value in as a "?", so no other "?" is in the text. */
function inline(statement: Written): string {
  const { sql, params } = statement.toSQL();
  const [head = "", ...rest] = sql.split("?");
  if (rest.length !== params.length) throw new Error(`cannot write this statement out: ${sql}`);
  return head + rest.map((text, at) => literal(params[at]) + text).join("");
}

/** SQLite has no escapes in text but the doubled quote; a line end in it would be no harm, a zero byte would. */
function literal(value: unknown): string {
  if (value === null) return "null";
  if (Number.isSafeInteger(value)) return String(value);
  if (typeof value === "string" && !value.includes("\0")) return `'${value.replaceAll("'", "''")}'`;
  throw new Error(`cannot write this value out: ${String(value)}`);
}
