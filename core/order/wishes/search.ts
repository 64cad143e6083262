/**
 * The best passing blends of all ways to fill the places.
 *
 * The way that moves least is solved; its lines tell what every other way promises. The most promising have the lines
 * laid anew at what was promised, and the best of these are solved. Then the same oils are tried with each share 5 %
 * up or down, so that there is something to choose from where there are no other oils.
 */
import { partsWith } from "../nearest/aim.ts";
import { type Slopes, relaid, slopesAt } from "../nearest/slopes.ts";
import { DISTINCT_SHARE, distinctBest } from "./distinct.ts";
import { type Way, waysOf } from "./fillings.ts";
import { type Planned, UNITS, besideLines, planWished } from "./plan.ts";
import { type Fit, type Settled, fitsFromEverywhere, settleWished } from "./shift.ts";
import type { Task } from "./task.ts";

export const OFFERS_MOST = 3;

export interface Searched {
  /** The best first, each distinct from those before it. */
  readonly fits: readonly Fit[];
  /** Whether every way to fill the places was in the running. */
  readonly isWhole: boolean;
}

/** How many ways are told by the lines, how many have them laid anew, and how many are solved. */
const PROMISED_MOST = 200;
const LAID_MOST = 14;
const SOLVED_MOST = 6;
const VARIANTS_SOLVED = 2;
/** How many ways that the lines call impossible are solved all the same before giving up. */
const DOUBTFUL_SOLVED = 4;
/** What is lacking by the lines may be met in truth. */
const NEARLY = 0.05;
/** What the lines may be wrong by [part of the cost; units] */
const DOUBT = { part: 0.15, units: 80 };
const CLOSER_DOUBT = { part: 0.02, units: 10 };

/** Look for the best; `most` fits are wanted. */
export function searchWished(task: Task, most = OFFERS_MOST): Searched {
  const { ways, isWhole: isEvery } = waysOf(task);
  let isWhole = isEvery;
  const fits: Fit[] = [];
  let first: Settled | undefined;
  if (task.nanoMost > 0) {
    const start = ways[0];
    if (start) first = keep(fits, settleWished(task, start.filling));
    const slopes = first?.shift?.slopes;
    if (slopes) isWhole = lookAtOthers(task, ways.slice(1), slopes, fits, most) && isWhole;
    for (const best of distinctBest(fits, 1)) {
      for (const fit of fitsFromEverywhere(task, best.filling)) fits.push(fit);
    }
    if (slopes && most > 1) addVariants(task, fits, most);
  }
  return { fits: distinctBest(fits, most), isWhole };
}

/** Whether any blend fits: the first that is found ends the search. */
export function isMet(task: Task): boolean {
  const [start, ...others] = waysOf(task).ways;
  if (!start || task.nanoMost <= 0) return false;
  const fits: Fit[] = [];
  const { shift } = keep(fits, settleWished(task, start.filling));
  if (shift && fits.length === 0) lookAtOthers(task, others, shift.slopes, fits, 1, true);
  return fits.length > 0;
}

function keep(fits: Fit[], settled: Settled): Settled {
  if (settled.fit) fits.push(settled.fit);
  return settled;
}

/** Above this a way adds nothing [units] */
function limitOf(fits: readonly Fit[], most: number): number {
  const best = distinctBest(fits, most);
  return best.length < most ? Infinity : UNITS * best.at(-1)!.score;
}

interface Promised extends Planned {
  readonly way: Way;
}

/**
 * @param isFirstEnough whether the first fit ends it
 * @returns whether every way was in the running
 */
