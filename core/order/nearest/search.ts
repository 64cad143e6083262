/**
 * The cheapest passing blend of all ways to fill the slots.
 *
 * Each way has a cost that it cannot go below, so most of them are never looked at once a blend is found; the others
 * are first told by the lines of the blend solved last, and solved in the order that these promise.
 */
import type { Ingredient } from "../../ingredient.ts";
import { partsWith } from "./aim.ts";
import { type Filling, type Scene, fillingOf, leastCostOf } from "./scene.ts";
import { type Judge, type Outcome, settle, settleCheaper } from "./settle.ts";
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
/** How many fillings that the lines call impossible are solved all the same, before new lines are laid at the best. */
const DOUBTFUL_SOLVED = 3;
/** New lines are laid while they bring what the rules are short of down to this part of it, so often at most. */
const GETS_NEARER = 0.9;
const ROUNDS_MOST = 5;
/** What the lines may be wrong by [part of the cost; hundredths of a percent] */
const DOUBT = { part: 0.15, share: 40 };
const CLOSER_DOUBT = { part: 0.02, share: 5 };
/** So many promises are looked at closer before it is told from them how far the lines go astray. */
const LOOKED_LEAST = 24;
/** Points short of a rule that lines may be wrong by. */
const NEARLY = 0.05;

/** Look through the ways to fill the oil places for the blend with the least share moved; tells whether it saw all. */
export function search(scene: Scene, judge: Judge): Searched {
  const { ways, isWhole } = waysToFill(scene);
  const fillings: Running[] = [];
  for (const ingredients of ways) {
    const filling = fillingOf(scene, ingredients);
    const least = leastCostOf(filling);
    if (least < Infinity) fillings.push({ filling, least });
  }
  fillings.sort((one, other) => one.least - other.least);
  const missed: { filling: Filling; outcome: Outcome }[] = [];
  const solved = new Set<Filling>();
  let found: Found | undefined;
  let slopes: Slopes | undefined;
  let lacking = Infinity;
  const limit = () => found?.cost ?? Infinity;
  const solve = (filling: Filling, hint?: readonly number[]) => {
    const outcome = settle(filling.aim, judge, hint);
    solved.add(filling);
    if (outcome.passes) {
      slopes = outcome.shift?.slopes ?? slopes;
      if (outcome.cost + filling.gone >= limit()) return;
      found = { filling, shares: outcome.shares, cost: outcome.cost + filling.gone };
    } else {
      missed.push({ filling, outcome });
      const short = lackingOf(outcome);
      if (!found && (!slopes || short < lacking)) slopes = outcome.shift?.slopes ?? slopes;
      lacking = Math.min(lacking, short);
    }
  };
  if (fillings[0]) solve(fillings[0].filling);
  const lookAt = (those: readonly Running[]) => {
    const left = those.filter(({ filling, least }) => least < limit() && !solved.has(filling));
    return lookThrough(left, { judge, solve, limit, slopes: () => slopes });
  };
  let looked = lookAt(fillings);
  for (let round = 1; !found && round < ROUNDS_MOST; round++) {
    const before = lacking;
    for (const { filling, shares } of looked.doubtful) solve(filling, shares);
    if (!found && lacking > GETS_NEARER * before) break;
    if (!found) looked = lookAt(looked.nearer);
    // What passes was found among few of them: now all are asked for something cheaper.
    if (found) lookAt(fillings);
  }
  missed.sort((one, other) => lackingOf(one.outcome) - lackingOf(other.outcome));
  return { ...(found ? { found: cheaper(found, judge) } : {}), missed, isWhole };
}

/** The same filling once more, from further starts: what is at hand already has no better. */
function cheaper(found: Found, judge: Judge): Found {
  const { filling, shares, cost } = found;
  const settled =
    cost > 0 && settleCheaper(filling.aim, judge, { shares, cost: cost - filling.gone });
  return settled ? { filling, shares: settled.shares, cost: settled.cost + filling.gone } : found;
}

interface Look {
  readonly judge: Judge;
  readonly solve: (filling: Filling, hint?: readonly number[]) => void;
  /** Cost of the best so far. */
  readonly limit: () => number;
  readonly slopes: () => Slopes | undefined;
}

