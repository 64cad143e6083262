/**
 * Several shops in one process, each under its host name, with a database, keys, settings, limits, messages and rounds
 * of its own. One that cannot be opened, or fails, keeps no other from its work.
 */
import { Hono } from "hono";
import { createClosedApp } from "./app.ts";
import { listen } from "./listen.ts";
import {
  type OpenNodeShop,
  type ReadyShop,
  type Surroundings,
  openNodeShop,
  readyShop,
} from "./node-shop.ts";
import { logToStandardError as log } from "./operations/log-line.ts";
import { type Family, gatherFamilies } from "./operations/open-metrics.ts";
import { countRequests } from "./operations/request-counts.ts";
import { type Answered, watchRequests } from "./operations/watch-requests.ts";
import type { Ports } from "./ports.ts";
import { Refusal } from "./problem.ts";
import { metricsRoutes } from "./routes/metrics.ts";
import { hostOf, noSuchShop, urlOfHost } from "./shops-by-host.ts";
import { readSettingsIn, readSharedSettings, shopFoldersIn } from "./shops-folder.ts";
import { type Settings, SettingsFault } from "./settings.ts";

const MINUTE_MS = 60_000;

export interface ManyShops {
  readonly port: number;
  /** Those that are open now, by host name. */
  readonly open: ReadonlyMap<string, OpenNodeShop>;
  /** Host names of those that are not; why is in the log. */
  closed(): string[];
  /** Try those again that are not open; their settings are read anew. Done every minute too. */
  tryAgain(): Promise<void>;
  close(): Promise<void>;
}

/**
 * Open every shop in the folder that `SOFTSET_SHOPS` names, and listen.
 * @param environment variables by name
 * @param asset scripts, style sheets and fonts, which are the same for all
 * @throws SettingsFault when what they share cannot be used, or there is no shop at all
 */
export async function startManyShops(
  environment: Readonly<Record<string, string | undefined>>,
  asset: Ports["asset"],
): Promise<ManyShops> {
  const shared = readSharedSettings(environment);
  const folder = environment["SOFTSET_SHOPS"]!;
  const { hosts, others } = shopFoldersIn(folder);
  for (const name of others) log({ note: "no shop, as its name is no host name", folder: name });
  const open = new Map<string, OpenNodeShop>();
  const keys = new Map<string, string>();
  const closed = () => hosts.filter((host) => !open.has(host));
  const aroundOf = (host: string) => ({
    asset,
    log: (line: Readonly<Record<string, unknown>>) => log({ shop: host, ...line }),
  });

  /** @returns the shop with its database open; nothing when it cannot be, which the log then says */
  async function readied(host: string): Promise<ReadyShop | undefined> {
    try {
      const ready = await readyShop(readSettingsIn(folder, host, environment));
      refuseSameKeys(keys, host, ready);
      return ready;
    } catch (error) {
      aroundOf(host).log({ note: NOT_OPEN, error: String(error) });
      return undefined;
    }
  }

  function openAt(host: string, ready: ReadyShop, port: number): void {
    try {
      const url = ready.settings.url ?? urlOfHost(host, port);
      open.set(host, openNodeShop(ready, url, aroundOf(host)));
    } catch (error) {
      ready.db.close();
      aroundOf(host).log({ note: NOT_OPEN, error: String(error) });
    }
  }

  const ready = new Map<string, ReadyShop>();
  for (const host of hosts) {
    const found = await readied(host);
    if (found) ready.set(host, found);
  }
  let port = 0;
  const elsewhere = answersWithoutShop(shared, { asset, log });
  const stopListening = await listen(shared, (drawn) => {
    port = drawn;
    for (const [host, each] of ready) openAt(host, each, port);
    const app = new Hono()
      .route(
        "/",
        metricsRoutes(() => countAll(hosts, open, elsewhere), log, shared.metricsToken),
      )
      .all("*", (c) => {
        const host = hostOf(c.req.raw);
        const answerer = open.get(host)?.app ?? elsewhere.appOf(hosts.includes(host));
        return answerer.fetch(c.req.raw, c.env);
      });
    return (request, env) => app.fetch(request, env);
  }).catch((error: unknown) => {
    for (const { db } of ready.values()) db.close();
    throw error;
  });

  let trying: Promise<void> | undefined;
  async function openClosed(): Promise<void> {
    for (const host of closed()) {
      const found = await readied(host);
      if (found) openAt(host, found, port);
    }
  }
  const tryAgain = () => {
    trying ??= openClosed().finally(() => (trying = undefined));
    return trying;
  };
  const timer = setInterval(() => void tryAgain(), MINUTE_MS);
  const close = async () => {
    clearInterval(timer);
    await Promise.all([stopListening(), trying]);
    await Promise.all([...open.values()].map((each) => each.stop()));
  };
  return { port, open, closed, tryAgain, close };
}

const NOT_OPEN = "the shop could not be opened; it is tried again every minute";

/**
 * Two shops with the same keys would believe each other’s links and quotes: one is a copy of the other’s folder.
 * @param known public keys by host name, as each shop had them last
 * @throws SettingsFault for the second; its file is then closed
 */
function refuseSameKeys(known: Map<string, string>, host: string, { seals, db }: ReadyShop): void {
  const key = seals.publicKeys().keys[0]!.x!;
  const owner = [...known].find(([name, theirs]) => name !== host && theirs === key)?.[0];
  if (owner === undefined) {
    known.set(host, key);
    return;
  }
  db.close();
  throw new SettingsFault(
    `It has the keys of ${owner}. A shop needs keys and a database of its own: begin it with an empty folder.`,
  );
}

/** What is answered where no shop is open: none of that name, or one that cannot be opened. */
function answersWithoutShop({ logsRequests }: Settings, around: Surroundings) {
  const counts = countRequests();
  const tell = (answered: Answered) => {
    counts.count(answered);
    if (logsRequests) around.log({ ...answered });
  };
  const answering = (why: (request: Request) => Refusal) =>
    new Hono().use(watchRequests(tell)).route("/", createClosedApp(around, why));
  const unknown = answering((request) => noSuchShop(hostOf(request)));
  const shut = answering(notOpen);
  return { counts, appOf: (isKnown: boolean) => (isKnown ? shut : unknown) };
}

/** Why stands in the log alone: it may name files of this machine. */
function notOpen(): Refusal {
  return new Refusal(
    "service.not-open",
    "This shop cannot be opened at the moment. Nothing in it is lost; please try again in a minute. If you run it: the " +
      "log says why, and what you mend is tried every minute.",
    { retryAfterS: MINUTE_MS / 1000 },
  );
}

async function countAll(
  hosts: readonly string[],
  open: ReadonlyMap<string, OpenNodeShop>,
  { counts }: ReturnType<typeof answersWithoutShop>,
): Promise<Family[]> {
  const sources: [string, readonly Family[]][] = [["", counts.families()]];
  for (const host of hosts) {
    const shop = open.get(host);
    const families = await shop?.counted().catch((error: unknown) => {
      log({ shop: host, note: "the shop could not be counted", error: String(error) });
      return undefined;
    });
    sources.push([host, [...(families ?? []), countedFamily(families !== undefined)]]);
  }
  return gatherFamilies("shop", sources);
}

/** A shop that is not counted must not simply be missing. */
function countedFamily(isCounted: boolean): Family {
  const help = "1 while a shop is open and its database answers.";
  const samples = [{ ending: "", labels: "", value: isCounted ? 1 : 0 }];
  return { name: "softset_shop_up", type: "gauge", help, samples };
}
