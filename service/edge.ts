/**
 * The edge: the same app in a Cloudflare Worker, over D1. `wrangler.toml` says what is bound to it.
 */
import type { Hono } from "hono";
import { createApp, createClosedApp } from "./app.ts";
import { randomNumbers, systemClock } from "./numbers.ts";
import { type Ports, openShop } from "./ports.ts";
import { Refusal } from "./problem.ts";
import { type Seals, makeSeals } from "./seals.ts";
import { SettingsFault, readSettings } from "./settings.ts";
import { type D1Binding, missingMigrations, openD1Database } from "./storage/d1-database.ts";
import type { Database } from "./storage/database.ts";
import { practiceSessionsIn } from "./storage/practice-sessions.ts";
import { shopsIn } from "./storage/shops.ts";
import { TillMisconfigured, chooseTill } from "./tills/choose-till.ts";

export interface Env {
  readonly DB: D1Binding;
  readonly ASSETS: { fetch(url: string): Promise<Response> };
  /** Secrets and variables, by the names in `settings.ts`. */
  readonly [setting: string]: unknown;
}

/** The open app of this isolate. A promise of it is never kept: one request may not wait for another's database. */
let open: Hono | undefined;

export default {
  async fetch(request: Request, env: Env): Promise<Response> {
    const app = open ?? (await openApp(env));
    return await app.fetch(request, env);
  },
};

/** Open the shop and keep it. While that cannot be done: a closed app that says why; the next request tries again. */
async function openApp(env: Env): Promise<Hono> {
  const ports = {
    asset: (name: string) => assetOf(env, name),
    log: (line: object) => console.error(JSON.stringify(line)),
  };
  try {
    open = createApp(openShop({ ...ports, ...(await portsOf(env)) }));
    return open;
  } catch (error) {
    return createClosedApp(ports, error as Error);
  }
}

/**
 * What the app needs, from what is bound to the Worker.
 * @throws Refusal service.not-ready that lists every fault at once
 */
async function portsOf(env: Env): Promise<Omit<Ports, "asset" | "log">> {
  const db = openD1Database(env.DB);
  const faults = await databaseFaults(db);
  const settings = noting(faults, () => readSettings(textsOf(env)));
  const seals = settings && (await sealsOf(faults, settings.keys));
  const url = settings?.url ?? "";
  if (settings && !url) faults.push("SOFTSET_URL, the address of the shop, is not set.");
  const practice = { sessions: practiceSessionsIn(db), baseUrl: url, now: () => new Date() };
  const till = settings && noting(faults, () => chooseTill(settings.till, practice));
  if (!till || !seals || faults.length > 0) {
    throw new Refusal("service.not-ready", faults.join(" "));
  }
  return {
    db,
    till,
    practice: till.kind === "practice" ? till : undefined,
    clock: systemClock,
    numbers: randomNumbers,
    seals,
    url,
  };
}

async function databaseFaults(db: Database): Promise<string[]> {
  const missing = await missingMigrations(db);
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
