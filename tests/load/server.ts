/**
 * The built service with its memory watched from outside, and its heap from within.
 */
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { residentBytes } from "../helpers/process-use.ts";
import { type RunningService, runService } from "../helpers/running-shop.ts";
import type { Measure } from "./flatness.ts";

const RSS_EVERY_MS = 2000;

export interface WatchedServer extends RunningService {
  /** Memory of the process [bytes] */
  readonly rss: readonly Measure[];
  /** What was in use after the heap was cleared as a whole [bytes] */
  readonly heap: readonly Measure[];
}

/**
 * @param root of the project
 * @param logFile gets what it writes to its log
 */
export async function startServer(
  root: string,
  environment: Readonly<Record<string, string>>,
  database: string,
  logFile: string,
): Promise<WatchedServer> {
  const [rss, heap]: [Measure[], Measure[]] = [[], []];
  const service = await runService(environment, database, {
    preload: pathToFileURL(join(root, "tests/load/watch-heap.mjs")),
    seen: (measure) => heap.push(measure as Measure),
    logFile,
  });
  const { pid } = service;
  const watching = setInterval(
    () => rss.push({ at: Date.now(), value: residentBytes(pid) }),
    RSS_EVERY_MS,
  );
  return {
    ...{ ...service, rss, heap },
    stop: async () => {
      clearInterval(watching);
      return await service.stop();
    },
  };
}
