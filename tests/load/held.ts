/**
 * The load held: how much the shop can do is measured in the first minute, then most of that comes for as long as was
 * asked while everything around the shop fails in turn, and at the end every order is looked for.
 */
import SQLite from "better-sqlite3";
import { type ChildProcess, fork } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync } from "node:fs";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { processorMs } from "../helpers/process-use.ts";
import { SERVER_KEY } from "../helpers/stripe-stand-in.ts";
import { holdDatabase } from "./database-hold.ts";
import { endOfFirstRound, planFaults } from "./fault-plan.ts";
import { accountOf } from "./losses.ts";
import type { OutsideTell, OutsideTold } from "./outside.ts";
import { type Kept, type OutboxMeasure, writeReport } from "./report.ts";
import { startServer } from "./server.ts";
import { settleAll } from "./settle.ts";
import { makeShopFile } from "./shop-file.ts";
import type { VisitorsTell, VisitorsTold } from "./visitors.ts";

const WEBHOOK_SECRET = "whsec_ofTheLoad";
const EVENT_SECRET = `whsec_${Buffer.from("a secret of thirty-two bytes, or").toString("base64")}`;
/** How much it can do is measured for a minute, in a short try for a third of it [ms] */
const MEASURED_MOST_MS = 60_000;
const MEASURED_PART = 1 / 3;
const OUTBOX_EVERY_MS = 2000;
/** With so many messages due the shop is behind, which is looked at this often while it is measured [ms] */
const BEHIND_FROM = 60;
const DOORS_EVERY_MS = 100;
/** What the measuring left waiting is told before anything is held, and what the load left before the end [ms] */
const CALM_MOST_MS = 90_000;
const CALM_WAITING = 20;

export interface HeldLoad {
  readonly root: string;
  /** Where report and plots go. */
  readonly folder: string;
  readonly minutes: number;
  readonly seed: number;
  /** Part of what the shop can do. */
  readonly part: number;
}

export async function holdLoad({ root, folder, minutes, seed, part }: HeldLoad): Promise<Kept[]> {
  mkdirSync(folder, { recursive: true });
  const migrations = join(root, "data/migrations");
  const database = join(mkdtempSync(join(tmpdir(), "softset-load-")), "shop.db");
  const [outside, visitors] = ["outside", "visitors"].map((name) =>
    fork(join(root, `.build/load/${name}.mjs`)),
  ) as [ChildProcess, ChildProcess];
  const askOutside = asking<OutsideTold, OutsideTell>(outside);
  const askVisitors = asking<VisitorsTold, VisitorsTell>(visitors);
  const secrets = { webhookSecret: WEBHOOK_SECRET, eventSecret: EVENT_SECRET };
  const { paymentsUrl, mailUrl, eventsUrl } = await askOutside(
    { what: "open", wanted: { ...secrets, seed } },
    "opened",
  );
  const events = { url: eventsUrl, secret: EVENT_SECRET };
  const apiKey = await makeShopFile(database, migrations, events);
  const logFile = join(folder, "server.log");
  const settings = settingsOf(paymentsUrl, mailUrl);
  const server = await startServer(root, settings, database, logFile);
  const { url, makerLink } = server;
  const outbox = watchOutbox(database);
  try {
    await askVisitors(
      { what: "open", wanted: { url, makerLink, apiKey, paymentsUrl, seed } },
      "opened",
    );
    const began = Date.now();
    const whole = minutes * 60_000;
    const ms = Math.min(MEASURED_MOST_MS, whole * MEASURED_PART);
    say(`measuring for ${Math.round(ms / 1000)} s how much the shop can do ...`);
    const tellVisitors = (told: VisitorsTold) => void visitors.send(told);
    const doors = setInterval(() => {
      // More than it can tell of is more than it can do.
      tellVisitors({ what: "doors", areOpen: outbox.waiting() < BEHIND_FROM });
    }, DOORS_EVERY_MS);
    const { rate: visitsASecond } = await askVisitors({ what: "measure", ms }, "measured");
    clearInterval(doors);
    await outbox.isCalm();
    const rate = part * visitsASecond;
    const heldFrom = Date.now();
    const heldMs = Math.max(ms, whole - (heldFrom - began));
    const plan = planFaults(heldFrom, heldFrom + heldMs);
    const minutesHeld = (heldMs / 60_000).toFixed(1);
    say(
      `${visitsASecond.toFixed(1)} visits a second; holding ${rate.toFixed(1)} for ${minutesHeld} min ...`,
    );
    outside.send({ what: "plan", plan } satisfies OutsideTold);
    const pids = { server: server.pid, visitors: visitors.pid!, outside: outside.pid! };
    const cpuBefore = processorsMs(pids);
    const holds = holdDatabase(database, plan);
    const { held } = await askVisitors({ what: "hold", rate, ms: heldMs, plan }, "held");
    const heldTo = Date.now();
    const cpuAfter = processorsMs(pids);
    say("looking for every order ...");
    await outbox.isCalm();
    outbox.stop();
    const exitCode = await server.stop();
    const till = tillOf(paymentsUrl);
    await settleAll({ database, migrations, url, till, mailUrl });
    const { seen } = await askOutside({ what: "sum up" }, "seen");
    const used = (name: keyof typeof pids) =>
      (cpuAfter[name] - cpuBefore[name]) / (heldTo - heldFrom);
    return writeReport(folder, {
      ...{ began, heldFrom, heldTo, plan, held, rate, exitCode },
      warmAt: endOfFirstRound(plan) ?? heldTo,
      capacity: { visitsASecond },
      injected: [...seen.injected, ...(await holds)],
      ...{ rss: server.rss, heap: server.heap, outbox: outbox.measures },
      processor: { server: used("server"), visitors: used("visitors"), outside: used("outside") },
      log: linesOf(logFile),
      account: accountOf(database, held, seen),
      setting: {
        ...{ minutes, seed, part, node: process.version, cores: availableParallelism() },
        date: new Date(began).toISOString(),
      },
    });
  } finally {
    outbox.stop();
    await server.stop();
    for (const child of [outside, visitors]) child.disconnect();
  }
}

