/**
 * One shop on a machine: its SQLite file, its ports put together, its app, and what it does by itself.
 */
import { getConnInfo } from "@hono/node-server/conninfo";
import { type Context, Hono, type MiddlewareHandler } from "hono";
import { compress } from "hono/compress";
import { readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Gate, createApp } from "./app.ts";
import { clientAddress } from "./guard/client-address.ts";
import { tokenBuckets } from "./guard/token-buckets.ts";
import { type Courier, startCourier } from "./messages/courier.ts";
import { createEventSender } from "./messages/event-sender-node.ts";
import { createHttpMail } from "./messages/mail-http.ts";
import { createSmtpMail } from "./messages/mail-smtp.ts";
import type { Senders } from "./messages/senders.ts";
import { MIGRATIONS_FOLDER } from "./migrations-folder.ts";
import { randomNumbers, systemClock } from "./numbers.ts";
import { KeysFault, keptKeys, keysFile } from "./operations/kept-keys.ts";
import { keepFor } from "./operations/keep-for.ts";
import type { Family } from "./operations/open-metrics.ts";
import { countRequests } from "./operations/request-counts.ts";
import { shopGauges } from "./operations/shop-gauges.ts";
import { type Answered, watchRequests } from "./operations/watch-requests.ts";
import type { OwnShop } from "./own-shop.ts";
import { type AssetBody, type Ports, type Shop, openShop } from "./ports.ts";
import { makeSeals } from "./seals.ts";
import { startRounds } from "./rounds.ts";
import { metricsRoutes } from "./routes/metrics.ts";
import { type Settings, SettingsFault } from "./settings.ts";
import { type NodeDatabase, openNodeDatabase } from "./storage/node-database.ts";
import { createShop } from "./storage/new-shop.ts";
import { practiceSessionsIn } from "./storage/practice-sessions.ts";
import { seedDemo } from "./storage/seed.ts";
import { shopsIn } from "./storage/shops.ts";
import { chooseTill } from "./tills/choose-till.ts";

const ASSETS = join(dirname(fileURLToPath(import.meta.url)), "assets");

/** What shops of one process share; none of it is anybody's. */
export type Surroundings = Pick<Ports, "asset" | "log">;

/** A shop whose database, keys and first row are there, and which nobody reaches yet. */
export interface ReadyShop {
  readonly settings: Settings;
  readonly db: NodeDatabase;
  readonly seals: Shop["seals"];
  /** The shop of one's own that was made now. */
  readonly made: OwnShop | undefined;
}

/** Counting goes through every order, so it is done this often at most; own choice [s] */
const COUNTED_EVERY_S = 10;

export interface OpenNodeShop {
  readonly shop: Shop;
  readonly app: Hono;
  /** What is counted of it. @throws when its database cannot be read; answers are counted all the same */
  counted(): Promise<Family[]>;
  /** End what it does by itself and close its file; nobody may ask it anything after. */
  stop(): Promise<void>;
}

/**
 * All that can stand against a shop, before anybody is let in.
 * @throws SettingsFault, MigrationFault, KeysFault or the engine's error; the file is then closed
 */
export async function readyShop(settings: Settings): Promise<ReadyShop> {
  const db = openNodeDatabase(settings.database, MIGRATIONS_FOLDER);
  try {
    const made = await firstShop(db, settings);
    return { settings, db, made, seals: await sealsOf(settings) };
  } catch (error) {
    db.close();
    throw error;
  }
}

/**
 * Open a shop at an address and begin what it does by itself.
 * @throws TillMisconfigured; the file is then still open
 */
