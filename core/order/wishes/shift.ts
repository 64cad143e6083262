/**
 * The best shares of one set of ingredients: sequential linear programs with a trust region, as in `nearest`, then
 * whole hundredths of a percent that are checked by the rules themselves.
 */
import { type Part, WHOLE, makeBlend } from "../../blend.ts";
import type { Ingredient } from "../../ingredient.ts";
import { priceJar } from "../../price/price.ts";
import {
  type Aim,
  costOf,
  filledBy,
  inHundredths,
  insideBounds,
  partsWith,
} from "../nearest/aim.ts";
import type { Filling } from "../nearest/scene.ts";
import type { Margins } from "../nearest/probe.ts";
import { type Slopes, relaid, slopesAt } from "../nearest/slopes.ts";
import { COMPARED, STEP_LEAST, nanoOf, scoreOf } from "./objective.ts";
import { LACK_PRICE, UNITS, besideLines, planWished, priceScale } from "./plan.ts";
import type { Task } from "./task.ts";

export interface Shift {
  /** In the order of the movable parts; not yet whole hundredths of a percent. */
  readonly shares: readonly number[];
  /** Points, steps and tenths of the price that limits are short of, all told. */
  readonly lacking: number;
  readonly slopes: Slopes;
}

/** Whole shares that pass everything. */
export interface Fit {
  readonly filling: Filling;
  readonly shares: readonly number[];
  readonly parts: readonly Part[];
  readonly score: number;
}

const STEPS_MOST = 24;
/** A step keeps its promise when it brings this much more or less of it at most. */
const TRUE_WITHIN = 0.1;
/** A step that mends less of what limits are short of is the last [part] */
const HOPELESS = 0.02;
/** A promise of less than this is not worth a step [units] */
const WORTH = 0.5;

/** Move shares that lie inside the bounds and have the right sum. */
function shiftWished(task: Task, filling: Filling, start: readonly number[], spare: number): Shift {
  const { probe } = task.objective;
  const { aim, gone } = filling;
  const pointOf = (shares: readonly number[]) => {
    const parts = partsWith(aim, shares);
    const margins = probe(parts);
    const lacking = lackingIn(task, parts, margins, spare);
    const units = UNITS * scoreOf(task.objective, parts, (costOf(aim, shares) + gone) / 2, margins);
    return { shares, parts, margins, lacking, merit: units + LACK_PRICE * lacking };
  };
  let here = pointOf(start);
  let slopes = slopesAt(here.parts, here.margins, probe);
  let reach = WHOLE;
  for (let step = 0; here.lacking < Infinity && step < STEPS_MOST && reach > WORTH; step++) {
    const planned = planWished(task, aim, slopes, spare, { from: here.shares, reach });
    if (!planned) break;
    const more = besideLines(task, filling, here.shares, here.margins);
    const promised = here.merit - more - planned.units - LACK_PRICE * planned.lacking;
    if (promised < Math.max(WORTH, HOPELESS * LACK_PRICE * here.lacking)) break;
    const next = pointOf(planned.shares);
    const length = Math.max(...next.shares.map((share, at) => Math.abs(share - here.shares[at]!)));
    const kept = (here.merit - next.merit) / promised;
    if (kept < 0.25) reach = Math.min(reach, length) / (kept < -1 ? 4 : 2);
    else if (kept > 0.75) reach = Math.min(WHOLE, 2 * reach);
    if (kept < 0.05) continue;
    here = next;
    // Where the lines kept their promise their slopes still hold.
    const isTrue = Math.abs(kept - 1) < TRUE_WITHIN;
    slopes = isTrue
      ? relaid(slopes, here.parts, here.margins)
      : slopesAt(here.parts, here.margins, probe);
  }
  return { shares: here.shares, lacking: here.lacking, slopes };
}

/** What limits are short of: rules in points, wishes in steps, the price in tenths. */
function lackingIn(
  { objective, ...task }: Task,
  parts: readonly Part[],
  margins: Margins,
  spare: number,
): number {
  let lacking = 0;
  for (const margin of margins.slice(0, 3)) lacking += Math.max(0, spare - margin);
  for (const at of COMPARED) {
    const way = objective.way[at];
    if (way !== 0) lacking += Math.max(0, STEP_LEAST + spare - way * margins[at]!);
  }
  if (objective.tariff && task.nanoMost < Infinity) {
    const over = nanoOf(objective.tariff, parts) - task.nanoMost;
    lacking += Math.max(0, spare + (10 * over) / priceScale({ objective, ...task }));
  }
  return lacking;
}

