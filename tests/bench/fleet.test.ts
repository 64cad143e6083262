/**
 * The model of the fleet against what queueing theory has in closed form, and its memory of pages by hand.
 */
import { describe, expect, it } from "vitest";
import { chanceFrom } from "#core/order/room/sequence.ts";
import { exponential } from "../helpers/exponential.ts";
import { Queue, Tally, keepingOf, runDatabase, zipfShares } from "./fleet-model.ts";

const CUSTOMERS = 200_000;

/** Poisson arrivals at one server whose work takes 1 on average. */
function waitsAt(use: number, workOf: (chance: () => number) => number): Tally {
  const chance = chanceFrom(7);
  const [queue, tally] = [new Queue(), new Tally()];
  let at = 0;
  for (let n = 0; n < CUSTOMERS; n++) {
    at += exponential(chance, 1 / use);
    const work = workOf(chance);
    tally.add(queue.ask(at, work), work);
  }
  return tally;
}

/** By how much a figure is off, as a share of what it should be. */
const off = (found: number, wanted: number) => Math.abs(found / wanted - 1);

describe("a queue", () => {
  it.each([0.5, 0.7])("at a use of %d waits as M/M/1 does (Erlang)", (use) => {
    const tally = waitsAt(use, (chance) => exponential(chance, 1));
    // Mean use/(1 - use); longer than t with use * exp(-(1 - use) t).
    expect(off(tally.meanS, use / (1 - use))).toBeLessThan(0.05);
    expect(off(tally.quantile(0.99), Math.log(use / 0.01) / (1 - use))).toBeLessThan(0.06);
    expect(tally.quantile(0.9 - use)).toBe(0);
  });

  it.each([0.5, 0.7])("at a use of %d waits as M/D/1 does (Pollaczek, Khinchine)", (use) => {
    const tally = waitsAt(use, () => 1);
    expect(off(tally.meanS, use / (2 * (1 - use)))).toBeLessThan(0.04);
  });

  it("turns away who would wait too long, and is then as busy as it can be", () => {
    const [queue, tally] = [new Queue(5), new Tally()];
    for (let n = 0; n < CUSTOMERS; n++) tally.add(queue.ask(n / 2, 1), 1);
    expect(off(tally.shedShare, 0.5)).toBeLessThan(0.001);
    expect(tally.quantile(1)).toBeLessThanOrEqual(5);
  });
});

describe("what an isolate keeps", () => {
  const always = () => 0;

  it("is asked for once a second, by all who come before its answer", () => {
    const keep = keepingOf({ isolates: 1, by: "second" }, always);
    const [first, twin] = [keep(1.1), keep(1.11)];
    expect([first.mustAsk, twin.mustAsk]).toEqual([true, true]);
    first.answered(1.2);
    twin.answered(1.3);
    expect(keep(1.25).mustAsk).toBe(false);
    expect(keep(2.01).mustAsk).toBe(true);
  });

  it("is asked for by one alone where the others take what was there", () => {
    const keep = keepingOf({ isolates: 1, by: "one" }, always);
    keep(1.1).answered(1.2);
    const next = keep(2.01);
    next.answered(2.5);
    expect([next.mustAsk, keep(2.02).mustAsk, keep(3).mustAsk]).toEqual([true, false, true]);
  });

  it("saves nothing where nothing is kept", () => {
    const keep = keepingOf({ isolates: 1, by: "none" }, always);
    keep(1.1).answered(1.2);
    expect(keep(1.3).mustAsk).toBe(true);
  });
});

describe("a fleet", () => {
  it("shares its visitors as Zipf says", () => {
    const shares = zipfShares(1000);
    expect(shares.reduce((sum, each) => sum + each, 0)).toBeCloseTo(1, 12);
    expect(shares[0]! / shares[9]!).toBeCloseTo(10, 12);
  });

  it("is the same again from the same seed, and a database is used as its visitors ask", () => {
    const demand = { pages: 100, cachedShare: 0.5, quoteShare: 0.1, orderShare: 0 };
    const work = { pageS: 0.002, quoteS: 0.01, orderS: 0.02 };
    const keeping = { isolates: 1, by: "none" } as const;
    const run = () =>
      runDatabase(demand, work, keeping, { seconds: 300, longestS: 10, chance: chanceFrom(5) });
    const { use, pages } = run();
    expect(off(use, 100 * (0.5 * 0.002 + 0.1 * 0.01))).toBeLessThan(0.05);
    expect([run().use, run().pages.meanS]).toEqual([use, pages.meanS]);
  });
});
