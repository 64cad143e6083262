/**
 * Small linear programs: least cost of values between 0 and a greatest, under some rows of limits.
 *
 * Method: the simplex method on a dense tableau with bounded variables, in two phases (Dantzig 1963, *Linear
 * Programming and Extensions*, chapters 5 and 18; from memory). A value at its upper bound is turned round, u - x in
 * its place, so that whatever is not in the basis stands at 0. The steepest column enters; after a while the first one
 * (Bland 1977), which cannot go in circles. Meant for some tens of values and a few rows.
 */

export interface LinearProgram {
  /** Cost of one unit of each value, to be made least. */
  readonly costs: readonly number[];
  /** Upper bound of each value, Infinity where there is none; the lower one is 0. */
  readonly greatest: readonly number[];
  readonly rows: readonly Row[];
}

export interface Row {
  /** Coefficients, one for each value. */
  readonly of: readonly number[];
  readonly is: "at-least" | "at-most" | "equal";
  readonly limit: number;
}

export type Solution =
  | { readonly kind: "least"; readonly values: readonly number[]; readonly cost: number }
  | { readonly kind: "impossible" }
  | { readonly kind: "unbounded" };

const TINY = 1e-9;
const STEPS_MOST = 2000;
const BLAND_FROM_STEP = 200;

interface Tableau {
  /** One row per limit: coefficients of all columns, then what the row's own value is. */
  readonly rows: Float64Array[];
  /** Column in the basis of each row. */
  readonly basis: number[];
  readonly greatest: number[];
  /** Whether u - x stands in the place of x. */
  readonly turned: boolean[];
}

/** Solve a linear program. @throws when it does not come to an end, which a finite program does */
export function solveLinear({ costs, greatest, rows }: LinearProgram): Solution {
  const tableau = begin(greatest, rows);
  const columns = tableau.greatest.length;
  const artificialFrom = columns - rows.length;
  const help = Array.from({ length: columns }, (_, at) => (at < artificialFrom ? 0 : 1));
  run(tableau, help);
  const scale = 1 + Math.max(0, ...rows.map(({ limit }) => Math.abs(limit)));
  const left = tableau.basis.some(
    (column, row) => column >= artificialFrom && tableau.rows[row]![columns]! > 1e-8 * scale,
  );
  if (left) return { kind: "impossible" };
  for (let column = artificialFrom; column < columns; column++) tableau.greatest[column] = 0;
  const all = Array.from({ length: columns }, (_, at) => costs[at] ?? 0);
  if (!run(tableau, all)) return { kind: "unbounded" };
  const values = valuesOf(tableau).slice(0, costs.length);
  return { kind: "least", values, cost: values.reduce((sum, x, at) => sum + x * costs[at]!, 0) };
}

/** Rows with a slack each (none where equal) and an artificial value each to begin with. */
function begin(greatest: readonly number[], rows: readonly Row[]): Tableau {
  const count = greatest.length;
  const slacks = rows.filter(({ is }) => is !== "equal").length;
  const columns = count + slacks + rows.length;
  let slack = count;
  const made = rows.map(({ of, is, limit }, at) => {
    const row = new Float64Array(columns + 1);
    row.set(of);
    row[columns] = limit;
    if (is !== "equal") row[slack++] = is === "at-most" ? 1 : -1;
    if (limit < 0) for (let i = 0; i <= columns; i++) row[i] = -row[i]!;
    row[count + slacks + at] = 1;
    return row;
  });
  return {
    rows: made,
    basis: rows.map((_, at) => count + slacks + at),
    greatest: Array.from({ length: columns }, (_, at) => greatest[at] ?? Infinity),
    turned: Array.from({ length: columns }, () => false),
  };
}

/** Walk to the least cost; false when there is none. */
function run(tableau: Tableau, costs: readonly number[]): boolean {
  const { rows, basis, greatest, turned } = tableau;
  const columns = greatest.length;
  const reduced = Float64Array.from(costs, (cost, at) => (turned[at] ? -cost : cost));
  for (const [at, row] of rows.entries()) subtract(reduced, row, reduced[basis[at]!]!, columns);
  for (let step = 0; step < STEPS_MOST; step++) {
    const entering = choose(reduced, greatest, columns, step >= BLAND_FROM_STEP);
    if (entering < 0) return true;
    let reach = greatest[entering]!;
    let leaving = -1;
    for (const [at, row] of rows.entries()) {
      const by = row[entering]!;
      if (Math.abs(by) <= TINY) continue;
      const room = by > 0 ? row[columns]! : greatest[basis[at]!]! - row[columns]!;
      const least = Math.max(0, room) / Math.abs(by);
      const isTie = least === reach && leaving >= 0 && basis[at]! < basis[leaving]!;
      if (least < reach || isTie) [reach, leaving] = [least, at];
    }
    if (reach === Infinity) return false;
    if (leaving < 0) {
      turn(tableau, entering, reduced);
      continue;
    }
    const row = rows[leaving]!;
    if (row[entering]! < 0) turnBasic(tableau, leaving);
    pivot(tableau, leaving, entering, reduced);
  }
  throw new Error("a linear program did not come to an end");
}

function choose(
  reduced: Float64Array,
  greatest: readonly number[],
  columns: number,
  isFirst: boolean,
): number {
  let best = -1;
  for (let at = 0; at < columns; at++) {
    if (reduced[at]! >= -TINY || greatest[at]! <= 0) continue;
    if (best < 0 || reduced[at]! < reduced[best]!) best = at;
    if (isFirst) break;
  }
  return best;
}

/** A value outside the basis goes to its other bound. */
function turn({ rows, greatest, turned }: Tableau, column: number, reduced: Float64Array): void {
  const columns = greatest.length;
  for (const row of rows) {
    row[columns]! -= row[column]! * greatest[column]!;
    row[column] = -row[column]!;
  }
  reduced[column] = -reduced[column]!;
  turned[column] = !turned[column];
}

/** A value of the basis is told from its upper bound. */
function turnBasic({ rows, basis, greatest, turned }: Tableau, at: number): void {
  const row = rows[at]!;
  const column = basis[at]!;
  const columns = greatest.length;
  for (let i = 0; i < columns; i++) if (i !== column) row[i] = -row[i]!;
  row[columns] = greatest[column]! - row[columns]!;
  turned[column] = !turned[column];
}

function pivot(
  { rows, basis, greatest }: Tableau,
  at: number,
  column: number,
  reduced: Float64Array,
): void {
  const columns = greatest.length;
  const row = rows[at]!;
  const by = row[column]!;
  for (let i = 0; i <= columns; i++) row[i]! /= by;
  for (const [other, each] of rows.entries()) {
    if (other !== at) subtract(each, row, each[column]!, columns + 1);
  }
  subtract(reduced, row, reduced[column]!, columns);
  basis[at] = column;
}

function subtract(from: Float64Array, row: Float64Array, times: number, count: number): void {
  if (times === 0) return;
  for (let i = 0; i < count; i++) from[i]! -= times * row[i]!;
}

function valuesOf({ rows, basis, greatest, turned }: Tableau): number[] {
  const columns = greatest.length;
  const values = greatest.map(() => 0);
  for (const [at, column] of basis.entries()) values[column] = rows[at]![columns]!;
  return values.map((value, at) => (turned[at] ? greatest[at]! - value : value));
}