function lookAtOthers(
  task: Task,
  ways: readonly Way[],
  slopes: Slopes,
  fits: Fit[],
  most: number,
  isFirstEnough = false,
): boolean {
  const promised: Promised[] = [];
  // Bound of what is worth a look: the least floor that the best promises so far leave open.
  const promises: number[] = [];
  const known = limitOf(fits, most);
  let isWhole = true;
  for (const [count, way] of ways.entries()) {
    if (way.floor >= Math.min(known, promises[LAID_MOST - 1] ?? Infinity)) break;
    if (count >= PROMISED_MOST) {
      isWhole = false;
      break;
    }
    const planned = promiseOf(task, way, slopes);
    if (!planned) continue;
    promised.push(planned);
    if (planned.lacking <= NEARLY) insert(promises, planned.units);
  }
  const closer = promised
    .filter(({ units }) => !isBeyond(units, DOUBT, limitOf(fits, most)))
    .sort(comesFirst)
    .slice(0, LAID_MOST)
    .flatMap((each) => closerPromise(task, each, slopes) ?? [])
    .sort(comesFirst);
  let doubtful = 0;
  for (const { way, shares, units, lacking } of closer.slice(0, SOLVED_MOST)) {
    if (isBeyond(units, CLOSER_DOUBT, limitOf(fits, most))) continue;
    if (lacking > NEARLY && (fits.length > 0 || doubtful++ >= DOUBTFUL_SOLVED)) continue;
    const settled = keep(fits, settleWished(task, way.filling, shares));
    if (!settled.fit && fits.length === 0) keep(fits, settleWished(task, way.filling));
    if (isFirstEnough && fits.length > 0) break;
  }
  return isWhole;
}

function insert(sorted: number[], value: number): void {
  let at = sorted.length;
  while (at > 0 && sorted[at - 1]! > value) at--;
  sorted.splice(at, 0, value);
  if (sorted.length > LAID_MOST) sorted.pop();
}

function promiseOf(task: Task, way: Way, slopes: Slopes): Promised | undefined {
  const { filling } = way;
  const planned = planWished(task, filling.aim, slopes, 0);
  if (!planned) return undefined;
  return {
    ...planned,
    way,
    units: planned.units + besideLines(task, filling, planned.shares, slopes.margins),
  };
}

/** The same lines laid anew at what was promised: the way a second step of Newton's would go. */
function closerPromise(task: Task, { way, shares }: Promised, slopes: Slopes) {
  const parts = partsWith(way.filling.aim, shares);
  const margins = task.objective.probe(parts);
  if (margins.includes(-Infinity)) return undefined;
  return promiseOf(task, way, relaid(slopes, parts, margins));
}

function comesFirst(one: Promised, other: Promised): number {
  const lacks = ({ lacking }: Promised) => Math.max(0, lacking - NEARLY);
  return lacks(one) - lacks(other) || one.units - other.units;
}

function isBeyond(units: number, doubt: typeof DOUBT, limit: number): boolean {
  return units * (1 - doubt.part) - doubt.units >= limit;
}

/** The best blend's own oils, with one share at least so far away. */
function addVariants(task: Task, fits: Fit[], most: number): void {
  const best = distinctBest(fits, 1)[0];
  if (!best) return;
  const { filling, shares } = best;
  const { probe } = task.objective;
  const slopes = slopesAt(best.parts, probe(best.parts), probe);
  const variants = filling.aim.movable.flatMap(({ least, greatest }, at) => {
    const share = shares[at]!;
    return [
      { least: share + DISTINCT_SHARE, greatest },
      { least, greatest: share - DISTINCT_SHARE },
    ]
      .filter((bound) => bound.least <= bound.greatest)
      .map((bound): Way => {
        const movable = filling.aim.movable.map((each, other) =>
          other === at ? { ...each, ...bound } : each,
        );
        return { filling: { ...filling, aim: { ...filling.aim, movable } }, floor: 0 };
      });
  });
  const promised = variants.flatMap((way) => promiseOf(task, way, slopes) ?? []).sort(comesFirst);
  for (const { way, shares: hint, units, lacking } of promised.slice(0, VARIANTS_SOLVED)) {
    if (lacking > NEARLY || isBeyond(units, DOUBT, limitOf(fits, most))) continue;
    keep(fits, settleWished(task, way.filling, hint));
  }
}
