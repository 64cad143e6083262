/**
 * One shop in a Cloudflare Worker: the same app, over D1.
 */
import { Hono } from "hono";
import { createApp, createClosedApp } from "./app.ts";
import { edgeLimits } from "./guard/edge-limits.ts";
import { deliverDue } from "./messages/deliver.ts";
import { createEdgeEventSender } from "./messages/event-sender-edge.ts";
import { createHttpMail } from "./messages/mail-http.ts";
import type { MailSettings } from "./messages/mail-settings.ts";
import type { MailSender } from "./messages/senders.ts";
import { randomNumbers, systemClock } from "./numbers.ts";
import { logToStandardError } from "./operations/log-line.ts";
import { type Ports, type Shop, openShop } from "./ports.ts";
import { Refusal } from "./problem.ts";
import { EDGE_ROUND, goRound } from "./rounds.ts";
import { type Seals, makeSeals } from "./seals.ts";
import { type Settings, SettingsFault, readSettings } from "./settings.ts";
import { type D1Binding, openD1Database } from "./storage/d1-database.ts";
import type { Database } from "./storage/database.ts";
import { migrationsHad } from "./storage/migrations-had.ts";
import { practiceSessionsIn } from "./storage/practice-sessions.ts";
import { shopsIn } from "./storage/shops.ts";
import { TillMisconfigured, chooseTill } from "./tills/choose-till.ts";

export interface ShopEnv {
  readonly DB?: D1Binding | undefined;
  readonly ASSETS: { fetch(url: string): Promise<Response> };
  /** Secrets and variables, by the names in `settings.ts`, and counters. */
  readonly [setting: string]: unknown;
}

/** What a Worker is handed to go on with after its answer. */
export interface Afterwards {
  waitUntil(work: Promise<unknown>): void;
}

/** At most three queries each: with the round of payments they stay under the 50 a Worker of a small plan has. */
const EDGE_TAKEN_MOST = 4;

interface OpenShop {
  readonly app: Hono;
  readonly shop: Shop;
}

interface OneOfSeveral {
  readonly host?: string;
  readonly faults?: readonly string[];
}

export type WorkerShop = ReturnType<typeof createWorkerShop>;

/**
 * What an isolate answers for a shop, and does for it by itself.
 * @param one where it is one of several: its host name, which the log says and the limits count by, and what is wrong
 *   with its settings already
 */
export function createWorkerShop(one: OneOfSeveral = {}) {
  // Kept once it is open. A promise of it never is: one request may not wait for another's database.
  let open: OpenShop | undefined;

  /** Open the shop. While that cannot be done: a closed app that says why; the next request tries again. */
  async function openedBy(env: ShopEnv): Promise<Hono> {
    const opened = await openShopOf(env, one);
    if (opened instanceof Hono) return opened;
    open = opened;
    return opened.app;
  }

  return {
    async fetch(request: Request, env: ShopEnv, context?: Afterwards): Promise<Response> {
      const app = open?.app ?? (await openedBy(env));
      const before = open?.shop.messages.told();
      const answer = await app.fetch(request, env);
      const wrote = open && open.shop.messages.told() !== before;
      if (wrote) context?.waitUntil(deliverDue(open!.shop, { most: EDGE_TAKEN_MOST }));
      return answer;
    },
    /** What the shop does by itself, once a minute. */
    async goRound(env: ShopEnv): Promise<void> {
      if (!open) await openedBy(env);
      if (!open) return;
      await goRound(open.shop, EDGE_ROUND);
      await deliverDue(open.shop, { most: EDGE_TAKEN_MOST });
    },
  };
}

/** The shop of what is bound, or the app that says why there is none. */
async function openShopOf(env: ShopEnv, { host, faults }: OneOfSeveral): Promise<OpenShop | Hono> {
  const ports = edgePorts(env, host);
  try {
    const { embedders, ...bound } = await boundTo(env, faults);
    const shop = openShop({ ...ports, ...bound });
    return { shop, app: createApp(shop, { embedders, limiter: edgeLimits(env, host) }) };
  } catch (error) {
    return createClosedApp(ports, () => error as Error);
  }
}

