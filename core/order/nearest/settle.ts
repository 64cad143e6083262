/**
 * The cheapest passing blend of one set of ingredients, in whole hundredths of a percent.
 */
import { type Blend, type Part, makeBlend } from "../../blend.ts";
import type { Ingredient } from "../../ingredient.ts";
import { type JudgingGround, type RuleCheck, ruleChecker } from "../rule-check.ts";
import { type Aim, costOf, filledBy, inHundredths, insideBounds, partsWith } from "./aim.ts";
import { planShares } from "./plan-shares.ts";
import { type Probe, probeOf } from "./probe.ts";
import { type Shift, shiftShares } from "./shift-shares.ts";

/** The rules of one question, asked in two ways. */
export interface Judge {
  /** Margins alone, of shares that need not be whole numbers. */
  readonly probe: Probe;
  /** The whole rule; nothing when the parts make no blend. */
  readonly check: (parts: readonly Part[]) => { blend: Blend; check: RuleCheck } | undefined;
}

/** @param ingredients all that the parts may hold */
export function judgeOn(ground: JudgingGround, ingredients: readonly Ingredient[]): Judge {
  const check = ruleChecker(ground);
  return {
    probe: probeOf(ground, ingredients),
    check: (parts) => {
      const made = makeBlend(parts);
      return "blend" in made ? { blend: made.blend, check: check(made.blend) } : undefined;
    },
  };
}

export interface Settled {
  readonly shares: readonly number[];
  readonly cost: number;
}

/** What came of one set: shares that pass, or how near the rules it came. */
export type Outcome =
  | (Settled & { readonly passes: true; readonly shift?: Shift })
  | { readonly passes: false; readonly shift?: Shift };

/** Points to spare that are tried until the rounded shares pass. */
const SPARES = [0.0005, 0.004, 0.02, 0.1, 0.4];
/** Short of a rule by this much at most, and the rounding may mend it [points] */
const NEARLY = 0.02;
/** How far the shares may be from those the lines were laid at when they are rounded [hundredths of a percent] */
const ROUNDED_WITHIN = 150;

/**
 * Find the cheapest passing shares of an aim.
 * @param hint shares to begin at, and nowhere else, where another set of ingredients has shown the way
 */
export function settle(aim: Aim, judge: Judge, hint?: readonly number[]): Outcome {
  const start = insideBounds(aim);
  if (!start) return { passes: false };
  if (passesWith(aim, judge, start))
    return { passes: true, shares: start, cost: costOf(aim, start) };
  let best: Shift | undefined;
  for (const from of hint ? [() => hint] : startsOf(aim, judge, start)) {
    const shift = shiftShares(aim, judge.probe, from(), SPARES[0]!);
    if (!best || shift.lacking < best.lacking) best = shift;
    if (shift.lacking > NEARLY) continue;
    const rounded = roundPassing(aim, judge, shift);
    if (rounded) return { passes: true, ...rounded, shift };
  }
  return { passes: false, ...(best ? { shift: best } : {}) };
}

/**
 * Shares of the same aim that are cheaper than those found. A hard acid first softens a butter and then holds it, so
 * that lines laid where there is little of it never lead to where there is more: for each ingredient in turn the search
 * begins anew where that one alone takes all that was moved.
 * @returns the cheapest of them; nothing when none is cheaper
 */
export function settleCheaper(aim: Aim, judge: Judge, { cost }: Settled): Settled | undefined {
  const start = insideBounds(aim);
  let best: Settled | undefined;
  for (const at of start?.keys() ?? []) {
    const limit = best?.cost ?? cost;
    const shift = shiftShares(aim, judge.probe, leaning(aim, start!, at, cost / 2), SPARES[0]!);
    if (shift.lacking > NEARLY || shift.cost >= limit) continue;
    const rounded = roundPassing(aim, judge, shift);
    if (rounded && rounded.cost < limit) best = rounded;
  }
  return best;
}

/** One share risen by as much as its bound and the others allow, at the cost of those with the most to give. */
function leaning(
  { movable }: Aim,
  start: readonly number[],
  riser: number,
  most: number,
): number[] {
  const shares = [...start];
  const spareOf = (at: number) => (at === riser ? 0 : shares[at]! - movable[at]!.least);
  let rise = Math.min(most, movable[riser]!.greatest - shares[riser]!);
  for (const at of [...shares.keys()].sort((one, other) => spareOf(other) - spareOf(one))) {
    const step = Math.min(rise, spareOf(at));
    rise -= step;
    shares[at]! -= step;
    shares[riser]! += step;
  }
  return shares;
}

/** Where to begin: at the choice, then at the firmest and the softest corner, where the curves are not flat. */
function startsOf(aim: Aim, { probe }: Judge, start: readonly number[]) {
  const firmness = (ingredient: Ingredient) => {
    const margins = probe([{ ingredient, share: 1 }]);
    return margins.reduce((sum, margin, at) => {
      return Math.abs(margin) === Infinity ? sum : sum + (at === 1 ? -margin : margin);
    }, 0);
  };
  return [
    () => start,
    () => filledBy(aim, firmness),
    () => filledBy(aim, (ingredient) => -firmness(ingredient)),
  ];
}

function roundPassing(aim: Aim, judge: Judge, shift: Shift): Settled | undefined {
  const within = { from: shift.shares, reach: ROUNDED_WITHIN };
  for (const spare of SPARES) {
    const planned = planShares(aim, shift.slopes, spare, within);
    if (!planned) return undefined;
    const shares = inHundredths(aim, planned.shares);
    if (passesWith(aim, judge, shares)) return { shares, cost: costOf(aim, shares) };
  }
  return undefined;
}

function passesWith(aim: Aim, judge: Judge, shares: readonly number[]): boolean {
  return judge.check(partsWith(aim, shares))?.check.passes ?? false;
}