/** To spare while shares move, and then for rounding, until the rounded ones pass. */
const SPARES = [0.0005, 0.004, 0.02, 0.1];
/** Short of a limit by this much at most, and the rounding may mend it. */
const NEARLY = 0.02;
/** How far the shares may be from those the lines were laid at when they are rounded [hundredths of a percent] */
const ROUNDED_WITHIN = 150;

/** What came of one set of ingredients; the shift is that which came nearest. */
export interface Settled {
  readonly fit?: Fit;
  readonly shift?: Shift;
}

/**
 * The best passing shares of a filling.
 * @param hint shares to begin at, and nowhere else, where another set of ingredients has shown the way
 */
export function settleWished(task: Task, filling: Filling, hint?: readonly number[]): Settled {
  const { aim } = filling;
  const start = insideBounds(aim);
  if (!start) return {};
  let best: Shift | undefined;
  for (const from of hint ? [() => hint] : startsOf(task, aim, start)) {
    const shift = shiftWished(task, filling, from(), SPARES[0]!);
    if (!best || shift.lacking < best.lacking) best = shift;
    if (shift.lacking > NEARLY) continue;
    const fit = roundedFit(task, filling, shift);
    if (fit) return { fit, shift };
  }
  return best ? { shift: best } : {};
}

/** What is found from every start: the curves are not straight, and one start may end on the wrong side of a bend. */
export function fitsFromEverywhere(task: Task, filling: Filling): Fit[] {
  const start = insideBounds(filling.aim);
  if (!start) return [];
  return startsOf(task, filling.aim, start).flatMap((from) => {
    const shift = shiftWished(task, filling, from(), SPARES[0]!);
    return shift.lacking > NEARLY ? [] : (roundedFit(task, filling, shift) ?? []);
  });
}

/** At the choice, then at the firmest and the softest corner, where the curves are not flat. */
function startsOf({ objective: { probe } }: Task, aim: Aim, start: readonly number[]) {
  const firmness = (ingredient: Ingredient) => {
    const most = aim.movable.find((each) => each.ingredient === ingredient)!.greatest;
    if (most <= 0) return 0;
    const [low = 0, high = 0, softens = 0] = probe([{ ingredient, share: 1 }]);
    return [low, -high, softens].reduce((sum, each) => sum + (Number.isFinite(each) ? each : 0), 0);
  };
  return [
    () => start,
    () => filledBy(aim, firmness),
    () => filledBy(aim, (ingredient) => -firmness(ingredient)),
  ];
}

function roundedFit(task: Task, filling: Filling, shift: Shift): Fit | undefined {
  const { aim } = filling;
  const within = { from: shift.shares, reach: ROUNDED_WITHIN };
  for (const spare of SPARES) {
    const planned = planWished(task, aim, shift.slopes, spare, within);
    if (!planned) return undefined;
    const fit = fitOf(task, filling, inHundredths(aim, planned.shares));
    if (fit) return fit;
  }
  return undefined;
}

/** Whole shares, if they keep every rule and every wish. */
function fitOf(task: Task, filling: Filling, shares: readonly number[]): Fit | undefined {
  const { aim, gone } = filling;
  const parts = partsWith(aim, shares);
  const made = makeBlend(parts);
  if ("findings" in made || !task.check(made.blend).passes) return undefined;
  const margins = task.objective.probe(parts);
  const { tariff, way } = task.objective;
  if (COMPARED.some((at) => way[at] !== 0 && way[at] * margins[at]! < STEP_LEAST)) return undefined;
  if (tariff) {
    const priced = priceJar(tariff, made.blend);
    const most = task.wishes.priceMostMinor ?? Infinity;
    if ("findings" in priced || priced.jarMinor > most) return undefined;
  }
  const score = scoreOf(task.objective, parts, (costOf(aim, shares) + gone) / 2, margins);
  return { filling, shares, parts, score };
}
