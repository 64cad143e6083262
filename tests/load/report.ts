/**
 * What a run has shown, as figures, as promises kept or not, and as pictures.
 */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Injected, type LoadError, explainErrors } from "./explain.ts";
import type { FaultSpan } from "./fault-plan.ts";
import { type Line, type Measure, leastOfSpans, lineThrough } from "./flatness.ts";
import type { Account } from "./losses.ts";
import { SPAN_MS } from "./tally.ts";
import { type Point, type TimePlot, timePlot } from "./time-plot.ts";
import type { Held } from "./visitors.ts";

/** From the end of the warm-up to the end it may grow by this part. */
const GROWTH_MOST = 0.05;
/** A line through less than this says nothing about hours [ms] */
const WATCHED_LEAST_MS = 8 * 60_000;
/** The heap is cleared as a whole at least this often, so what stays is the least of each span [ms] */
const CLEARED_MS = 30_000;
const SHOWN_MOST = 50;

/** The outbox over time, read from the file. */
export interface OutboxMeasure {
  readonly at: number;
  readonly waiting: number;
}

export interface Run {
  readonly began: number;
  readonly heldFrom: number;
  readonly heldTo: number;
  /** From here memory is looked at. */
  readonly warmAt: number;
  readonly capacity: { readonly visitsASecond: number };
  readonly rate: number;
  readonly plan: readonly FaultSpan[];
  readonly held: Held;
  readonly injected: readonly Injected[];
  readonly rss: readonly Measure[];
  readonly heap: readonly Measure[];
  readonly outbox: readonly OutboxMeasure[];
  /** Of one core, while it was held [-] */
  readonly processor: Readonly<Record<"server" | "visitors" | "outside", number>>;
  /** Lines of the server's log by what they say. */
  readonly log: Readonly<Record<string, number>>;
  readonly exitCode: number | null;
  readonly account: Account;
  readonly setting: Readonly<Record<string, string | number>>;
}

export interface Kept {
  readonly what: string;
  readonly measured: string;
  readonly promised: string;
  /** Nothing when the run was too short to say. */
  readonly good: boolean | undefined;
}

/** Write report.json and the plots into a folder. @returns the promises */
export function writeReport(folder: string, run: Run): Kept[] {
  const { held, injected, plan } = run;
  const { explained, unexplained } = explainErrors(held.tally.errors, injected);
  const memory = memoryOf(run);
  const promises = promisesOf(run, unexplained, memory);
  const requests = held.tally.kinds.reduce((sum, { whole }) => sum + whole.count, 0);
  const seconds = (run.heldTo - run.heldFrom) / 1000;
  const report = {
    promises,
    setting: run.setting,
    capacity: run.capacity,
    held: {
      ...{ seconds, visitsASecond: run.rate, visits: held.visits, turnedAway: held.turnedAway },
      ...{ requests, requestsASecond: requests / seconds },
      ...{ brokenOff: held.tally.aborted, sentAgain: held.tally.sentAgain },
    },
    errors: {
      inAll: held.tally.errorsInAll,
      share: held.tally.errorsInAll / Math.max(1, requests),
      explained: countedBy(explained, ({ error, by }) => `${error.kind}: ${error.code} by ${by}`),
      unexplained: unexplained.slice(0, SHOWN_MOST),
    },
    injected: countedBy(injected, ({ kind }) => kind),
    times: held.tally.kinds.map(({ kind, whole, calm }) => ({ kind, calm, whole })),
    memory,
    processor: run.processor,
    outbox: { waitingMost: Math.max(0, ...run.outbox.map(({ waiting }) => waiting)) },
    log: run.log,
    account: { ...run.account, faults: run.account.faults.slice(0, SHOWN_MOST) },
    plan,
    spans: held.tally.kinds.map(({ kind, spans }) => ({ kind, spans })),
  };
  writeFileSync(join(folder, "report.json"), `${JSON.stringify(report, undefined, 1)}\n`);
  drawAll(folder, run);
  return promises;
}

interface Memory {
  readonly rss: Line | undefined;
  readonly heap: Line | undefined;
}

function memoryOf({ rss, heap, warmAt, heldTo }: Run): Memory {
  if (heldTo - warmAt < WATCHED_LEAST_MS) return { rss: undefined, heap: undefined };
  const growthOf = (measures: readonly Measure[]) => {
    const watched = measures.filter(({ at }) => at >= warmAt && at <= heldTo);
    return lineThrough(leastOfSpans(watched, CLEARED_MS));
  };
  return { rss: growthOf(rss), heap: growthOf(heap) };
}

