/**
 * Tables as spreadsheets keep them: comma, semicolon or tab between the cells, with or without a byte order mark.
 *
 * A spreadsheet takes a cell that begins like a formula for one, whoever typed it. Such a cell leaves here with an
 * apostrophe before it (OWASP, "CSV Injection"), and one apostrophe is taken off again on the way in.
 */
import Papa from "papaparse";

export const ROWS_MOST = 20_000;
export const TABLE_MOST_BYTES = 4 * 1024 * 1024;

export interface TableRow {
  /** As a spreadsheet numbers it; the headings are row 1. */
  readonly number: number;
  /** By column; a column the table lacks is empty text. */
  readonly cells: Readonly<Record<string, string>>;
}

/**
 * The cells of a row over those of what stands already: a column the table lacks stays as it is, an empty cell of a
 * column it has does not.
 */
export function cellsOver(
  standing: Readonly<Record<string, string>>,
  cells: Readonly<Record<string, string>>,
  present: ReadonlySet<string>,
): Readonly<Record<string, string>> {
  const kept = Object.entries(standing).filter(([key]) => !present.has(key));
  return { ...cells, ...Object.fromEntries(kept) };
}

/** Whether a cell says yes, as a form would. */
export function yesOf(cell: string): "yes" | "" {
  return /^(y|yes|x|1|true)$/i.test(cell.trim()) ? "yes" : "";
}

export interface Table {
  readonly rows: readonly TableRow[];
  /** Columns the table has. */
  readonly present: ReadonlySet<string>;
}

export type ReadTable =
  /** `strange`: headings that are none of ours. */
  (Table & { readonly strange: readonly string[] }) | { readonly fault: string };

/** A column: how the service calls it, how the table heads it. */
export interface Column {
  readonly key: string;
  readonly heading: string;
  readonly needed?: true;
}

const FORMULA = /^'*[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/;

/** The text of a table, rows ending as in RFC 4180, with a byte order mark so that every spreadsheet reads UTF-8. */
export function writeTable(
  columns: readonly Column[],
  rows: readonly Readonly<Record<string, string>>[],
): string {
  const escape = (cell: string) => (FORMULA.test(cell) ? `'${cell}` : cell);
  const data = rows.map((row) => columns.map(({ key }) => escape(row[key] ?? "")));
  const fields = columns.map(({ heading }) => heading);
  return `\uFEFF${Papa.unparse({ fields, data }, { newline: "\r\n" })}\r\n`;
}

/**
 * The characters of an uploaded file.
 * @returns nothing when they are neither UTF-8 nor UTF-16 with its mark
 */
export function decodeTable(bytes: Uint8Array): string | undefined {
  const wide = bytes[0] === 0xff && bytes[1] === 0xfe;
  try {
    const text = new TextDecoder(wide ? "utf-16le" : "utf-8", { fatal: true }).decode(bytes);
    return text.includes("\0") ? undefined : text;
  } catch {
    return undefined;
  }
}

/** Read a table whose headings may stand in any order. */
export function readTable(text: string, columns: readonly Column[]): ReadTable {
  const plain = text.replace(/^\uFEFF/, "").replaceAll(/\r\n?/g, "\n");
  if (plain.trim() === "") return { fault: "The file is empty." };
  const { delimiter, headings } = chooseDelimiter(plain, columns);
  const missing = columns.filter(({ key, needed }) => needed && !headings.includes(key));
  if (missing.length > 0) {
    const names = missing.map(({ heading }) => `“${heading}”`).join(" and ");
    return {
      fault: `The first row has no column ${names}. Begin from the template: its first row names the columns.`,
    };
  }
  const twice = headings.find((key, at) => key && headings.indexOf(key) !== at);
  if (twice) return { fault: `Two columns are headed “${twice}”. Keep one of them.` };
  const { data, errors } = Papa.parse<string[]>(plain, { delimiter, newline: "\n" });
  const broken = errors.find(({ type }) => type === "Quotes");
  if (broken) {
    const at = (broken.row ?? 0) + 1;
    return { fault: `A quotation mark is never closed, in row ${at} or after it. Mend it there.` };
  }
  if (data.length - 1 > ROWS_MOST) {
    return { fault: `The file has ${data.length - 1} rows; ${ROWS_MOST} at a time can be read.` };
  }
  const rows = data.slice(1).flatMap((cells, at): TableRow[] => {
    if (cells.every((cell) => cell.trim() === "")) return [];
    const named: Record<string, string> = Object.fromEntries(columns.map(({ key }) => [key, ""]));
    for (const [i, key] of headings.entries()) if (key) named[key] = unescape(cells[i] ?? "");
    return [{ number: at + 2, cells: named }];
  });
  const strange = data[0]!.filter((heading, at) => heading.trim() !== "" && !headings[at]);
  return { rows, present: new Set(headings.filter(Boolean)), strange };
}

/** The apostrophe that `writeTable` puts before a formula. */
function unescape(cell: string): string {
  return cell.startsWith("'") && FORMULA.test(cell) ? cell.slice(1) : cell;
}

/** The delimiter under which most headings are known. */
function chooseDelimiter(text: string, columns: readonly Column[]) {
  const readings = [",", ";", "\t"].map((delimiter) => {
    const first = Papa.parse<string[]>(text, { delimiter, newline: "\n", preview: 1 }).data[0];
    const headings = (first ?? []).map((heading) => keyOf(unescape(heading), columns));
    return { delimiter, headings, known: headings.filter(Boolean).length };
  });
  return readings.reduce((best, each) => (each.known > best.known ? each : best));
}

function keyOf(heading: string, columns: readonly Column[]): string {
  const plain = (text: string) => text.toLowerCase().replaceAll(/[^\p{L}\p{N}%]+/gu, "");
  const found = columns.find((column) => plain(column.heading) === plain(heading));
  return found?.key ?? "";
}
