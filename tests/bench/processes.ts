/**
 * The processes that a bench of the whole service takes: the service as it is built, servers that do nothing, and the
 * load.
 */
import { type ChildProcess, fork } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { runService } from "../helpers/running-shop.ts";
import { type Times, timesOf } from "./figures.ts";

/** Top of the project; this file stands as deep as what is built of it. */
export const ROOT = fileURLToPath(new URL("../../", import.meta.url));

export interface Server {
  readonly url: string;
  readonly pid: number;
  stop(): Promise<void>;
}

export interface Service extends Server {
  readonly makerLink: string;
  readonly database: string;
}

/** Headers and body of one request. */
export interface Sent {
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
}

interface Crowd {
  readonly kind: "crowd";
  readonly url: string;
  readonly method: "GET" | "POST";
  readonly headers: Readonly<Record<string, string>>;
  /** One for all, or one each. */
  readonly bodies: readonly string[];
  readonly connections: number;
  /** How long, with one body for all; a body each lasts as long as it does. */
  readonly seconds: number;
  readonly warmUpSeconds: number;
}

interface Arrivals {
  readonly kind: "arrivals";
  readonly url: string;
  readonly method: "POST";
  readonly requests: readonly Sent[];
  /** When each is due [ms after the first clock starts] */
  readonly atMs: readonly number[];
}

export interface Loaded extends Times {
  readonly count: number;
  readonly perSecond: number;
}

/** A file for a database, in a folder of its own. */
export function placeForDatabase(): string {
  return join(mkdtempSync(join(tmpdir(), "softset-bench-")), "shop.db");
}

/** Take the folder of a database away. */
export function removeDatabase(file: string): void {
  rmSync(dirname(file), { recursive: true, force: true });
}

/** The built service on a file of its own, which goes when it stops. */
export async function startService(
  environment: Readonly<Record<string, string>> = {},
): Promise<Service> {
  const service = await runService(environment, placeForDatabase());
  return {
    ...service,
    stop: async () => {
      await service.stop();
      removeDatabase(service.database);
    },
  };
}

/** A server that answers at once. */
export async function startBare(kind: "hono" | "node"): Promise<Server> {
  const child = fork(`${ROOT}tests/bench/bare-server.mjs`);
  child.send({ kind });
  const { url } = await heard<{ url: string }>(child);
  return { url, pid: child.pid!, stop: () => ended(child) };
}

/** The first message of a process. @throws when it ends without one */
export function heard<Told>(child: ChildProcess): Promise<Told> {
  return new Promise((resolve, reject) => {
    child.once("message", (told) => resolve(told as Told));
    child.once("exit", (code) => reject(new Error(`a process of the bench ended with ${code}`)));
  });
}

async function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null) return;
  child.kill();
  await once(child, "exit");
}

/** Ask as a job says, from another process. @throws when an answer was no good one */
export async function load(job: Crowd | Arrivals): Promise<Loaded> {
  const child = fork(`${ROOT}tests/bench/load-process.mjs`);
  child.send(job);
  const told = heard<{ times: readonly number[]; seconds: number; bad: number }>(child);
  const { times, seconds, bad } = await told;
  if (times.length === 0) throw new Error(`${job.url}: no answer came in the time`);
  if (bad > 0) throw new Error(`${job.url}: ${bad} of ${times.length} answers were not good`);
  return { ...timesOf(times), count: times.length, perSecond: times.length / seconds };
}
