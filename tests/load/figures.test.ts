/** What the load is judged by, on figures whose answer is known. */
import { describe, expect, it } from "vitest";
import { type Injected, explainErrors } from "./explain.ts";
import { FAULT_KINDS, endOfFirstRound, isCalm, isOn, planFaults } from "./fault-plan.ts";
import { leastOfSpans, lineThrough } from "./flatness.ts";
import { CLASS_WIDTH, Latencies, timesOf } from "./latencies.ts";
import { timePlot } from "./time-plot.ts";

describe("times of answers", () => {
  const all = Array.from({ length: 1000 }, (_, at) => (at + 1) ** 1.3 / 7);
  const latencies = new Latencies();
  for (const ms of all) latencies.add(ms);

  it.each([0.5, 0.95, 0.99, 1])("are told within a class, for the share %d", (share) => {
    const exact = all[Math.ceil(all.length * share) - 1]!;
    const told = latencies.quantile(share)!;
    expect(told).toBeGreaterThanOrEqual(exact * (1 - 1e-9));
    expect(told).toBeLessThanOrEqual(exact * (1 + CLASS_WIDTH));
  });

  it("of two counts are those of one count of all", () => {
    const [few, many, both] = [new Latencies(), new Latencies(), new Latencies()];
    for (const [at, ms] of all.entries()) (at % 3 === 0 ? few : many).add(ms);
    both.join(few);
    both.join(many);
    expect(timesOf(both)).toEqual(timesOf(latencies));
  });

  it("of nothing are none", () => {
    expect(new Latencies().quantile(0.5)).toBeUndefined();
  });
});

describe("growth", () => {
  const measures = (valueAt: (minute: number) => number) =>
    Array.from({ length: 31 }, (_, at) => ({ at: at * 60_000, value: valueAt(at) }));

  it("of a straight line is its rise over its mean", () => {
    const { atStart, atEnd, growth } = lineThrough(measures((minute) => 100 + minute))!;
    expect([atStart, atEnd]).toEqual([expect.closeTo(100), expect.closeTo(130)]);
    expect(growth).toBeCloseTo(30 / 115);
  });

  it("is not seen where a figure only goes up and down", () => {
    const { growth } = lineThrough(measures((minute) => (minute % 2 === 0 ? 100 : 120)))!;
    expect(Math.abs(growth)).toBeLessThan(0.01);
  });

  it("is not told from two measures", () => {
    expect(lineThrough(measures(() => 1).slice(0, 2))).toBeUndefined();
  });

  it("of a heap is looked at where it was least", () => {
    const least = leastOfSpans(
      [5, 3, 4, 9, 8].map((value, at) => ({ at: at * 10, value })),
      30,
    );
    expect(least.map(({ value }) => value)).toEqual([3, 8]);
  });
});

describe("the plan of faults", () => {
  it("has every kind in turn within half an hour, none beyond it, and a calm after each", () => {
    const plan = planFaults(0, 1_740_000);
    expect(new Set(plan.slice(0, FAULT_KINDS.length).map(({ kind }) => kind))).toEqual(
      new Set(FAULT_KINDS),
    );
    expect(plan.length).toBeGreaterThanOrEqual(2 * FAULT_KINDS.length);
    for (const [at, { from, to }] of plan.entries()) {
      expect(from).toBeLessThan(to);
      expect(to).toBeLessThanOrEqual(plan[at + 1]?.from ?? 1_740_000);
    }
    expect(endOfFirstRound(plan)).toBe(plan[FAULT_KINDS.length - 1]!.to);
  });

  it("says what is on, and when it is over", () => {
    const plan = [{ kind: "till-errors", from: 100, to: 200 }] as const;
    expect([99, 100, 199, 200].map((now) => isOn(plan, "till-errors", now))).toEqual([
      ...[false, true, true, false],
    ]);
    expect(isOn(plan, "till-silent", 150)).toBe(false);
    expect([99, 150, 10_199, 10_200].map((now) => isCalm(plan, now))).toEqual([
      ...[true, false, false, true],
    ]);
  });
});

describe("an error", () => {
  const error = (code: string, from: number, to: number) => ({ kind: "order", code, from, to });
  const fault = (at: number): Injected => ({ kind: "till-errors", from: at, to: at });
  const TILL = "payment.till.unavailable";

  it("is explained by one fault of the till, which explains no other", () => {
    const errors = [error(TILL, 1000, 3000), error(TILL, 1000, 2000)];
    expect(explainErrors(errors, [fault(1500)]).unexplained).toEqual([errors[0]]);
    expect(explainErrors(errors, [fault(1500), fault(2900)]).unexplained).toEqual([]);
  });

  it("is not explained by a fault before it, after it, or of another kind", () => {
    const errors = [error(TILL, 1000, 2000)];
    expect(explainErrors(errors, [fault(500), fault(2500)]).unexplained).toEqual(errors);
    const mail = { kind: "mail-refused", from: 1500, to: 1500 } as const;
    expect(explainErrors(errors, [mail]).unexplained).toEqual(errors);
  });

  it("of a database that is held is shared by all who came meanwhile", () => {
    const held = { kind: "database-busy", from: 1000, to: 7500 } as const;
    const errors = [1200, 1300, 7000].map((at) => error("service.database.busy", at, at + 900));
    expect(explainErrors(errors, [held]).explained).toHaveLength(3);
  });

  it("of the shop’s own is never explained", () => {
    const errors = [error("service.failed", 1000, 2000)];
    expect(explainErrors(errors, [fault(1500)]).unexplained).toEqual(errors);
  });
});

describe("a picture over time", () => {
  const minutes = [0, 1, 2].map((minute) => minute * 60_000);
  const line = (...values: readonly number[]) =>
    values.map((value, at) => [minutes[at]!, value] as const);
  const drawn = (inDecades: boolean, values: readonly number[]) =>
    timePlot({
      ...{ title: "Memory", kinds: ["memory"], inDecades, begin: 0, end: 120_000 },
      faults: [{ kind: "till-silent", from: 30_000, to: 60_000 }],
      panels: [{ name: "resident", unit: "MiB", lines: [line(...values)] }],
    });
  const places = (svg: string) => {
    const [, path] = /<path d="M([^"]+)"/.exec(svg)!;
    return path!.split("L").map((each) => each.split(" ").map(Number) as [number, number]);
  };

  it("has time from left to right and more further up, in equal steps from nothing", () => {
    const [[left, low], [middle, half], [right, top]] = places(drawn(false, [0, 50, 100])) as [
      ...[[number, number], [number, number], [number, number]],
    ];
    expect(middle - left).toBeCloseTo(right - middle);
    expect([low - half, half - top]).toEqual([56, 56]);
  });

  it("gives each decade as much room where that is asked for", () => {
    const [[, low], [, middle], [, top]] = places(drawn(true, [1, 10, 100])) as [
      ...[[number, number], [number, number], [number, number]],
    ];
    expect([low - middle, middle - top]).toEqual([56, 56]);
  });

  it("lays a band where a fault was, and says which", () => {
    const svg = drawn(false, [1, 1, 1]);
    const [, x, wide] = /class="band" x="([\d.]+)" y="\d+" width="([\d.]+)"/.exec(svg)!;
    const [[left], , [right]] = places(svg) as [[number], unknown, [number]];
    expect(Number(x)).toBeCloseTo(left + (right - left) / 4, 0);
    expect(Number(wide)).toBeCloseTo((right - left) / 4, 0);
    expect(svg).toContain("<title>the payment service is silent on most of its calls</title>");
  });
});
