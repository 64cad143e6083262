/**
 * Looking hard for a choice that passes: a few draws all over the space, then climbs from the best of them.
 */
import { climb } from "./climb.ts";
import { BIT, type Referee } from "./referee.ts";
import type { Chance } from "./sequence.ts";
import { type Point, type Space, copyOf } from "./space.ts";
import { drawPoints } from "./survey.ts";

const DRAWS = 160;
const CLIMBS = 3;
/** What one point of a rule that cannot be climbed by solids is worth against the others [points of solid fat] */
const STEEP = 1000;

/**
 * How near a choice is to passing: the least margin in points of solid fat, far below for rules that go by what is
 * present; 0 or more only when it passes.
 */
export function nearness(referee: Referee, point: Point): number {
  const { against, margins } = referee.judge(point);
  if (against & BIT["cannot-judge"]) return -Infinity;
  const margin = Math.min(margins.firmLow, margins.firmHigh, margins.softens, STEEP / 2);
  if (against === 0) return Math.max(0, margin);
  const present = BIT["pore-rating-above"] | BIT["pore-rating-unrated"] | BIT["skin-limit"];
  return Math.min(-Number.MIN_VALUE, margin) - (against & present ? STEEP : 0);
}

/**
 * Search for a choice that passes: near choices that were met before, then near the best of a draw of its own.
 * @param starts choices met before that came near
 * @returns a generator that pauses after every judgement; at its end the choice, or nothing
 */
export function* searchPassing(
  space: Space,
  referee: Referee,
  chance: Chance,
  starts: readonly Point[] = [],
): Generator<undefined, Point | undefined> {
  if (space.lattice.count === 0 || space.combinations === 0) return undefined;
  const near = yield* searchNear(space, referee, starts);
  if (near) return near;
  const worth = (point: Point) => nearness(referee, point);
  const best: { point: Point; value: number }[] = [];
  for (const point of drawPoints(space, DRAWS, chance)) {
    const value = worth(point);
    yield;
    if (value >= 0) return copyOf(point);
    if (best.length < CLIMBS || value > best.at(-1)!.value) {
      best.push({ point: copyOf(point), value });
      best.sort((one, other) => other.value - one.value);
      best.length = Math.min(best.length, CLIMBS);
    }
  }
  const drawn = best.map(({ point }) => point);
  return yield* searchNear(space, referee, drawn);
}

/** The same near some choices alone: climbs from each. */
export function* searchNear(
  space: Space,
  referee: Referee,
  starts: readonly Point[],
): Generator<undefined, Point | undefined> {
  for (const start of starts) {
    const { point, worth } = yield* climb(space, start, (each) => nearness(referee, each), 0);
    if (worth >= 0) return point;
  }
  return undefined;
}
