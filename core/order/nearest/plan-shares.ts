/**
 * The cheapest shares by straight lines: one linear program.
 */
import type { Ingredient } from "../../ingredient.ts";
import { type Row, solveLinear } from "../linear-program.ts";
import { type Aim, type Movable, costOf, sumOf } from "./aim.ts";
import type { Margins } from "./probe.ts";
import type { Slopes } from "./slopes.ts";

/** Price of a point that a rule is short of: dearer than any shares [hundredths of a percent] */
const PRICE = 100_000;

/** Bounds of a step: no share further than `reach` from where it was. */
export interface Step {
  readonly from: readonly number[];
  readonly reach: number;
}

/**
 * The cheapest shares by the lines.
 * @returns nothing when the bounds do not allow the sum
 */
export function planShares(
  aim: Aim,
  slopes: Slopes,
  spare: number,
  within?: Step,
): { shares: number[]; cost: number; lacking: number } | undefined {
  const { movable } = aim;
  const shares = movable.map(({ least }, at) => (within ? leastIn(least, at, within) : least));
  const pieces = piecesOf(movable, shares, within);
  const ruled: number[] = [];
  for (let rule = 0; rule < slopes.margins.length; rule++) {
    if (slopes.margins[rule]! < Infinity) ruled.push(rule);
  }
  const { at, costs, greatest } = pieces;
  const slopeOf = movable.map(({ ingredient }) => slopes.of(ingredient));
  const atLeast = marginsByLines(aim, shares, slopes);
  let left = sumOf(aim);
  for (const share of shares) left -= share;
  const rows: Row[] = [{ of: at.map(() => 1), is: "equal", limit: left }];
  for (const rule of ruled) {
    const of = at.map((each) => slopeOf[each]![rule]!);
    // What the rule is let off stands behind the pieces, a value of its own for each rule.
    of[at.length + rows.length - 1] = 1;
    for (let other = at.length; other < of.length; other++) of[other] ??= 0;
    rows.push({ of, is: "at-least", limit: spare - atLeast[rule]! });
    costs.push(PRICE);
    greatest.push(Infinity);
  }
  const solved = solveLinear({ costs, greatest, rows });
  if (solved.kind !== "least") return undefined;
  let lacking = 0;
  for (const [i, value] of solved.values.entries()) {
    if (i < at.length) shares[at[i]!]! += value;
    else lacking += value;
  }
  return { shares, cost: costOf(aim, shares), lacking };
}

function leastIn(least: number, at: number, { from, reach }: Step): number {
  return Math.max(least, from[at]! - reach);
}

/** Shares above their least, piece by piece: below what is wanted it pays, within it is free, above it costs. */
function piecesOf(movable: readonly Movable[], leasts: readonly number[], within?: Step) {
  const pieces = { at: [] as number[], costs: [] as number[], greatest: [] as number[] };
  const add = (at: number, width: number, cost: number) => {
    if (width <= 0) return;
    pieces.at.push(at);
    pieces.greatest.push(width);
    pieces.costs.push(cost);
  };
  for (let at = 0; at < movable.length; at++) {
    const { greatest: own, wanted } = movable[at]!;
    const least = leasts[at]!;
    const greatest = within ? Math.min(own, within.from[at]! + within.reach) : own;
    const first = Math.min(greatest, Math.max(least, wanted.least));
    const last = Math.min(greatest, Math.max(least, wanted.greatest));
    add(at, first - least, -1);
    add(at, last - first, 0);
    add(at, greatest - last, 1);
  }
  return pieces;
}

/** Margins of shares by the lines, which may touch a blend of other oils. */
function marginsByLines(
  { movable, fixed }: Aim,
  shares: readonly number[],
  slopes: Slopes,
): Margins {
  const now = new Map<string, number>();
  for (const { ingredient, share } of fixed) now.set(ingredient.id, share);
  for (const [at, { ingredient }] of movable.entries()) now.set(ingredient.id, shares[at]!);
  const sums = [...slopes.margins];
  const add = (ingredient: Ingredient, share: number) => {
    if (share === 0) return;
    for (const [rule, slope] of slopes.of(ingredient).entries()) sums[rule]! += slope * share;
  };
  for (const { ingredient } of movable) {
    add(ingredient, now.get(ingredient.id)! - slopes.shareOf(ingredient));
    now.delete(ingredient.id);
  }
  for (const { ingredient, share } of slopes.parts) {
    if (!movable.some((each) => each.ingredient === ingredient)) {
      add(ingredient, (now.get(ingredient.id) ?? 0) - share);
    }
  }
  return sums;
}
