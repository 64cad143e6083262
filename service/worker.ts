/**
 * The same app in a Cloudflare Worker, over D1. `wrangler.toml` says what is bound to it.
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
import { logLine } from "./operations/log-line.ts";
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

export interface Env {
  readonly DB: D1Binding;
  readonly ASSETS: { fetch(url: string): Promise<Response> };
  /** Secrets and variables, by the names in `settings.ts`. */
  readonly [setting: string]: unknown;
}

/** What a Worker is handed to go on with after its answer. */
interface Afterwards {
  waitUntil(work: Promise<unknown>): void;
}

/** At most three queries each: with the round of payments they stay under the 50 a Worker of a small plan has. */
const EDGE_TAKEN_MOST = 4;

interface OpenShop {
  readonly app: Hono;
  readonly shop: Shop;
}

export type EdgeWorker = ReturnType<typeof createWorker>;

/** What an isolate answers and does by itself. */
export function createWorker() {
  // Kept once it is open. A promise of it never is: one request may not wait for another's database.
  let open: OpenShop | undefined;

  /** Open the shop. While that cannot be done: a closed app that says why; the next request tries again. */
  async function openedBy(env: Env): Promise<Hono> {
    const opened = await openShopOf(env);
    if (opened instanceof Hono) return opened;
    open = opened;
    return opened.app;
  }

  return {
    async fetch(request: Request, env: Env, context?: Afterwards): Promise<Response> {
      const app = open?.app ?? (await openedBy(env));
      const before = open?.shop.messages.told();
      const answer = await app.fetch(request, env);
      const wrote = open && open.shop.messages.told() !== before;
      if (wrote) context?.waitUntil(deliverDue(open!.shop, { most: EDGE_TAKEN_MOST }));
      return answer;
    },
    /** Cron: what the shop does by itself. */
    async scheduled(_event: unknown, env: Env): Promise<void> {
      if (!open) await openedBy(env);
      if (!open) return;
      await goRound(open.shop, EDGE_ROUND);
      await deliverDue(open.shop, { most: EDGE_TAKEN_MOST });
    },
  };
}

/** The shop of what is bound, or the app that says why there is none. */
async function openShopOf(env: Env): Promise<OpenShop | Hono> {
  const ports = {
    asset: (name: string) => assetOf(env, name),
    log: (line: Readonly<Record<string, unknown>>) => console.error(logLine(new Date(), line)),
  };
  try {
    const { embedders, ...bound } = await boundTo(env);
    const shop = openShop({ ...ports, ...bound });
    return { shop, app: createApp(shop, { embedders, limiter: edgeLimits(env) }) };
  } catch (error) {
    return createClosedApp(ports, error as Error);
  }
}

/** What the app needs, from what is bound to the Worker. */
type Bound = Omit<Ports, "asset" | "log"> & Pick<Settings, "embedders">;

/** @throws Refusal service.not-ready that lists every fault at once */
async function boundTo(env: Env): Promise<Bound> {
  const db = openD1Database(env.DB);
  const faults = await databaseFaults(db);
  const settings = noting(faults, () => readSettings(textsOf(env)));
  const seals = settings && (await sealsOf(faults, settings.keys));
  const url = settings?.url ?? "";
  if (settings && !url) faults.push("SOFTSET_URL, the address of the shop, is not set.");
  const practice = { sessions: practiceSessionsIn(db), baseUrl: url, now: () => new Date() };
  const till = settings && noting(faults, () => chooseTill(settings.till, practice));
  const mail = settings?.mail && mailOf(faults, settings.mail);
  if (!settings || !till || !seals || faults.length > 0) {
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
function textsOf(env: Env): Record<string, string> {
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

async function assetOf(env: Env, name: string) {
  const found = await env.ASSETS.fetch(`https://assets.invalid/${encodeURIComponent(name)}`);
  return found.ok && found.body ? found.body : undefined;
}
