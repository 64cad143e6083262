/**
 * A fair sample of what a base allows, judged and tallied.
 *
 * While there are fewer oil combinations than blends to draw, every combination gets the same number of draws; with
 * more combinations than draws, the oils are drawn too, each combination being as likely as the next.
 */
import { BIT, REASONS, type Referee } from "./referee.ts";
import { type Chance, evenPoints } from "./sequence.ts";
import { type Point, type Space, combine, copyOf, pointIn } from "./space.ts";

/** A kind of verdict is a bit for every reason. */
const KINDS = 2 ** REASONS.length;
/** Reasons that shares can mend by degrees; the others go by what is present. */
const BY_SOLIDS = BIT["too-soft"] | BIT["too-hard"] | BIT["softens-too-low"];

export interface OptionTally {
  drawn: number;
  passed: number;
  /** The choice with this oil that came nearest to passing, or passed by most [points of solid fat]. */
  best?: { readonly point: Point; readonly margin: number };
}

export interface Tally {
  drawn: number;
  /** Draws by the bits that stand against them. */
  readonly byKind: Float64Array;
  /** By slot and option; a draw in which the share is nothing does not count for its oil. */
  readonly options: readonly (readonly OptionTally[])[];
}

/** Told of every choice that passes; the point is good until the next. */
export type Onlooker = (point: Point) => void;

/**
 * Draw and judge.
 * @param draws how many at least; rounded up so that every combination gets as many
 * @returns a generator that pauses after every judgement, and the tally at its end
 */
export function* survey(
  space: Space,
  referee: Referee,
  draws: number,
  chance: Chance,
  onlooker: Onlooker = () => undefined,
): Generator<undefined, Tally> {
  const tally: Tally = {
    drawn: 0,
    byKind: new Float64Array(KINDS),
    options: space.slots.map(({ options }) => options.map(() => ({ drawn: 0, passed: 0 }))),
  };
  if (space.lattice.count === 0 || space.combinations === 0) return tally;
  for (const point of drawPoints(space, draws, chance)) {
    const { against, margins } = referee.judge(point);
    tally.drawn++;
    tally.byKind[against]!++;
    if (against === 0) onlooker(point);
    const margin =
      (against & ~BY_SOLIDS) !== 0
        ? -Infinity
        : Math.min(margins.firmLow, margins.firmHigh, margins.softens);
    for (let at = 0; at < tally.options.length; at++) {
      if (point.shares[at] === 0) continue;
      const own = tally.options[at]![point.options[at]!]!;
      own.drawn++;
      if (against === 0) own.passed++;
      if (!own.best || margin > own.best.margin) own.best = { point: copyOf(point), margin };
    }
    yield;
  }
  return tally;
}

/** Choices drawn evenly; one and the same point, written over. */
export function* drawPoints(space: Space, draws: number, chance: Chance): Generator<Point> {
  const { slots, lattice, combinations } = space;
  const point = pointIn(space);
  const { dimensions } = lattice;
  if (combinations <= draws) {
    const at = new Float64Array(dimensions);
    const each = Math.ceil(draws / combinations);
    for (let combination = 0; combination < combinations; combination++) {
      combine(space, combination, point);
      const next = evenPoints(dimensions, chance);
      for (let i = 0; i < each; i++) {
        next(at);
        lattice.draw(at, point.shares);
        yield point;
      }
    }
    return;
  }
  const at = new Float64Array(dimensions + slots.length);
  const next = evenPoints(at.length, chance);
  for (let i = 0; i < draws; i++) {
    next(at);
    lattice.draw(at, point.shares);
    for (let slot = 0; slot < slots.length; slot++) {
      point.options[slot] = Math.floor(at[dimensions + slot]! * slots[slot]!.options.length);
    }
    yield point;
  }
}

/** The draws that came nearest to passing, each once, nearest first; none that a rule on what is present refuses. */
export function nearestMisses({ options }: Tally, most: number): Point[] {
  const bests = options.flat().flatMap(({ best }) => (best && best.margin > -Infinity ? best : []));
  const each = new Map(bests.map((best) => [`${best.point.options} ${best.point.shares}`, best]));
  return [...each.values()]
    .sort((one, other) => other.margin - one.margin)
    .slice(0, most)
    .map(({ point }) => point);
}

/** Draws that passed. */
export function passedOf({ byKind }: Tally): number {
  return byKind[0]!;
}

/** Draws for which something holds of the bits against them. */
export function countKinds({ byKind }: Tally, holds: (against: number) => boolean): number {
  return byKind.reduce((sum, count, kind) => sum + (holds(kind) ? count : 0), 0);
}
