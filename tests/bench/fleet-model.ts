/**
 * A model of many shops at the edge: each database answers one query after the other, and so is a queue with one server
 * (first come, first served), while Workers are as many as there are requests. Time is made up and runs by arrivals;
 * every draw comes from a seed. Waiting is worked out with Lindley's recursion (1952), so nothing is stepped through.
 */
import type { Chance } from "#core/order/room/sequence.ts";
import { exponential } from "../helpers/exponential.ts";

/** Requests of each rank's share, 1/rank and normed (Zipf's law with exponent 1). */
export function zipfShares(count: number): Float64Array {
  const shares = Float64Array.from({ length: count }, (_, at) => 1 / (at + 1));
  const sum = shares.reduce((all, each) => all + each, 0);
  return shares.map((each) => each / sum);
}

/** What came of all that was asked of some databases. */
export class Tally {
  readonly #waits: number[] = [];
  asked = 0;
  shed = 0;
  /** Time the databases worked [s] */
  workedS = 0;

  add(waitS: number | undefined, workS: number): void {
    this.asked += 1;
    if (waitS === undefined) this.shed += 1;
    else {
      this.#waits.push(waitS);
      this.workedS += workS;
    }
  }

  /** Take over what another has counted. */
  take(other: Tally): void {
    for (const wait of other.#waits) this.#waits.push(wait);
    this.asked += other.asked;
    this.shed += other.shed;
    this.workedS += other.workedS;
  }

  /** Waiting of which a part is not over [s]; 0 when nobody asked. */
  quantile(part: number): number {
    const sorted = Float64Array.from(this.#waits).sort();
    return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? 0;
  }

  get meanS(): number {
    return this.#waits.reduce((sum, each) => sum + each, 0) / Math.max(1, this.#waits.length);
  }

  get shedShare(): number {
    return this.asked === 0 ? 0 : this.shed / this.asked;
  }
}

/** One database: what it is asked waits for all that came before. Ask in the order of time. */
export class Queue {
  #freeAtS = 0;
  readonly #longestS: number;

  /** @param longestS whoever would wait longer is turned away; never, when not said */
  constructor(longestS = Number.POSITIVE_INFINITY) {
    this.#longestS = longestS;
  }

  /** @returns how long it waits before its turn [s]; nothing when it is turned away */
  ask(atS: number, workS: number): number | undefined {
    const waitS = Math.max(0, this.#freeAtS - atS);
    if (waitS > this.#longestS) return undefined;
    this.#freeAtS = atS + waitS + workS;
    return waitS;
  }
}

/** How isolates keep what is for sale in memory, so that not every page asks the database. */
export interface Keeping {
  /** Isolates that requests of a shop fall on, evenly. */
  readonly isolates: number;
  /**
   * none: every page asks. second: what was asked in this second of the clock is good; until the answer is there, all
   * ask. one: the same, but while one asks anew, the others of its isolate take what was there before.
   */
  readonly by: "none" | "second" | "one";
}

/** One isolate's memory of one product. */
interface Kept {
  /** Second of the clock it was asked in. */
  second: number;
  /** When its answer was there. */
  readyAtS: number;
  /** When there was any answer for the first time. */
  firstAtS: number;
}

/** @returns whether a page must ask the database; whoever must says when the answer was there */
export function keepingOf({ isolates, by }: Keeping, chance: Chance) {
  const empty = (): Kept => ({ second: -1, readyAtS: Infinity, firstAtS: Infinity });
  const memory = Array.from({ length: isolates }, empty);
  return (atS: number): { mustAsk: boolean; answered: (readyAtS: number) => void } => {
    const second = Math.floor(atS);
    const kept = memory[Math.floor(chance() * isolates)]!;
    const isAsked = kept.second === second;
    const isFresh = isAsked && kept.readyAtS <= atS;
    const takesOld = by === "one" && kept.firstAtS <= atS;
    const mustAsk = by === "none" || (takesOld ? !isAsked : !isFresh);
    const answered = (readyAtS: number) => {
      if (kept.second === second && kept.readyAtS <= readyAtS) return;
      kept.second = second;
      kept.readyAtS = readyAtS;
      kept.firstAtS = Math.min(kept.firstAtS, readyAtS);
    };
    return { mustAsk, answered };
  };
}

export interface Demand {
  /** Pages a second. */
  readonly pages: number;
  /** Of all pages so many are answered before they reach a Worker. */
  readonly cachedShare: number;
  /** Of all visitors so many quote, and so many order. */
  readonly quoteShare: number;
  readonly orderShare: number;
}

/** What one request asks of its database [s of its time] */
export interface Work {
  readonly pageS: number;
  readonly quoteS: number;
  readonly orderS: number;
}

/**
 * Let the visitors of one database come for a while.
 * @returns what waited, pages and orders apart, and how the database was used
 */
export function runDatabase(
  demand: Demand,
  work: Work,
  keeping: Keeping,
  { seconds, longestS, chance }: { seconds: number; longestS: number; chance: Chance },
): { readonly pages: Tally; readonly buying: Tally; readonly use: number } {
  const [pages, buying] = [new Tally(), new Tally()];
  const queue = new Queue(longestS);
  const keep = keepingOf(keeping, chance);
  let atS = 0;
  for (;;) {
    atS += exponential(chance, 1 / demand.pages);
    if (atS >= seconds) break;
    const draw = chance();
    // Of every page seen, the visitor's next step is worked out at the same moment, which changes no rate.
    if (draw < demand.orderShare) askFor(buying, queue, atS, work.orderS, chance);
    else if (draw < demand.orderShare + demand.quoteShare)
      askFor(buying, queue, atS, work.quoteS, chance);
    if (chance() < demand.cachedShare) continue;
    const { mustAsk, answered } = keep(atS);
    if (!mustAsk) {
      pages.add(0, 0);
      continue;
    }
    const [waitS, workS] = askFor(pages, queue, atS, work.pageS, chance);
    if (waitS !== undefined) answered(atS + waitS + workS);
  }
  return { pages, buying, use: (pages.workedS + buying.workedS) / seconds };
}

function askFor(tally: Tally, queue: Queue, atS: number, meanS: number, chance: Chance) {
  const workS = exponential(chance, meanS);
  const waitS = queue.ask(atS, workS);
  tally.add(waitS, workS);
  return [waitS, workS] as const;
}
