/**
 * What a table would do to the shelf: read row by row, before anything is written.
 */
import type { Fault } from "../typed/fault.ts";
import type { Column, TableRow } from "./table.ts";

export interface RowFault {
  readonly row: number;
  readonly column: string;
  readonly sentence: string;
}

/** One difference between the shelf and the table, for a person. */
export interface Difference {
  readonly column: string;
  readonly before: string;
  readonly after: string;
}

export interface PlannedChange<T> {
  readonly row: number;
  readonly title: string;
  readonly value: T;
  /** Empty for what is new. */
  readonly differences: readonly Difference[];
}

export interface Plan<T> {
  readonly fresh: readonly PlannedChange<T>[];
  readonly changed: readonly PlannedChange<T>[];
  readonly unchanged: number;
  readonly faults: readonly RowFault[];
  readonly badRows: number;
}

/** What became of one row. */
export type RowReading<T> =
  | { readonly faults: readonly Fault[] }
  | { readonly fresh: Omit<PlannedChange<T>, "row" | "differences"> }
  | { readonly changed: Omit<PlannedChange<T>, "row"> }
  | { readonly unchanged: true };

/** A row that cannot be taken for one reason. */
export function badRow(field: string, sentence: string): { readonly faults: readonly Fault[] } {
  return { faults: [{ field, sentence }] };
}

/** Read every row; a row with a fault is left out, and the others are not. */
export function planRows<T>(
  rows: readonly TableRow[],
  columns: readonly Column[],
  read: (row: TableRow) => RowReading<T>,
): Plan<T> {
  const heading = new Map(columns.map((column) => [column.key, column.heading]));
  const fresh: PlannedChange<T>[] = [];
  const changed: PlannedChange<T>[] = [];
  const faults: RowFault[] = [];
  let [unchanged, badRows] = [0, 0];
  for (const row of rows) {
    const reading = read(row);
    if ("faults" in reading) {
      badRows += 1;
      for (const { field, sentence } of reading.faults) {
        faults.push({ row: row.number, column: heading.get(field) ?? field, sentence });
      }
    } else if ("fresh" in reading) {
      fresh.push({ row: row.number, differences: [], ...reading.fresh });
    } else if ("changed" in reading) {
      changed.push({ row: row.number, ...reading.changed });
    } else unchanged += 1;
  }
  return { fresh, changed, unchanged, faults, badRows };
}

/** Which columns differ between two rows of text. */
export function differencesOf(
  before: Readonly<Record<string, string>>,
  after: Readonly<Record<string, string>>,
  columns: readonly Column[],
): Difference[] {
  return columns
    .filter(({ key }) => (before[key] ?? "") !== (after[key] ?? ""))
    .map(({ key, heading }) => ({
      column: heading,
      before: before[key] ?? "",
      after: after[key] ?? "",
    }));
}