function promisesOf(run: Run, unexplained: readonly LoadError[], { rss, heap }: Memory) {
  const { account, held, log, exitCode } = run;
  const { errors, errorsInAll } = held.tally;
  const flat = (what: string, line: Line | undefined): Kept => ({
    what,
    measured: line ? percent(line.growth) : "too short to say",
    promised: `grows by ${percent(GROWTH_MOST)} at most`,
    good: line && line.growth <= GROWTH_MOST,
  });
  const none = (what: string, count: number): Kept => ({
    ...{ what, measured: String(count), promised: "none", good: count === 0 },
  });
  return [
    flat("memory of the server, after the warm-up", rss),
    flat("its heap, when cleared", heap),
    none(`lost or doubled, of ${account.paid} paid orders`, account.faults.length),
    none(`errors that no fault explains, of ${errorsInAll}`, unexplained.length),
    none("errors too many to be looked at", errorsInAll - errors.length),
    none("failures of its own in the server’s log", log["service.failed"] ?? 0),
    none("visits turned away", held.turnedAway),
    none("exit code of the server", exitCode ?? -1),
  ];
}

/** The curves of these stand in the report; of the others its figures. */
const DRAWN = ["product page", "verdict", "quote", "order", "host order", "payment event"].concat([
  "order page",
  "maker page",
  "messages page",
  "batch",
  "work order",
  "work order PDF",
]);

function drawAll(folder: string, run: Run): void {
  const { began, heldTo, plan, held, rss, heap, outbox } = run;
  const time = { begin: began, end: heldTo, faults: plan };
  const save = (name: string, plot: Pick<TimePlot, "title" | "kinds" | "panels" | "inDecades">) =>
    writeFileSync(join(folder, `${name}.svg`), timePlot({ ...time, ...plot }));
  const within = ({ at }: { readonly at: number }) => at >= began && at <= heldTo;
  const shares = ["p50", "p95", "p99"] as const;
  const kinds = DRAWN.flatMap((name) => held.tally.kinds.filter(({ kind }) => kind === name));
  save("times", {
    ...{ title: "How long answers took", kinds: shares, inDecades: true },
    panels: kinds.map(({ kind, spans }) => ({
      ...{ name: kind, unit: "ms, from when it was meant to be asked" },
      lines: shares.map((share) =>
        spans.map((span): Point => [span.from + SPAN_MS / 2, span[share]]),
      ),
    })),
  });
  const mib = (measures: readonly Measure[]) =>
    measures.filter(within).map(({ at, value }): Point => [at, value / 2 ** 20]);
  const least = leastOfSpans(heap, CLEARED_MS);
  save("memory", {
    ...{ title: "Memory of the server", kinds: ["memory"], inDecades: false },
    panels: [
      { name: "resident", unit: "MiB", lines: [mib(rss)] },
      { name: "heap in use when cleared, least of 30 s", unit: "MiB", lines: [mib(least)] },
    ],
  });
  const answered = countsOver(held);
  const errors = new Map<number, number>();
  for (const { to } of held.tally.errors) {
    const at = Math.floor(to / SPAN_MS) * SPAN_MS;
    errors.set(at, (errors.get(at) ?? 0) + 1);
  }
  const aSecond = (counts: readonly Point[]) =>
    counts.map(([at, count]): Point => [at, (count * 1000) / SPAN_MS]);
  const failed = answered.map(([at]): Point => [at, errors.get(at) ?? 0]);
  const waiting = outbox.filter(within).map((each): Point => [each.at, each.waiting]);
  save("flow", {
    ...{ title: "What came and what waited", kinds: ["count"], inDecades: false },
    panels: [
      { name: "requests of all kinds answered", unit: "a second", lines: [aSecond(answered)] },
      { name: "answered with an error", unit: "a second", lines: [aSecond(failed)] },
      { name: "mails and events that are due", unit: "in the outbox", lines: [waiting] },
    ],
  });
}

function countsOver({ tally }: Held): Point[] {
  const counts = new Map<number, number>();
  for (const { from, count } of tally.kinds.flatMap(({ spans }) => spans)) {
    counts.set(from, (counts.get(from) ?? 0) + count);
  }
  return [...counts].sort(([one], [other]) => one - other);
}

function countedBy<Thing>(things: readonly Thing[], keyOf: (thing: Thing) => string) {
  const counts: Record<string, number> = {};
  for (const each of things) counts[keyOf(each)] = (counts[keyOf(each)] ?? 0) + 1;
  return counts;
}

const percent = (part: number) => `${(part * 100).toFixed(1)} %`;
