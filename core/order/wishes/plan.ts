/**
 * The best shares by straight lines: one linear program over shares moved, steps of feel and oil phase, and price.
 *
 * Costs are told in units: a hundredth of a percent that goes or comes costs one, 2000 units are one of the score.
 */
import { WHOLE } from "../../blend.ts";
import type { Bound } from "../../compose/product.ts";
import { type Row, solveLinear } from "../linear-program.ts";
import { type Aim, type Movable, partsWith, sumOf } from "../nearest/aim.ts";
import type { Step } from "../nearest/plan-shares.ts";
import type { Filling } from "../nearest/scene.ts";
import type { Margins } from "../nearest/probe.ts";
import type { Slopes } from "../nearest/slopes.ts";
import { COMPARED, OIL_PHASE, STEP_LEAST, WEIGHT, familiesBrought } from "./objective.ts";
import type { Task } from "./task.ts";

/** Units in one of the score. */
export const UNITS = 2 * (WHOLE / 10);
/** Of a point, a step or a tenth of the price that is lacking: dearer than anything it could be bought with [units] */
export const LACK_PRICE = 60_000;
const RULES = 3;

export interface Planned {
  readonly shares: number[];
  /** What they cost by the lines, families brought left out [units] */
  readonly units: number;
  readonly lacking: number;
}

interface Term {
  /** By movable part, of one hundredth of a percent. */
  readonly of: readonly number[];
  /** Of the least shares. */
  readonly at: number;
}

/**
 * Plan shares.
 * @param spare what every limit is to have left over
 * @returns nothing when the bounds do not allow the sum
 */
export function planWished(
  task: Task,
  aim: Aim,
  slopes: Slopes,
  spare: number,
  within?: Step,
): Planned | undefined {
  const { movable } = aim;
  const bounds = movable.map((each, at) => boundIn(each, at, within));
  if (bounds.some(({ least, greatest }) => least > greatest)) return undefined;
  const pieces = bounds.flatMap((bound, at) => piecesOf(bound, movable[at]!, at));
  const limits = limitsOf(task, aim, bounds, slopes, spare);
  const extra = limits.flatMap(({ extra: own }, row) => own.map((each) => ({ ...each, row })));
  const left = bounds.reduce((sum, { least }) => sum - least, sumOf(aim));
  const solved = solveLinear({
    costs: [...pieces.map(({ cost }) => cost), ...extra.map(({ cost }) => cost)],
    greatest: [...pieces.map(({ width }) => width), ...extra.map(() => Infinity)],
    rows: [
      { of: [...pieces.map(() => 1), ...extra.map(() => 0)], is: "equal", limit: left },
      ...limits.map(({ term, is, value }, row) => ({
        of: [
          ...pieces.map(({ at }) => term.of[at]!),
          ...extra.map((each) => (each.row === row ? each.sign : 0)),
        ],
        ...{ is, limit: value - term.at },
      })),
    ],
  });
  if (solved.kind !== "least") return undefined;
  const shares = bounds.map(({ least }) => least);
  for (const [at, piece] of pieces.entries()) shares[piece.at]! += solved.values[at]!;
  const lacking = extra.reduce(
    (sum, { cost }, at) => sum + (cost === LACK_PRICE ? solved.values[pieces.length + at]! : 0),
    0,
  );
  const start = bounds.reduce((sum, { least }, at) => sum + distance(movable[at]!, least), 0);
  return { shares, units: start + solved.cost - LACK_PRICE * lacking, lacking };
}

/** A row of the program, with what may make up for it and at what cost. */
interface Limit {
  readonly term: Term;
  readonly is: Row["is"];
  readonly value: number;
  readonly extra: readonly { readonly cost: number; readonly sign: 1 | -1 }[];
}

const LACK = { cost: LACK_PRICE, sign: 1 } as const;
const EXCESS = { cost: LACK_PRICE, sign: -1 } as const;

function limitsOf(
  task: Task,
  aim: Aim,
  bounds: readonly Bound[],
  slopes: Slopes,
  spare: number,
): Limit[] {
  const lines = linesOf(aim, bounds, slopes);
  const limits: Limit[] = [];
  for (let rule = 0; rule < RULES; rule++) {
    if (slopes.margins[rule]! === Infinity) continue;
    limits.push({ term: lines(rule), is: "at-least", value: spare, extra: [LACK] });
  }
  for (const at of COMPARED) {
    if (!Number.isFinite(slopes.margins[at]!)) continue;
    limits.push(...stepLimits(task.objective.way[at], lines(at), spare));
  }
  const price = priceLine(task, aim, bounds);
  if (!price) return limits;
  if (task.objective.reference.nano) {
    const dearer = { cost: UNITS * WEIGHT.tenthDearer, sign: -1 } as const;
    limits.push({ term: price, is: "at-most", value: 10, extra: [dearer] });
  }
  if (task.nanoMost < Infinity) {
    const value = (10 * task.nanoMost) / priceScale(task) - spare;
    limits.push({ term: price, is: "at-most", value, extra: [EXCESS] });
  }
  return limits;
}

