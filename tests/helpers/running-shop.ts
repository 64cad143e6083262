/**
 * The built service, run as `npm start` runs it: a process of its own on a database file of its own.
 */
import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { freshFile } from "./shop.ts";

const SERVICE = fileURLToPath(new URL("../../.build/service.js", import.meta.url));

export interface RunningService {
  readonly url: string;
  readonly makerLink: string;
  readonly database: string;
  /** What it printed. */
  readonly printed: string;
  /** Ask it to stop, and wait until it has. */
  stop(): Promise<number | null>;
  /** End it at once, as a power cut would. */
  kill(): Promise<number | null>;
}

/** Start the service and wait until it has printed where it is. */
export async function runService(
  environment: Readonly<Record<string, string>> = {},
  database = freshFile(),
): Promise<RunningService> {
  const child = spawn(process.execPath, [SERVICE], {
    env: { ...process.env, PORT: "0", SOFTSET_DATABASE: database, ...environment },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let printed = "";
  child.stderr.on("data", (chunk) => (printed += String(chunk)));
  await new Promise<void>((resolve, reject) => {
    child.stdout.on("data", (chunk) => {
      printed += String(chunk);
      if (printed.includes("Press Ctrl+C")) resolve();
    });
    // "close" comes after the last of what it printed, "exit" may come before.
    child.once("close", () => reject(new Error(`the service ended: ${printed}`)));
  });
  const find = (pattern: RegExp) => pattern.exec(printed)?.[1] ?? "";
  return {
    url: find(/Shop +(http:\S+?)\/\s/),
    makerLink: find(/(http:\S+\/maker\/enter\/\S+)/),
    database,
    printed,
    stop: () => end(child, "SIGTERM"),
    kill: () => end(child, "SIGKILL"),
  };
}

function end(child: ChildProcess, signal: "SIGTERM" | "SIGKILL"): Promise<number | null> {
  return new Promise((resolve) => {
    child.once("exit", (code) => resolve(code));
    child.kill(signal);
  });
}
