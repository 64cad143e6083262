/**
 * Many rows in one statement: they travel as one JSON text, because D1 binds at most a hundred values a statement.
 */
import { type SQL, getTableColumns, sql } from "drizzle-orm";
import type { SQLiteTable } from "drizzle-orm/sqlite-core";

/** D1 takes 2 MB in a value; a character is four bytes at most. */
const CHARACTERS_MOST = 450_000;
const ROWS_MOST = 500;

/** Rows in pieces that fit one bound value each. */
export function chunksOf<T>(rows: readonly T[]): { readonly rows: readonly T[]; json: string }[] {
  const chunks: { rows: T[]; json: string }[] = [];
  let [rowsHere, texts, length]: [T[], string[], number] = [[], [], 0];
  const close = () => {
    if (rowsHere.length > 0) chunks.push({ rows: rowsHere, json: `[${texts.join(",")}]` });
    [rowsHere, texts, length] = [[], [], 0];
  };
  for (const row of rows) {
    const text = JSON.stringify(row);
    if (rowsHere.length === ROWS_MOST || length + text.length > CHARACTERS_MOST) close();
    rowsHere.push(row);
    texts.push(text);
    length += text.length;
  }
  close();
  return chunks;
}

/** The rows of a JSON text as a table named `given`. */
export const givenRows = (json: string): SQL => sql`json_each(${json}) as given`;

/** A column of `givenRows`, by the name the row has it under. */
export const given = (key: string): SQL => sql.raw(`given.value ->> '$.${key}'`);

/** What an insert of every column of a table selects from `givenRows`; a key the rows lack is null. */
export function selectGiven(table: SQLiteTable, json: string): SQL {
  const columns = Object.keys(getTableColumns(table)).map(given);
  return sql`select ${sql.join(columns, sql`, `)} from ${givenRows(json)} where true`;
}
