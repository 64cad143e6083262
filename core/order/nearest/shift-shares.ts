/**
 * The cheapest shares of one set of ingredients that meet the rules.
 *
 * Method: sequential linear programs with a trust region. The margins are laid straight at the blend reached so far, a
 * linear program finds the cheapest shares by those lines, a rule that cannot be met being let off at a price, and the
 * step is taken if it brings what the lines promised, else tried shorter (Fletcher & Sainz de la Maza 1989, Math Prog
 * 43:235, from memory). The answer lies in a corner made by bounds, wanted shares and rules, where such steps close in
 * as fast as Newton's.
 */
import { WHOLE } from "../../blend.ts";
import { type Aim, costOf, partsWith } from "./aim.ts";
import { planShares } from "./plan-shares.ts";
import type { Margins, Probe } from "./probe.ts";
import { type Slopes, relaid, slopesAt } from "./slopes.ts";

export interface Shift {
  /** In the order of the movable parts; not yet whole hundredths of a percent. */
  readonly shares: readonly number[];
  readonly cost: number;
  /** Points the rules are short of, all told; 0 when they are met. */
  readonly lacking: number;
  readonly slopes: Slopes;
}

const STEPS_MOST = 24;
/** Price of a point that a rule is short of when a step is judged [hundredths of a percent] */
const JUDGED_PRICE = 5000;
/** A step keeps its promise when it brings this much more or less of it at most. */
const TRUE_WITHIN = 0.1;
/** A step that mends less of what the rules are short of is the last [part] */
const HOPELESS = 0.02;
/** A promise of less than this is not worth a step [hundredths of a percent] */
const WORTH = 0.5;

/**
 * Move the shares.
 * @param start shares inside the bounds with the right sum
 * @param spare points that every margin is to have left over
 */
export function shiftShares(
  aim: Aim,
  probe: Probe,
  start: readonly number[],
  spare: number,
): Shift {
  const pointOf = (shares: readonly number[]) => {
    const margins = probe(partsWith(aim, shares));
    const cost = costOf(aim, shares);
    const lacking = lackingOf(margins, spare);
    return { shares, margins, cost, lacking, merit: cost + JUDGED_PRICE * lacking };
  };
  const touch = (point: ReturnType<typeof pointOf>) =>
    slopesAt(partsWith(aim, point.shares), point.margins, probe);
  let here = pointOf(start);
  let slopes = touch(here);
  let reach = WHOLE;
  const isJudged = here.lacking < Infinity;
  for (let step = 0; isJudged && step < STEPS_MOST && reach > WORTH; step++) {
    const planned = planShares(aim, slopes, spare, { from: here.shares, reach });
    if (!planned) break;
    const promised = here.merit - planned.cost - JUDGED_PRICE * planned.lacking;
    if (promised < Math.max(WORTH, HOPELESS * JUDGED_PRICE * here.lacking)) break;
    const next = pointOf(planned.shares);
    const length = Math.max(...next.shares.map((share, at) => Math.abs(share - here.shares[at]!)));
    const kept = (here.merit - next.merit) / promised;
    if (kept < 0.25) reach = Math.min(reach, length) / (kept < -1 ? 4 : 2);
    else if (kept > 0.75) reach = Math.min(WHOLE, 2 * reach);
    if (kept < 0.05) continue;
    here = next;
    // Where the lines kept their promise their slopes still hold.
    const isTrue = Math.abs(kept - 1) < TRUE_WITHIN;
    slopes = isTrue ? relaid(slopes, partsWith(aim, here.shares), here.margins) : touch(here);
  }
  return { shares: here.shares, cost: here.cost, lacking: here.lacking, slopes };
}

/** What margins are short of, all told. */
export function lackingOf(margins: Margins, spare: number): number {
  return margins.reduce((sum, margin) => sum + Math.max(0, spare - margin), 0);
}