function settingsOf(paymentsUrl: string, mailUrl: string) {
  return {
    SOFTSET_EVENTS_TO_LOOPBACK: "yes",
    ...{ STRIPE_SECRET_KEY: SERVER_KEY, STRIPE_WEBHOOK_SECRETS: WEBHOOK_SECRET },
    ...{ STRIPE_API: paymentsUrl, SOFTSET_SMTP_URL: mailUrl },
    ...{ SOFTSET_MAIL_FROM: "post@quillfen.example", SOFTSET_MAIL_TO: "bench@quillfen.example" },
  };
}

function tillOf(paymentsUrl: string) {
  const { hostname: host, port } = new URL(paymentsUrl);
  const secrets = { secretKey: SERVER_KEY, webhookSecrets: [WEBHOOK_SECRET] };
  return { ...secrets, host, port: Number(port), protocol: "http" as const };
}

/** Ask a process something and wait for its answer. @throws when it ends instead */
function asking<Told extends object, Tell extends { readonly what: string }>(child: ChildProcess) {
  return <What extends Tell["what"]>(told: Told, what: What) =>
    new Promise<Extract<Tell, { what: What }>>((resolve, reject) => {
      const ended = () => reject(new Error("a process of the load ended; see above"));
      const hear = (tell: Tell) => {
        if (tell.what !== what) return;
        child.off("message", hear);
        child.off("exit", ended);
        resolve(tell as Extract<Tell, { what: What }>);
      };
      child.on("message", hear);
      child.once("exit", ended);
      child.send(told);
    });
}

/** What waits to be told, read beside the server. */
function watchOutbox(database: string) {
  const sqlite = new SQLite(database, { readonly: true });
  const count = sqlite.prepare(
    "select count(*) n from messages where state = 'waiting' and next_at <= unixepoch()",
  );
  const waiting = () => (count.get() as { n: number }).n;
  const measures: OutboxMeasure[] = [];
  const watching = setInterval(
    () => measures.push({ at: Date.now(), waiting: waiting() }),
    OUTBOX_EVERY_MS,
  );
  return {
    ...{ measures, waiting },
    isCalm: async () => {
      const until = Date.now() + CALM_MOST_MS;
      while (waiting() > CALM_WAITING && Date.now() < until) await wait(500);
    },
    stop: () => {
      clearInterval(watching);
      if (sqlite.open) sqlite.close();
    },
  };
}

function processorsMs<Name extends string>(pids: Readonly<Record<Name, number>>) {
  const times = Object.entries<number>(pids).map(([name, pid]) => [name, processorMs(pid)]);
  return Object.fromEntries(times) as Record<Name, number>;
}

/** Lines of a log by the code or the note in them. */
function linesOf(logFile: string): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const line of readFileSync(logFile, "utf8").split("\n").filter(Boolean)) {
    const says = /"(?:code|note)":"([^"]+)"/.exec(line)?.[1] ?? line.slice(0, 120);
    counts[says] = (counts[says] ?? 0) + 1;
  }
  return counts;
}

const say = (words: string) => console.log(words);
