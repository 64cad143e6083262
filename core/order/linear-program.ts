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

/**
 * Rows of the limits and, last, what each column still costs. A row holds the coefficients of the values, of the
 * slacks and of the artificial values, then what the row's own value is. One flat array, because programs this small
 * are solved by the thousand.
 */
interface Tableau {
  readonly cells: Float64Array;
  readonly count: number;
  /** Length of a row. */
  readonly width: number;
  /** Column in the basis of each row. */
  readonly basis: Int32Array;
  readonly greatest: Float64Array;
  /** 1 where u - x stands in the place of x. */
  readonly turned: Uint8Array;
  readonly artificialFrom: number;
}

/** Solve a linear program. @throws when it does not come to an end, which a finite program does */
export function solveLinear({ costs, greatest, rows }: LinearProgram): Solution {
  const tableau = begin(greatest, rows);
  const { cells, basis, width, artificialFrom } = tableau;
  const last = width - 1;
  if (artificialFrom < last) {
    run(tableau, (column) => (column < artificialFrom ? 0 : 1));
    let scale = 1;
    for (const { limit } of rows) scale = Math.max(scale, 1 + Math.abs(limit));
    for (let row = 0; row < rows.length; row++) {
      const isLeft = basis[row]! >= artificialFrom && cells[row * width + last]! > 1e-8 * scale;
      if (isLeft) return { kind: "impossible" };
    }
    tableau.greatest.fill(0, artificialFrom);
  }
  if (!run(tableau, (column) => costs[column] ?? 0)) return { kind: "unbounded" };
  const values = valuesOf(tableau, costs.length);
  let cost = 0;
  for (let at = 0; at < values.length; at++) cost += values[at]! * costs[at]!;
  return { kind: "least", values, cost };
}

/** Rows with a slack each (none where equal), and an artificial value where the slack cannot begin in the basis. */
function begin(most: readonly number[], rows: readonly Row[]): Tableau {
  const artificialFrom = most.length + rows.filter(({ is }) => is !== "equal").length;
  const width = artificialFrom + rows.filter(needsArtificial).length + 1;
  const cells = new Float64Array((rows.length + 1) * width);
  const basis = new Int32Array(rows.length);
  const greatest = new Float64Array(width - 1).fill(Infinity);
  greatest.set(most);
  let slack = most.length;
  let artificial = artificialFrom;
  for (let row = 0; row < rows.length; row++) {
    const { of, is, limit } = rows[row]!;
    const from = row * width;
    const sign = isUpsideDown(rows[row]!) ? -1 : 1;
    for (let at = 0; at < of.length; at++) cells[from + at] = sign * of[at]!;
    cells[from + width - 1] = sign * limit;
    if (is !== "equal") cells[from + slack] = is === "at-most" ? sign : -sign;
    if (needsArtificial(rows[row]!)) {
      cells[from + artificial] = 1;
      basis[row] = artificial++;
    } else basis[row] = slack;
    if (is !== "equal") slack++;
  }
  const turned = new Uint8Array(width - 1);
  return { cells, count: rows.length, width, basis, greatest, turned, artificialFrom };
}

/** Whether a row is multiplied by -1, so that its own value is not below 0. */
function isUpsideDown({ is, limit }: Row): boolean {
  return limit < 0 || (limit === 0 && is === "at-least");
}

function needsArtificial(row: Row): boolean {
  return row.is === "equal" || (row.is === "at-most") === isUpsideDown(row);
}

/** Walk to the least cost; false when there is none. */
function run(tableau: Tableau, costOf: (column: number) => number): boolean {
  const { cells, count, basis, width, greatest, turned } = tableau;
  const last = width - 1;
  const reduced = count * width;
  for (let at = 0; at < last; at++) cells[reduced + at] = turned[at] ? -costOf(at) : costOf(at);
  cells[reduced + last] = 0;
  for (let row = 0; row < count; row++) {
    subtract(cells, reduced, row * width, cells[reduced + basis[row]!]!, width);
  }
  for (let step = 0; step < STEPS_MOST; step++) {
    const entering = choose(tableau, step >= BLAND_FROM_STEP);
    if (entering < 0) return true;
    let reach = greatest[entering]!;
    let leaving = -1;
    for (let row = 0; row < count; row++) {
      const by = cells[row * width + entering]!;
      if (Math.abs(by) <= TINY) continue;
      const value = cells[row * width + last]!;
      const room = by > 0 ? value : greatest[basis[row]!]! - value;
      const least = Math.max(0, room) / Math.abs(by);
      const isTie = least === reach && leaving >= 0 && basis[row]! < basis[leaving]!;
      if (least < reach || isTie) [reach, leaving] = [least, row];
    }
    if (reach === Infinity) return false;
    if (leaving < 0) {
      turn(tableau, entering);
      continue;
    }
    if (cells[leaving * width + entering]! < 0) turnBasic(tableau, leaving);
    pivot(tableau, leaving, entering);
  }
  throw new Error("a linear program did not come to an end");
}

function choose({ cells, count, width, greatest }: Tableau, isFirst: boolean): number {
  const reduced = count * width;
  let best = -1;
  let steepest = -TINY;
  for (let at = 0; at < width - 1; at++) {
    const cost = cells[reduced + at]!;
    if (cost >= steepest || greatest[at]! <= 0) continue;
    best = at;
    steepest = cost;
    if (isFirst) break;
  }
  return best;
}

/** A value outside the basis goes to its other bound. */
function turn({ cells, count, width, greatest, turned }: Tableau, column: number): void {
  for (let from = 0; from < (count + 1) * width; from += width) {
    if (from < count * width) cells[from + width - 1]! -= cells[from + column]! * greatest[column]!;
    cells[from + column] = -cells[from + column]!;
  }
  turned[column] = 1 - turned[column]!;
}

/** A value of the basis is told from its upper bound. */
function turnBasic({ cells, width, basis, greatest, turned }: Tableau, row: number): void {
  const from = row * width;
  const column = basis[row]!;
  const last = width - 1;
  for (let i = 0; i < last; i++) if (i !== column) cells[from + i] = -cells[from + i]!;
  cells[from + last] = greatest[column]! - cells[from + last]!;
  turned[column] = 1 - turned[column]!;
}

function pivot({ cells, count, width, basis }: Tableau, row: number, column: number): void {
  const from = row * width;
  const by = cells[from + column]!;
  for (let i = from; i < from + width; i++) cells[i]! /= by;
  for (let other = 0; other <= count; other++) {
    if (other !== row) subtract(cells, other * width, from, cells[other * width + column]!, width);
  }
  basis[row] = column;
}

/** A row less another one times a factor. */
function subtract(cells: Float64Array, row: number, other: number, times: number, width: number) {
  if (times === 0) return;
  for (let i = 0; i < width; i++) cells[row + i]! -= times * cells[other + i]!;
}

function valuesOf({ cells, width, basis, greatest, turned }: Tableau, count: number): number[] {
  const values = new Array<number>(count).fill(0);
  for (let row = 0; row < basis.length; row++) {
    if (basis[row]! < count) values[basis[row]!] = cells[row * width + width - 1]!;
  }
  for (let at = 0; at < count; at++) if (turned[at]) values[at] = greatest[at]! - values[at]!;
  return values;
}
