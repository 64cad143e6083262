/**
 * The cheapest shares by straight lines: one linear program.
 */
import type { Bound } from "../../compose/product.ts";
import type { Ingredient } from "../../ingredient.ts";
import { type Row, solveLinear } from "../linear-program.ts";
import { type Aim, costOf, sumOf } from "./aim.ts";
import type { Margins, Slopes } from "./slopes.ts";

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
  const bounds = aim.movable.map((each, at) => boundIn(each, at, within));
  const pieces = bounds.flatMap((bound, at) => piecesOf(bound, aim.movable[at]!.wanted, at));
  const ruled = [...slopes.margins.keys()].filter((rule) => slopes.margins[rule]! < Infinity);
  const slopeOf = aim.movable.map(({ ingredient }) => slopes.of(ingredient));
  const atLeast = marginsByLines(
    aim,
    bounds.map(({ least }) => least),
    slopes,
  );
  const rows: Row[] = ruled.map((rule, place) => ({
    of: [
      ...pieces.map(({ at }) => slopeOf[at]![rule]!),
      ...ruled.map((_, other) => (other === place ? 1 : 0)),
    ],
    is: "at-least",
    limit: spare - atLeast[rule]!,
  }));
  const whole: Row = {
    of: [...pieces.map(() => 1), ...ruled.map(() => 0)],
    is: "equal",
    limit: bounds.reduce((left, { least }) => left - least, sumOf(aim)),
  };
  const solved = solveLinear({
    costs: [...pieces.map(({ cost }) => cost), ...ruled.map(() => PRICE)],
    greatest: [...pieces.map(({ width }) => width), ...ruled.map(() => Infinity)],
    rows: [whole, ...rows],
  });
  if (solved.kind !== "least") return undefined;
  const shares = bounds.map(({ least }) => least);
  for (const [at, piece] of pieces.entries()) shares[piece.at]! += solved.values[at]!;
  const lacking = solved.values.slice(pieces.length).reduce((sum, each) => sum + each, 0);
  return { shares, cost: costOf(aim, shares), lacking };
}

function boundIn({ least, greatest }: Bound, at: number, within?: Step): Bound {
  if (!within) return { least, greatest };
  const from = within.from[at]!;
  return {
    least: Math.max(least, from - within.reach),
    greatest: Math.min(greatest, from + within.reach),
  };
}

/** A share above its least, piece by piece: below what is wanted it pays, within it is free, above it costs. */
function piecesOf({ least, greatest }: Bound, wanted: Bound, at: number) {
  const first = Math.min(greatest, Math.max(least, wanted.least));
  const last = Math.min(greatest, Math.max(least, wanted.greatest));
  return [first - least, last - first, greatest - last].flatMap((width, side) =>
    width > 0 ? [{ at, width, cost: side - 1 }] : [],
  );
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
