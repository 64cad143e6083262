/**
 * A whole database as SQL text that D1 takes in: for `wrangler d1 execute --file`, after its migrations have run.
 *
 * The engine writes each value down itself (`quote`), so that numbers and text come back to the bit. A statement stays
 * under D1's limit; a row that is too long for one goes ahead in pieces, through a table that is dropped at the end.
 * The file refuses to run on a database with a shop in it, and says at its end how many rows there must be.
 */
import type SQLite from "better-sqlite3";
import { columnsOf, rowsByTable } from "../storage/sqlite-tables.ts";

/** D1 takes 100 000 bytes in a statement; the head of one and a few commas come on top. */
const STATEMENT_BYTES_MOST = 90_000;
/** Three bytes in UTF-8 at most, and a quotation mark is doubled. */
const PIECE_CHARACTERS = 25_000;
/** D1 takes so much in a row; larger ones cannot live there [bytes] */
const D1_ROW_BYTES_MOST = 2_000_000;

export interface RowsOut {
  readonly rows: Readonly<Record<string, number>>;
  /** Rows that are longer than D1 takes, by table. */
  readonly tooLong: Readonly<Record<string, number>>;
}

/**
 * Write all rows down as of one moment.
 * @param schema name of the newest migration, which the other side must have had
 * @param write takes the file piece by piece
 */
export function writeRows(
  sqlite: SQLite.Database,
  schema: string,
  write: (text: string) => void,
): RowsOut {
  sqlite.exec("begin");
  try {
    const counts = rowsByTable(sqlite);
    counts.delete("musts"); // never holds a row outside a list
    const rows = Object.fromEntries(counts);
    write(`-- softset export ${JSON.stringify({ schema, rows })}\n`);
    // An attempt that broke off may have left it.
    write("drop table if exists softset_pieces;\n");
    write("create table softset_pieces (row integer, place integer, piece text) strict;\n");
    for (const guard of must("not exists (select 1 from shops)")) write(guard);
    const tooLong: Record<string, number> = {};
    const pieces = { row: 0 };
    for (const table of parentsFirst(sqlite, [...counts.keys()])) {
      const long = writeTable(sqlite, table, pieces, write);
      if (long > 0) tooLong[table] = long;
    }
    write("drop table softset_pieces;\n");
    for (const [table, n] of counts) {
      for (const guard of must(`(select count(*) from "${table}") = ${n}`)) write(guard);
    }
    return { rows, tooLong };
  } finally {
    sqlite.exec("rollback");
  }
}

/** Fails the file, as the service's own lists fail, unless a condition holds. */
function must(condition: string): string[] {
  return [`insert into musts (ok) select ${condition};\n`, "delete from musts;\n"];
}

function parentsFirst(sqlite: SQLite.Database, tables: readonly string[]): string[] {
  const done = new Set<string>();
  const visit = (table: string) => {
    if (done.has(table)) return;
    done.add(table);
    const parents = sqlite.pragma(`foreign_key_list("${table}")`) as { table: string }[];
    for (const parent of parents) visit(parent.table);
    ordered.push(table);
  };
  const ordered: string[] = [];
  for (const table of tables) visit(table);
  return ordered;
}

/** @returns how many of its rows are longer than D1 takes */
function writeTable(
  sqlite: SQLite.Database,
  table: string,
  pieces: { row: number },
  write: (text: string) => void,
): number {
  const columns = columnsOf(sqlite, table);
  const names = columns.map((name) => `"${name}"`).join(", ");
  const head = `insert into "${table}" (${names}) values`;
  let tooLong = 0;
  let gathered: string[] = [];
  let bytes = 0;
  const close = () => {
    if (gathered.length > 0) write(`${head}\n${gathered.join(",\n")};\n`);
    [gathered, bytes] = [[], 0];
  };
  const select = `select ${columns.map(literalOf).join(", ")} from "${table}" order by rowid`;
  for (const values of sqlite.prepare<[], string[]>(select).raw().iterate()) {
    const row = `(${values.join(", ")})`;
    const length = Buffer.byteLength(row);
    if (length > D1_ROW_BYTES_MOST) tooLong += 1;
    if (length > STATEMENT_BYTES_MOST) {
      close();
      pieces.row += 1;
      write(`${head}\n${inPieces(values, pieces.row, write)};\ndelete from softset_pieces;\n`);
      continue;
    }
    if (bytes + length > STATEMENT_BYTES_MOST) close();
    gathered.push(row);
    bytes += length;
  }
  close();
  return tooLong;
}

/** `quote` ends a text at a zero byte. */
function literalOf(column: string): string {
  const hasZero = `typeof("${column}") = 'text' and instr("${column}", char(0)) > 0`;
  return `case when ${hasZero} then 'cast(x''' || hex("${column}") || ''' as text)' else quote("${column}") end`;
}

/** Sends the long values of a row ahead. @returns the row, with a question for each of them in its place */
function inPieces(values: readonly string[], row: number, write: (text: string) => void): string {
  let place = 0;
  const short = values.map((value) => {
    if (value.length <= PIECE_CHARACTERS / 10 || !value.startsWith("'")) return value;
    const first = place;
    for (const piece of piecesOf(value.slice(1, -1).replaceAll("''", "'"))) {
      const text = piece.replaceAll("'", "''");
      write(`insert into softset_pieces values (${row}, ${place}, '${text}');\n`);
      place += 1;
    }
    const which = `row = ${row} and place between ${first} and ${place - 1}`;
    return `(select group_concat(piece, '' order by place) from softset_pieces where ${which})`;
  });
  return `(${short.join(", ")})`;
}

/** Never between the two halves of a character outside the basic plane. */
function* piecesOf(text: string): Generator<string> {
  for (let from = 0; from < text.length;) {
    let to = Math.min(from + PIECE_CHARACTERS, text.length);
    if (to < text.length && /[\ud800-\udbff]/.test(text[to - 1]!)) to -= 1;
    yield text.slice(from, to);
    from = to;
  }
}