/** A filling in the running, and the least that it can cost. */
interface Running {
  readonly filling: Filling;
  readonly least: number;
  promise?: Promised | undefined;
}

interface Looked {
  /** Those that came nearest of all that do not promise to pass. */
  readonly doubtful: readonly { readonly filling: Filling; readonly shares: readonly number[] }[];
  /** The half that promises most. */
  readonly nearer: Running[];
}

/** Solve the fillings that promise to pass, and to cost less than the best so far. */
function lookThrough(running: Running[], { judge, solve, limit, slopes }: Look): Looked {
  for (const each of running) each.promise = promiseOf(each.filling, slopes());
  const promising = running.sort((one, other) => comesFirst(one.promise, other.promise));
  const strayed = strayOf();
  const doubtful: { filling: Filling; shares: readonly number[]; lacking: number }[] = [];
  for (const { filling, least, promise } of promising) {
    if (least >= limit() || isBeyond(promise, strayed.doubt(), limit())) continue;
    // The rest promise less still.
    if (promise && promise.lacking - strayed.lacking() > NEARLY) break;
    const lines = slopes();
    const closer = lines && promise && closerPromise(filling, lines, promise, judge);
    if (closer) strayed.see(promise, closer);
    if (closer && isBeyond(closer, CLOSER_DOUBT, limit())) continue;
    if (closer && closer.lacking > NEARLY) doubtful.push({ filling, ...closer });
    else solve(filling, closer?.shares);
  }
  doubtful.sort((one, other) => one.lacking - other.lacking);
  return {
    doubtful: doubtful.slice(0, DOUBTFUL_SOLVED),
    nearer: promising.slice(0, Math.ceil(promising.length / 2)),
  };
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

/** How far the lines went astray, by the promises that were looked at closer. */
function strayOf() {
  let looked = 0;
  let lacking = 0;
  let part = 0;
  return {
    see: (promise: Promised, closer: Promised) => {
      looked++;
      lacking = Math.max(lacking, promise.lacking - closer.lacking);
      if (promise.cost > 0) part = Math.max(part, 1 - closer.cost / promise.cost);
    },
    lacking: () => (looked < LOOKED_LEAST ? Infinity : 4 * lacking),
    doubt: () =>
      looked < LOOKED_LEAST
        ? DOUBT
        : { ...DOUBT, part: Math.min(DOUBT.part, 2 * part + CLOSER_DOUBT.part) },
  };
}

function comesFirst(one: Promised | undefined, other: Promised | undefined): number {
  if (!one || !other) return 0;
  const lacks = Math.max(0, one.lacking - NEARLY) - Math.max(0, other.lacking - NEARLY);
  return lacks || one.cost - other.cost;
}

function isBeyond(promise: Promised | undefined, doubt: typeof DOUBT, limit: number): boolean {
  return promise !== undefined && promise.cost * (1 - doubt.part) - doubt.share >= limit;
}

function lackingOf({ shift }: Outcome): number {
  return shift?.lacking ?? Infinity;
}

/** Every way to fill the slots, the chosen oils first; oils that change places of the same bounds make no other way. */
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
  const numberAt = numbersOf(slots);
  const known = new Set<string>();
  const others = ways.filter(({ chosen }) => {
    const key = String(chosen.map((each, at) => numberAt[at]!.get(each)!).sort());
    return !known.has(key) && known.add(key);
  });
  return { ways: others.map(({ chosen }) => chosen), isWhole };
}

/** A number for each ingredient under each bound, by slot. */
function numbersOf(slots: Scene["slots"]): Map<Ingredient, number>[] {
  const byBound = new Map<string, Map<Ingredient, number>>();
  let next = 0;
  return slots.map(({ least, greatest, wanted, options }) => {
    const key = [least, greatest, wanted?.least, wanted?.greatest].join(" ");
    const numbers = byBound.get(key) ?? new Map<Ingredient, number>();
    byBound.set(key, numbers);
    for (const each of options) if (!numbers.has(each)) numbers.set(each, next++);
    return numbers;
  });
}
