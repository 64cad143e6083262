/**
 * The built service in a process of its own, watched from outside: memory, processor, what it wrote to its log.
 */
import { type ChildProcess, spawn } from "node:child_process";
import { openSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Measure } from "./flatness.ts";

const RSS_EVERY_MS = 2000;
/** Linux counts processor time in these [ms] */
const TICK_MS = 10;

export interface WatchedServer {
  readonly url: string;
  readonly makerLink: string;
  readonly pid: number;
  /** Memory of the process [bytes] */
  readonly rss: readonly Measure[];
  /** What was in use after the heap was cleared as a whole [bytes] */
  readonly heap: readonly Measure[];
  /** Ask it to stop. @returns its exit code */
  stop(): Promise<number | null>;
}

/**
 * @param root of the project
 * @param logFile gets what it writes to its log
 */
export async function startServer(
  root: string,
  environment: Readonly<Record<string, string>>,
  logFile: string,
): Promise<WatchedServer> {
  const watch = pathToFileURL(join(root, "tests/load/watch-heap.mjs")).href;
  const child = spawn(process.execPath, ["--import", watch, join(root, ".build/service.js")], {
    env: { ...process.env, PORT: "0", ...environment },
    stdio: ["ignore", "pipe", openSync(logFile, "w"), "ipc"],
  });
  const printed = await untilOpen(child, logFile);
  const [rss, heap]: [Measure[], Measure[]] = [[], []];
  child.on("message", (measure) => heap.push(measure as Measure));
  const pid = child.pid!;
  const watching = setInterval(
    () => rss.push({ at: Date.now(), value: memoryOf(pid) }),
    RSS_EVERY_MS,
  );
  const find = (pattern: RegExp) => pattern.exec(printed)?.[1] ?? "";
  return {
    url: find(/Shop +(http:\S+?)\/\s/),
    makerLink: find(/(http:\S+\/maker\/enter\/\S+)/),
    ...{ pid, rss, heap },
    stop: async () => {
      clearInterval(watching);
      if (child.exitCode !== null) return child.exitCode;
      return await new Promise((stopped) => {
        child.once("exit", (code) => stopped(code));
        child.kill("SIGTERM");
      });
    },
  };
}

function untilOpen(child: ChildProcess, logFile: string): Promise<string> {
  let printed = "";
  return new Promise((resolve, reject) => {
    child.stdout!.on("data", (chunk) => {
      printed += String(chunk);
      if (printed.includes("Press Ctrl+C")) resolve(printed);
    });
    child.once("close", () =>
      reject(new Error(`the service ended: ${printed}${readFileSync(logFile, "utf8")}`)),
    );
  });
}

/** Memory of a process in RAM [bytes]; Linux alone tells it so. */
function memoryOf(pid: number): number {
  const status = readFileSync(`/proc/${pid}/status`, "utf8");
  return Number(/VmRSS:\s+(\d+)/.exec(status)![1]) * 1024;
}

/** Time of the processor that a process has used so far [ms] */
export function processorMs(pid: number): number {
  const afterName = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ").at(-1)!.split(" ");
  return (Number(afterName[11]) + Number(afterName[12])) * TICK_MS;
}