/** Steps of feel or oil phase: what is missing of the step wished, what goes too far, and the least that counts. */
function stepLimits(way: -1 | 0 | 1, term: Term, spare: number): Limit[] {
  const missing = UNITS * WEIGHT.missing;
  const drift = UNITS * WEIGHT.drift;
  const extra = [
    { cost: way > 0 ? missing : drift, sign: 1 },
    { cost: way < 0 ? missing : drift, sign: -1 },
  ] as const;
  const limits: Limit[] = [{ term, is: "equal", value: way, extra }];
  const least = STEP_LEAST + spare;
  if (way > 0) limits.push({ term, is: "at-least", value: least, extra: [LACK] });
  if (way < 0) limits.push({ term, is: "at-most", value: -least, extra: [EXCESS] });
  return limits;
}

/** What the lines leave out: what goes for good, families brought, a thickness nobody can tell any more [units] */
export function besideLines(
  { objective: { reference } }: Task,
  { aim, gone }: Filling,
  shares: readonly number[],
  margins?: Margins,
): number {
  const brought = familiesBrought(reference, partsWith(aim, shares)).length;
  const untold = reference.lnViscosity !== undefined && margins?.[OIL_PHASE] === Infinity ? 1 : 0;
  return gone + UNITS * (WEIGHT.brings * brought + WEIGHT.untold * untold);
}

/** What prices are told in: the customer's own jar, or the limit where that has no price. */
export function priceScale({ objective, nanoMost }: Task): number {
  return objective.reference.nano ?? (nanoMost > 0 && nanoMost < Infinity ? nanoMost : 1);
}

/** The price in tenths of the scale, which is linear. */
function priceLine(
  task: Task,
  { movable, fixed }: Aim,
  bounds: readonly Bound[],
): Term | undefined {
  const { tariff } = task.objective;
  if (!tariff) return undefined;
  const scale = 10 / priceScale(task);
  const rate = (id: string) => (tariff.rateNano[id] ?? 0) * scale;
  const of = movable.map(({ ingredient }) => rate(ingredient.id));
  const stays = fixed.reduce((sum, each) => sum + rate(each.ingredient.id) * each.share, 0);
  const least = bounds.reduce((sum, bound, at) => sum + of[at]! * bound.least, 0);
  return { of, at: tariff.fixedNano * scale + stays + least };
}

function boundIn({ least, greatest }: Bound, at: number, within?: Step): Bound {
  if (!within) return { least, greatest };
  const from = within.from[at]!;
  return {
    least: Math.max(least, from - within.reach),
    greatest: Math.min(greatest, from + within.reach),
  };
}

function distance({ wanted }: Movable, share: number): number {
  return Math.max(0, wanted.least - share, share - wanted.greatest);
}

/** A share above its least, in two pieces: towards what is wanted it pays, beyond it costs. */
function piecesOf({ least, greatest }: Bound, { wanted }: Movable, at: number) {
  const middle = Math.min(greatest, Math.max(least, wanted.least));
  return [
    { at, width: middle - least, cost: -1 },
    { at, width: greatest - middle, cost: 1 },
  ].filter(({ width }) => width > 0);
}

/** Margins as lines of the movable shares; the lines may touch a blend of other oils. */
function linesOf({ movable, fixed }: Aim, bounds: readonly Bound[], slopes: Slopes) {
  const known = movable.map(({ ingredient, greatest }) =>
    greatest > 0 ? slopes.of(ingredient) : undefined,
  );
  const own = new Set([...movable, ...fixed].map(({ ingredient }) => ingredient.id));
  const change: { slope: Margins; by: number }[] = [];
  for (const [at, { ingredient }] of movable.entries()) {
    const by = bounds[at]!.least - slopes.shareOf(ingredient);
    if (by !== 0) change.push({ slope: known[at] ?? slopes.of(ingredient), by });
  }
  for (const { ingredient, share } of fixed) {
    const by = share - slopes.shareOf(ingredient);
    if (by !== 0) change.push({ slope: slopes.of(ingredient), by });
  }
  for (const { ingredient, share } of slopes.parts) {
    if (!own.has(ingredient.id)) change.push({ slope: slopes.of(ingredient), by: -share });
  }
  return (margin: number): Term => ({
    of: known.map((slope) => slope?.[margin] ?? 0),
    at: change.reduce((sum, { slope, by }) => sum + slope[margin]! * by, slopes.margins[margin]!),
  });
}
