/**
 * The least that one bound, or all of them together, would have to be let out.
 */
import { type Ailing, type Found, tried } from "./ailing.ts";
import type { Mending } from "./change.ts";
import { climb } from "./climb.ts";
import { nearness, searchPassing } from "./search.ts";
import { type Point, type Space, choiceOf, pointOf, pressInto, withBounds } from "./space.ts";

/** Let one bound out; the others stay. */
export function* mendBound(ailing: Ailing, at: number, end: "least" | "greatest"): Found {
  const { space } = ailing;
  const slot = space.slots[at]!;
  const limit = end === "least" ? 0 : space.total;
  if (slot[end] === limit || (slot[end] > limit && end === "greatest")) return undefined;
  const wide = withBounds(
    space,
    space.slots.map((each, other) => (other === at ? { ...each, [end]: limit } : each)),
  );
  const over = ({ shares }: Point) =>
    end === "least" ? slot.least - shares[at]! : shares[at]! - slot.greatest;
  const point = yield* nearestPassing(ailing, wide, over);
  if (!point || over(point) <= 0) return undefined;
  const { subject } = slot;
  const change = { kind: "bound", subject, end, from: slot[end], to: point.shares[at]! } as const;
  return tried(ailing, change, choiceOf(wide, point));
}

/** Let all bounds out by as much on both sides. */
export function* mendAllBounds(ailing: Ailing): Found {
  const { space } = ailing;
  const { slots, total } = space;
  const wide = withBounds(
    space,
    slots.map(() => ({ least: 0, greatest: total })),
  );
  const over = ({ shares }: Point) =>
    slots.reduce(
      (most, { least, greatest }, at) =>
        Math.max(most, least - shares[at]!, shares[at]! - greatest),
      0,
    );
  const point = yield* nearestPassing(ailing, wide, over);
  if (!point) return undefined;
  return tried(ailing, { kind: "all-bounds", by: over(point) }, choiceOf(wide, point));
}

/** A passing choice of a wider space with as little over the bounds as a climb can reach. */
function* nearestPassing(
  { referee, chance, misses }: Ailing,
  wide: Space,
  over: (point: Point) => number,
): Generator<undefined, Point | undefined> {
  const judge = referee.within(wide);
  const start = yield* searchPassing(wide, judge, chance, misses);
  if (!start) return undefined;
  let least = Infinity;
  const worth = (point: Point) => {
    const value = over(point);
    if (value >= least || judge.judge(point).against !== 0) return -Infinity;
    least = value;
    return -value;
  };
  return (yield* climb(wide, start, worth)).point;
}

/** Steps of halving: to a hundredth of a percent from anywhere. */
const HALVINGS = 14;

/**
 * Bring a bound's move down by halving it, climbing each time towards a choice that passes: a climb along the rules'
 * edge gets stuck sooner than one across it.
 */
export function* sharpenBound(ailing: Ailing, mending: Mending): Generator<undefined, Mending> {
  const { space, referee } = ailing;
  if (mending.change.kind !== "bound") return mending;
  const { subject, end, from } = mending.change;
  const at = space.slots.findIndex((slot) => slot.subject === subject);
  let best = mending;
  let point = pointOf(space, mending.example);
  let enough = mending.change.to;
  let short = from;
  for (let turn = 0; turn < HALVINGS && Math.abs(enough - short) > 1; turn++) {
    const to = Math.round((enough + short) / 2);
    const cut = withBounds(
      space,
      space.slots.map((each, other) => (other === at ? { ...each, [end]: to } : each)),
    );
    const start = pressInto(cut, point);
    const judge = referee.within(cut);
    const found = start && (yield* climb(cut, start, (each) => nearness(judge, each), 0));
    const change = { ...mending.change, to };
    const next =
      found && found.worth >= 0 ? tried(ailing, change, choiceOf(cut, found.point)) : undefined;
    if (next) [best, point, enough] = [next, found!.point, to];
    else short = to;
  }
  return best;
}