/** Files and the log, which are there whether a shop is open or not. */
export function edgePorts(
  env: Pick<ShopEnv, "ASSETS">,
  host?: string,
): Pick<Ports, "asset" | "log"> {
  const whose = host === undefined ? {} : { shop: host };
  return {
    asset: (name) => assetOf(env, name),
    log: (line) => logToStandardError({ ...whose, ...line }),
  };
}

/** What the app needs, from what is bound to the Worker. */
type Bound = Omit<Ports, "asset" | "log"> & Pick<Settings, "embedders">;

/** @throws Refusal service.not-ready that lists every fault at once */
async function boundTo(env: ShopEnv, before: readonly string[] = []): Promise<Bound> {
  const db = env.DB && openD1Database(env.DB);
  const faults = [...before, ...(db ? await databaseFaults(db) : ["No database is bound."])];
  const settings = noting(faults, () => readSettings(textsOf(env)));
  const seals = settings && (await sealsOf(faults, settings.keys));
  const url = settings?.url ?? "";
  if (settings && !url) faults.push("SOFTSET_URL, the address of the shop, is not set.");
  const practice = db && { sessions: practiceSessionsIn(db), baseUrl: url, now: () => new Date() };
  const till = settings && practice && noting(faults, () => chooseTill(settings.till, practice));
  const mail = settings?.mail && mailOf(faults, settings.mail);
  if (!db || !settings || !till || !seals || faults.length > 0) {
    throw new Refusal("service.not-ready", faults.join(" "));
  }
  return {
    db,
    till,
    practice: till.kind === "practice" ? till : undefined,
    senders: { mail, events: createEdgeEventSender(settings.eventsToLoopback) },
    embedders: settings.embedders,
    clock: systemClock,
    numbers: randomNumbers,
    seals,
    url,
  };
}

async function databaseFaults(db: Database): Promise<string[]> {
  const { missing } = await migrationsHad(db);
  if (missing.length > 0) {
    return [
      `The database has not had ${missing.join(", ")}: run “wrangler d1 migrations apply softset”.`,
    ];
  }
  if (await shopsIn(db).first()) return [];
  return [
    "There is no shop in the database: put one in with what “softset shop-sql” prints, or for a trial “softset demo-sql”.",
  ];
}

/** Variables and secrets; the other bindings are no text. */
function textsOf(env: ShopEnv): Record<string, string> {
  return Object.fromEntries(
    Object.entries(env).filter((entry): entry is [string, string] => typeof entry[1] === "string"),
  );
}

/** The text of the keys, and an error that might quote it, stay out of the fault. */
async function sealsOf(faults: string[], keys: string | undefined): Promise<Seals | undefined> {
  if (!keys) {
    faults.push("The secret SOFTSET_KEYS is not set: make one with “softset keys”.");
    return undefined;
  }
  try {
    return await makeSeals(keys);
  } catch {
    faults.push("The secret SOFTSET_KEYS is not what “softset keys” prints.");
    return undefined;
  }
}

function mailOf(faults: string[], mail: MailSettings): MailSender | undefined {
  if (mail.by.kind === "http") return createHttpMail(mail, mail.by);
  faults.push("A Worker cannot speak SMTP: set SOFTSET_MAIL_URL in place of SOFTSET_SMTP_URL.");
  return undefined;
}

function noting<Found>(faults: string[], find: () => Found): Found | undefined {
  try {
    return find();
  } catch (error) {
    if (!(error instanceof SettingsFault || error instanceof TillMisconfigured)) throw error;
    faults.push(sentence(error.message));
    return undefined;
  }
}

function sentence(text: string): string {
  const flat = text.replaceAll(/\s*\n\s*/g, " ");
  return `${flat.charAt(0).toUpperCase()}${flat.slice(1).replace(/\.?$/, ".")}`;
}

async function assetOf({ ASSETS }: Pick<ShopEnv, "ASSETS">, name: string) {
  const found = await ASSETS.fetch(`https://assets.invalid/${encodeURIComponent(name)}`);
  return found.ok && found.body ? found.body : undefined;
}
