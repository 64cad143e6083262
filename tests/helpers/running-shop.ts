/**
 * The built service, run as `npm start` runs it: a process of its own on a database file of its own.
 */
import { type ChildProcess, spawn } from "node:child_process";
import { openSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { freshFile } from "./shop.ts";

const SERVICE = fileURLToPath(new URL("../../.build/service.js", import.meta.url));

export interface RunningService {
  readonly url: string;
  readonly makerLink: string;
  readonly pid: number;
  readonly database: string;
  /** What it printed. */
  readonly printed: string;
  /** Ask it to stop, and wait until it has; at once when it has already. @returns its exit code */
  stop(): Promise<number | null>;
  /** End it at once, as a power cut would. */
  kill(): Promise<number | null>;
}

/** For a service that is watched for long. */
export interface Watching {
  /** A module that is loaded before the service and sends what it sees. */
  readonly preload: URL;
  readonly seen: (told: unknown) => void;
  /** File for what the service writes to its log, which else is kept with what it printed. */
  readonly logFile: string;
}

/** Start the service and wait until it has printed where it is. */
export async function runService(
  environment: Readonly<Record<string, string>> = {},
  database = freshFile(),
  watching?: Watching,
): Promise<RunningService> {
  const preload = watching ? ["--import", watching.preload.href] : [];
  const child = spawn(process.execPath, [...preload, SERVICE], {
    env: { ...process.env, PORT: "0", SOFTSET_DATABASE: database, ...environment },
    stdio: watching
      ? ["ignore", "pipe", openSync(watching.logFile, "w"), "ipc"]
      : ["ignore", "pipe", "pipe"],
  });
  if (watching) child.on("message", watching.seen);
  let printed = "";
  child.stderr?.on("data", (chunk) => (printed += String(chunk)));
  await new Promise<void>((resolve, reject) => {
    child.stdout!.on("data", (chunk) => {
      printed += String(chunk);
      if (printed.includes("Press Ctrl+C")) resolve();
    });
    // "close" comes after the last of what it printed, "exit" may come before.
    child.once("close", () => {
      const log = watching ? readFileSync(watching.logFile, "utf8") : "";
      reject(new Error(`the service ended: ${printed}${log}`));
    });
  });
  const find = (pattern: RegExp) => pattern.exec(printed)?.[1] ?? "";
  return {
    url: find(/Shop +(http:\S+?)\/\s/),
    makerLink: find(/(http:\S+\/maker\/enter\/\S+)/),
    pid: child.pid!,
    database,
    printed,
    stop: () => end(child, "SIGTERM"),
    kill: () => end(child, "SIGKILL"),
  };
}

function end(child: ChildProcess, signal: "SIGTERM" | "SIGKILL"): Promise<number | null> {
  return new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) return resolve(child.exitCode);
    child.once("exit", (code) => resolve(code));
    child.kill(signal);
  });
}
