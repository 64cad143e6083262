/**
 * The cheapest passing blend of all ways to fill the slots.
 *
 * Each way has a cost that it cannot go below, so most of them are never looked at once a blend is found; the others
 * are first told by the lines of the blend solved last, and solved in the order that these promise.
 */
import type { Ingredient } from "../../ingredient.ts";
import { partsWith } from "./aim.ts";
import { type Filling, type Scene, fillingOf, leastCostOf } from "./scene.ts";
import { type Judge, type Outcome, settle } from "./settle.ts";
import { planShares } from "./plan-shares.ts";
import { type Slopes, relaid } from "./slopes.ts";

export interface Found {
  readonly filling: Filling;
  readonly shares: readonly number[];
  /** All that is moved, both what goes and what comes [hundredths of a percent] */
  readonly cost: number;
}

export interface Searched {
  readonly found?: Found;
  /** How near the fillings came that were solved and did not pass, nearest first. */
  readonly missed: readonly { readonly filling: Filling; readonly outcome: Outcome }[];
  /** Whether every way to fill the slots was in the running. */
  readonly isWhole: boolean;
}

/** More ways than this to fill the slots, and only those with up to two swaps are looked at. */
const FILLINGS_MOST = 20_000;
/** How many fillings that the lines call impossible are solved all the same before giving up. */
const DOUBTFUL_SOLVED = 3;
/** What the lines may be wrong by [part of the cost; hundredths of a percent] */
const DOUBT = { part: 0.15, share: 40 };
const CLOSER_DOUBT = { part: 0.02, share: 5 };
/** Points short of a rule that lines may be wrong by. */
const NEARLY = 0.05;

export function search(scene: Scene, judge: Judge): Searched {
  const { ways, isWhole } = waysToFill(scene);
  const fillings = ways
    .map((ingredients) => fillingOf(scene, ingredients))
    .map((filling) => ({ filling, least: leastCostOf(filling) }))
    .filter(({ least }) => least < Infinity)
    .sort((one, other) => one.least - other.least);
  const missed: { filling: Filling; outcome: Outcome }[] = [];
  let found: Found | undefined;
  let slopes: Slopes | undefined;
  const limit = () => found?.cost ?? Infinity;
  const solve = (filling: Filling, hint?: readonly number[]) => {
    const outcome = settle(filling.aim, judge, hint);
    if (outcome.passes || !found) slopes = outcome.shift?.slopes ?? slopes;
    if (!outcome.passes) missed.push({ filling, outcome });
    else if (outcome.cost + filling.gone < limit()) {
      found = { filling, shares: outcome.shares, cost: outcome.cost + filling.gone };
    }
  };
  const [first, ...others] = fillings;
  if (first) solve(first.filling);
  const promising = others
    .filter(({ least }) => least < limit())
    .map(({ filling, least }) => ({ filling, least, promise: promiseOf(filling, slopes) }))
    .sort((one, other) => comesFirst(one.promise, other.promise));
  let doubtful = 0;
  for (const { filling, least, promise } of promising) {
    if (least >= limit() || isBeyond(promise, DOUBT, limit())) continue;
    const closer = slopes && promise && closerPromise(filling, slopes, promise, judge);
    if (closer && isBeyond(closer, CLOSER_DOUBT, limit())) continue;
    if ((closer?.lacking ?? 0) > NEARLY && (found || doubtful++ >= DOUBTFUL_SOLVED)) continue;
    solve(filling, closer?.shares);
  }
  missed.sort((one, other) => lackingOf(one.outcome) - lackingOf(other.outcome));
  return { ...(found ? { found } : {}), missed, isWhole };
}

/** What the lines say of a filling; nothing where there are none yet. */
interface Promised {
  readonly shares: readonly number[];
  /** What goes for good included. */
  readonly cost: number;
  readonly lacking: number;
}

function promiseOf(filling: Filling, slopes: Slopes | undefined): Promised | undefined {
  const planned = slopes && planShares(filling.aim, slopes, 0);
  return planned && { ...planned, cost: planned.cost + filling.gone };
}

/** The same lines laid anew at what was promised: the way a second step of Newton's would go. */
function closerPromise(
  { aim, gone }: Filling,
  slopes: Slopes,
  { shares }: Promised,
  { probe }: Judge,
): Promised | undefined {
  const parts = partsWith(aim, shares);
  const planned = planShares(aim, relaid(slopes, parts, probe(parts)), 0);
  return planned && { ...planned, cost: planned.cost + gone };
}

function comesFirst(one: Promised | undefined, other: Promised | undefined): number {
  if (!one || !other) return 0;
  const [lacks, otherLacks] = [one.lacking, other.lacking].map((each) =>
    Math.max(0, each - NEARLY),
  );
  return lacks! - otherLacks! || one.cost - other.cost;
}

function isBeyond(promise: Promised | undefined, doubt: typeof DOUBT, limit: number): boolean {
  return promise !== undefined && promise.cost * (1 - doubt.part) - doubt.share >= limit;
}

function lackingOf({ shift }: Outcome): number {
  return shift?.lacking ?? Infinity;
}

/** Every way to fill the slots, the chosen oils first. */
function waysToFill({ slots, wanted }: Scene): { ways: Ingredient[][]; isWhole: boolean } {
  const count = slots.reduce((product, { options }) => product * options.length, 1);
  const isWhole = count <= FILLINGS_MOST;
  let ways: { chosen: Ingredient[]; swaps: number }[] = [{ chosen: [], swaps: 0 }];
  for (const { options } of slots) {
    const isSwap = (each: Ingredient) =>
      options.length > 1 && options.some(({ id }) => wanted.has(id)) && !wanted.has(each.id);
    ways = ways.flatMap(({ chosen, swaps }) =>
      options
        .map((each) => ({ chosen: [...chosen, each], swaps: swaps + (isSwap(each) ? 1 : 0) }))
        .filter((way) => isWhole || way.swaps <= 2),
    );
  }
  return { ways: ways.map(({ chosen }) => chosen), isWhole };
}
