/**
 * The ends of the room: its cheapest, dearest, softest and firmest orderable choice, found by sampling and climbing.
 * Each one passes the rules; that no better one exists is not claimed.
 */
import type { Choice, Jar } from "../../compose/product.ts";
import { type FirmnessClass, firmnessClass } from "../../judge/firmness.ts";
import { climb } from "./climb.ts";
import { type JarPrice, type Tariffs, priceOf, rateOf } from "./prices.ts";
import type { Referee } from "./referee.ts";
import { type Point, type Space, choiceOf, copyOf } from "./space.ts";

export interface RoomBlend {
  readonly choice: Choice;
  readonly firmness: FirmnessClass;
  /** Settled yield value at the use temperature [Pa] */
  readonly yieldPa: number;
  /** Settled solid fat there [% by mass] */
  readonly settledPercent: number;
  /** By jar id; empty when there are no tariffs. */
  readonly prices: Readonly<Record<string, JarPrice>>;
}

export interface Extremes {
  readonly cheapest?: RoomBlend;
  readonly dearest?: RoomBlend;
  readonly softest?: RoomBlend;
  readonly firmest?: RoomBlend;
}

type End = keyof Extremes;

/** What makes a choice more of an end; for prices without judging it. */
type Pull = (point: Point) => number;

export interface Best {
  point: Point;
  worth: number;
}

/** The best passing choices met so far, by end: fed by the survey, then climbed from. */
export interface EndSearch {
  readonly see: (point: Point) => void;
  readonly finish: () => Generator<undefined, Extremes>;
}

/**
 * Look for the ends of a room.
 * @param jars prices are told for each; the order of prices is that of the first jar with a tariff
 */
export function searchEnds(
  space: Space,
  referee: Referee,
  jars: readonly Jar[],
  tariffs: Tariffs | undefined,
): EndSearch {
  const pulls = pullsOf(space, referee, jars, tariffs);
  const best = new Map<End, Best>();
  const see = (point: Point) => {
    for (const [end, { pull }] of pulls) {
      const worth = pull(point);
      const before = best.get(end);
      if (!before) best.set(end, { point: copyOf(point), worth });
      else if (worth > before.worth) {
        before.point = copyOf(point);
        before.worth = worth;
      }
    }
  };
  function* finish(): Generator<undefined, Extremes> {
    const found: { [Name in End]?: RoomBlend } = {};
    for (const [end, { pull, needsRuling }] of pulls) {
      const start = best.get(end);
      if (!start) continue;
      let least = -Infinity;
      const worth = (point: Point) => {
        const early = needsRuling ? Infinity : pull(point);
        if (early <= least || referee.judge(point).against !== 0) return -Infinity;
        const value = needsRuling ? pull(point) : early;
        least = Math.max(least, value);
        return value;
      };
      const { point } = yield* climb(space, start.point, worth);
      found[end] = describe(space, referee, point, jars, tariffs);
    }
    return found;
  }
  return { see, finish };
}

function pullsOf(
  space: Space,
  referee: Referee,
  jars: readonly Jar[],
  tariffs: Tariffs | undefined,
) {
  const pulls = new Map<End, { readonly pull: Pull; readonly needsRuling: boolean }>();
  const tariff = jars.map(({ id }) => tariffs?.[id]).find((each) => each !== undefined);
  const rate = tariff && rateOf(space, tariff);
  if (rate) {
    pulls.set("cheapest", { pull: (point) => -rate(point), needsRuling: false });
    pulls.set("dearest", { pull: rate, needsRuling: false });
  }
  const settled = () => referee.firmness()?.yieldPa ?? NaN;
  pulls.set("softest", { pull: () => -settled(), needsRuling: true });
  pulls.set("firmest", { pull: settled, needsRuling: true });
  return pulls;
}

/** A passing choice with what a maker asks of it. */
export function describe(
  space: Space,
  referee: Referee,
  point: Point,
  jars: readonly Jar[],
  tariffs: Tariffs | undefined,
): RoomBlend {
  referee.judge(point);
  const { settledPercent, yieldPa } = referee.firmness()!;
  const priced = jars.flatMap(({ id }) => {
    const tariff = tariffs?.[id];
    return tariff ? [[id, priceOf(space, point, tariff)] as const] : [];
  });
  return {
    choice: choiceOf(space, point),
    firmness: firmnessClass(yieldPa),
    yieldPa,
    settledPercent,
    prices: Object.fromEntries(priced),
  };
}