export function openNodeShop(ready: ReadyShop, url: string, around: Surroundings): OpenNodeShop {
  const { settings, db } = ready;
  const shop = assembled(ready, url, around);
  const courier = startCourier(shop);
  const counts = countRequests();
  const tell = (answered: Answered) => {
    counts.count(answered);
    if (settings.logsRequests) shop.log({ ...answered });
  };
  const gauges = keepFor(shop.clock, COUNTED_EVERY_S, () => shopGauges(db));
  const counted = async () => [...counts.families(), ...(await gauges())];
  const app = new Hono()
    .use(watchRequests(tell))
    .use(variesByPacking)
    // At the edge the network packs answers; here nobody else does.
    .use(compress())
    .use(afterTelling(shop, courier))
    .route("/", metricsRoutes(counted, shop.log, settings.metricsToken))
    .route("/", createApp(shop, gateOf(settings)));
  const stopRounds = startRounds(shop);
  const stop = async () => {
    await Promise.all([stopRounds(), courier.stop()]);
    db.close();
  };
  return { shop, app, counted, stop };
}

/** Told before the answer is made: told after it, as `compress` would, the whole answer is built anew. */
const variesByPacking: MiddlewareHandler = async (c, next) => {
  c.header("vary", "Accept-Encoding");
  await next();
};

function assembled({ settings, db, seals }: ReadyShop, url: string, around: Surroundings): Shop {
  const sessions = practiceSessionsIn(db);
  const till = chooseTill(settings.till, { sessions, baseUrl: url, now: () => new Date() });
  return openShop({
    ...around,
    ...{ db, till, seals, url },
    practice: till.kind === "practice" ? till : undefined,
    senders: sendersOf(settings),
    clock: systemClock,
    numbers: randomNumbers,
  });
}

/** @throws KeysFault that quotes nothing of the keys */
async function sealsOf({ keys, database }: Settings): Promise<Shop["seals"]> {
  const text = keys ?? (await keptKeys(database));
  return await makeSeals(text).catch(() => {
    throw new KeysFault(keys ? undefined : keysFile(database));
  });
}

/**
 * See that there is a shop: one's own when the settings name it, else the demo.
 * @returns one's own, when it was made now
 * @throws SettingsFault when the database holds another shop than the one that is named
 */
async function firstShop(db: NodeDatabase, settings: Settings): Promise<OwnShop | undefined> {
  const { ownShop, database } = settings;
  if (!ownShop) {
    await seedDemo(db, systemClock.seconds());
    return undefined;
  }
  if (await createShop(db, ownShop)) return ownShop;
  const standing = (await shopsIn(db).first())!;
  if (standing.id === ownShop.id || standing.name === ownShop.name) return undefined;
  throw new SettingsFault(
    `The database ${database} already holds the shop ${standing.name}, so ${ownShop.name} was not opened. ` +
      "Each shop needs a file of its own, for example: SOFTSET_DATABASE=.data/own.db",
  );
}

/** Delivers at once what a request has written, without keeping its answer waiting. */
function afterTelling({ messages }: Shop, courier: Courier): MiddlewareHandler {
  return async (_c, next) => {
    const before = messages.told();
    await next();
    if (messages.told() !== before) courier.nudge();
  };
}

/** Limits count in memory, by the machine at the other end. */
function gateOf({ embedders, behindProxy }: Settings): Gate {
  const clientOf = (c: Context) => {
    const forwarded = behindProxy ? c.req.header("x-forwarded-for") : undefined;
    return clientAddress(getConnInfo(c).remote.address, forwarded);
  };
  const take = tokenBuckets(() => performance.now() / 1000);
  return { embedders, limiter: { clientOf, take } };
}

function sendersOf({ mail, eventsToLoopback }: Settings): Senders {
  return {
    mail:
      mail &&
      (mail.by.kind === "smtp" ? createSmtpMail(mail, mail.by) : createHttpMail(mail, mail.by)),
    events: createEventSender(eventsToLoopback),
  };
}

/** Scripts, style sheets and fonts as they were built, read once. */
export function builtAssets(): Ports["asset"] {
  const files = new Map<string, AssetBody>(
    readdirSync(ASSETS).map((name) => [name, new Uint8Array(readFileSync(join(ASSETS, name)))]),
  );
  return async (name) => files.get(name);
}
