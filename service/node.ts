/**
 * The embedded default: Node, one SQLite file, one process.
 */
import { serve } from "@hono/node-server";
import { getConnInfo } from "@hono/node-server/conninfo";
import { type Context, Hono, type MiddlewareHandler } from "hono";
import { compress } from "hono/compress";
import type { Server } from "node:http";
import { readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { issueSignInLink } from "./actions/sign-in.ts";
import { type Gate, createApp } from "./app.ts";
import { drainable } from "./draining.ts";
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
import { logLine } from "./operations/log-line.ts";
import { countRequests } from "./operations/request-counts.ts";
import { type Answered, watchRequests } from "./operations/watch-requests.ts";
import { type OwnShop, sayOwnShop } from "./own-shop.ts";
import { type AssetBody, type Shop, openShop } from "./ports.ts";
import { makeSeals } from "./seals.ts";
import { startRounds } from "./rounds.ts";
import { metricsRoutes } from "./routes/metrics.ts";
import { type Settings, SettingsFault, readSettings } from "./settings.ts";
import { asDatabaseFault } from "./storage/database-fault.ts";
import { MigrationFault } from "./storage/migrate-file.ts";
import { type NodeDatabase, openNodeDatabase } from "./storage/node-database.ts";
import { createShop } from "./storage/new-shop.ts";
import { practiceSessionsIn } from "./storage/practice-sessions.ts";
import { seedDemo } from "./storage/seed.ts";
import { shopsIn } from "./storage/shops.ts";
import { TillMisconfigured, chooseTill } from "./tills/choose-till.ts";

const HERE = dirname(fileURLToPath(import.meta.url));

export interface RunningShop {
  readonly shop: Shop;
  readonly url: string;
  /** The shop of one's own that was made at this start. */
  readonly made: OwnShop | undefined;
  close(): Promise<void>;
}

/** Open the database, put the ports together and listen. */
export async function startShop(settings: Settings): Promise<RunningShop> {
  const db = openNodeDatabase(settings.database, MIGRATIONS_FOLDER);
  const made = await firstShop(db, settings);
  const seals = await sealsOf(settings);
  const assets = readAssets(join(HERE, "assets"));
  return await new Promise((resolve, reject) => {
    let app: Hono | undefined;
    const server = serve(
      {
        // The port may be drawn by the system, so the app is made once it is known.
        fetch: (request, env) => app!.fetch(request, env),
        hostname: settings.host,
        port: settings.port,
      },
      ({ port }) => {
        try {
          const url =
            settings.url ?? `http://${settings.host.replace("127.0.0.1", "localhost")}:${port}`;
          const shop = assemble(settings, db, seals, url, assets);
          // At the edge the network packs answers; here nobody else does.
          const courier = startCourier(shop);
          const counts = countRequests();
          const tell = (answered: Answered) => {
            counts.count(answered);
            if (settings.logsRequests) shop.log({ ...answered });
          };
          app = new Hono()
            .use(watchRequests(tell))
            .use(compress())
            .use(afterTelling(shop, courier))
            .route("/", metricsRoutes(shop, counts, settings.metricsToken))
            .route("/", createApp(shop, gateOf(settings)));
          const stopRounds = startRounds(shop);
          const close = async () => {
            await Promise.all([stop(), stopRounds(), courier.stop()]);
            db.close();
          };
          resolve({ shop, url, made, close });
        } catch (error) {
          server.close();
          db.close();
          reject(error as Error);
        }
      },
    );
    server.on("error", reject);
    const stop = drainable(server as Server);
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
  db.close();
  throw new SettingsFault(
    `The database ${database} already holds the shop ${standing.name}, so ${ownShop.name} was not opened. ` +
      "Name another file, for example: SOFTSET_DATABASE=.data/own.db",
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

function assemble(
  settings: Settings,
  db: NodeDatabase,
  seals: Shop["seals"],
  url: string,
  assets: ReadonlyMap<string, AssetBody>,
): Shop {
  const sessions = practiceSessionsIn(db);
  const till = chooseTill(settings.till, { sessions, baseUrl: url, now: () => new Date() });
  return openShop({
    db,
    till,
    practice: till.kind === "practice" ? till : undefined,
    senders: sendersOf(settings),
    clock: systemClock,
    numbers: randomNumbers,
    seals,
    url,
    asset: async (name) => assets.get(name),
    log: (line) => console.error(logLine(new Date(), line)),
  });
}

function readAssets(folder: string): ReadonlyMap<string, AssetBody> {
  return new Map(
    readdirSync(folder).map((name) => [name, new Uint8Array(readFileSync(join(folder, name)))]),
  );
}

async function main(): Promise<void> {
  const settings = readSettings(process.env);
  const running = await startShop(settings);
  if (settings.logsRequests) {
    // A log is kept and read by others, so the link that opens the maker's side does not go there.
    const signIn = "start once without SOFTSET_LOG for a sign-in link";
    running.shop.log({ note: "the shop is open", url: running.url, signIn });
  } else await greet(running);
  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    process.once(signal, () => void running.close().then(() => process.exit(0)));
  }
}

async function greet({ shop, url, made }: RunningShop): Promise<void> {
  const owner = await shop.shops.first();
  console.log(`
  ${owner?.name ?? "The shop"} is open.${made ? `\n  It is new: ${sayOwnShop(made)}. All of it can be changed under “Shop”.` : ""}

    Shop    ${url}/
    Maker   ${url}/maker
    To sign in as the maker, open this link once, within a day:
            ${owner ? await issueSignInLink(shop, owner.id) : "(no shop yet)"}
${shop.practice ? "\n    No Stripe keys are set, so the till is for practice only: no money moves.\n" : ""}
  Press Ctrl+C to stop. Starting again keeps everything and prints a new link.
`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await main().catch((error: unknown) => {
    const isSaid = [SettingsFault, TillMisconfigured, MigrationFault, KeysFault].some(
      (kind) => error instanceof kind,
    );
    if (isSaid) {
      console.error((error as Error).message);
      process.exit(1);
    }
    if ((error as NodeJS.ErrnoException).code === "EADDRINUSE") {
      console.error("That port is in use. Set PORT to another, for example: PORT=8899 npm start");
      process.exit(1);
    }
    const fault = asDatabaseFault(error);
    if (fault) {
      console.error(`${fault.message} (${String(error)}) “npx softset doctor” looks closer.`);
      process.exit(1);
    }
    throw error;
  });
}
