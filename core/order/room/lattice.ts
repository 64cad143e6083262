/**
 * The shares that bounds allow: whole numbers inside a box whose sum is fixed, counted and drawn evenly.
 *
 * Method: with y_k = share less least share and f_k(r) = number of ways in which parts k and after can make up r,
 *   f_last(r) = 1 while r <= width,   f_k(r) = sum of f_{k+1}(r - y), y = 0 to the width of k,
 * one pass of running sums a part. A point is drawn part by part, each by the inverse of its own cumulative count
 * given those before: every point of the lattice has the same probability, and numbers spread evenly over the unit
 * cube fall evenly over the points. Nothing is thrown away and no chain has to mix. Counts are doubles: exact up to
 * 2^53 points, and beyond that to some 15 digits.
 */
import type { Bound } from "../../compose/product.ts";

export interface Lattice {
  /** Number of points; 0 when the bounds cannot make the sum. */
  readonly count: number;
  /** How many numbers a draw takes: one fewer than there are parts. */
  readonly dimensions: number;
  /**
   * Draw a point.
   * @param at numbers from 0 to below 1, as many as `dimensions`
   * @param into takes the shares, in the order of the bounds
   */
  readonly draw: (at: ArrayLike<number>, into: Int32Array) => void;
}

/**
 * The lattice of some bounds.
 * @param bounds whole shares with least <= greatest [hundredths of a percent]
 * @param total what the shares must sum to
 */
export function latticeOf(bounds: readonly Bound[], total: number): Lattice {
  const last = bounds.length - 1;
  const dimensions = Math.max(0, last);
  const slack = bounds.reduce((rest, { least }) => rest - least, total);
  const widths = bounds.map(({ least, greatest }) => Math.min(greatest - least, slack));
  const reach = widths.reduce((sum, width) => sum + width, 0);
  if (last < 0 || slack < 0 || reach < slack || widths.some((width) => width < 0)) {
    return { count: 0, dimensions, draw: refuseToDraw };
  }
  const { running, count } = countWays(widths, slack);
  const after = widths.map((_, at) => widths.slice(at + 1).reduce((sum, width) => sum + width, 0));
  const draw: Lattice["draw"] = (at, into) => {
    let rest = slack;
    for (let k = 0; k < last; k++) {
      const from = Math.max(0, rest - widths[k]!);
      const to = Math.min(rest, after[k]!);
      const left = findLeft(running[k + 1]!, from, to, at[k]!);
      into[k] = bounds[k]!.least + rest - left;
      rest = left;
    }
    into[last] = bounds[last]!.least + rest;
  };
  return { count, dimensions, draw };
}

/** `running[k][r]`: ways in which parts k and after make up r or less. */
function countWays(widths: readonly number[], slack: number) {
  const running: Float64Array[] = [];
  let ways = new Float64Array(slack + 1);
  ways[0] = 1;
  for (let k = widths.length - 1; k >= 0; k--) {
    const before = running[k + 1] ?? runningSum(ways);
    const own = new Float64Array(slack + 1);
    for (let r = 0; r <= slack; r++) {
      own[r] = before[r]! - (r > widths[k]! ? before[r - widths[k]! - 1]! : 0);
    }
    running[k] = runningSum(own);
    ways = own;
  }
  return { running, count: ways[slack]! };
}

function runningSum(values: Float64Array): Float64Array {
  const sums = values.slice();
  for (let r = 1; r < sums.length; r++) sums[r]! += sums[r - 1]!;
  return sums;
}

/** What is left for the parts after this one: the least amount whose cumulative count passes the number drawn. */
function findLeft(cumulative: Float64Array, from: number, to: number, at: number): number {
  const below = from > 0 ? cumulative[from - 1]! : 0;
  const aim = below + at * (cumulative[to]! - below);
  let low = from;
  let high = to;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (cumulative[middle]! > aim) high = middle;
    else low = middle + 1;
  }
  return low;
}

function refuseToDraw(): never {
  throw new RangeError("no shares keep to these bounds");
}
