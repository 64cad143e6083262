/**
 * The service on a machine of its own: Node, a SQLite file for each shop, one process.
 */
import { fileURLToPath } from "node:url";
import { issueSignInLink } from "./actions/sign-in.ts";
import { listen } from "./listen.ts";
import { type ManyShops, startManyShops } from "./many-shops.ts";
import { type OpenNodeShop, builtAssets, openNodeShop, readyShop } from "./node-shop.ts";
import { KeysFault } from "./operations/kept-keys.ts";
import { logToStandardError } from "./operations/log-line.ts";
import { type OwnShop, sayOwnShop } from "./own-shop.ts";
import type { Shop } from "./ports.ts";
import { type Settings, SettingsFault, readSettings } from "./settings.ts";
import { asDatabaseFault } from "./storage/database-fault.ts";
import { MigrationFault } from "./storage/migrate-file.ts";
import { TillMisconfigured } from "./tills/choose-till.ts";

interface RunningShop {
  readonly shop: Shop;
  /** The shop of one's own that was made at this start. */
  readonly made: OwnShop | undefined;
  close(): Promise<void>;
}

/** Open the database, put the ports together and listen. */
async function startShop(settings: Settings): Promise<RunningShop> {
  const around = { asset: builtAssets(), log: logToStandardError };
  const ready = await readyShop(settings);
  try {
    let opened: OpenNodeShop | undefined;
    const stopListening = await listen(settings, (port) => {
      const here = `http://${settings.host.replace("127.0.0.1", "localhost")}:${port}`;
      const { app } = (opened = openNodeShop(ready, settings.url ?? here, around));
      return (request, env) => app.fetch(request, env);
    });
    const { shop, stop } = opened!;
    const close = async () => {
      await stopListening();
      await stop();
    };
    return { shop, made: ready.made, close };
  } catch (error) {
    ready.db.close();
    throw error;
  }
}

async function main(): Promise<void> {
  const running = process.env["SOFTSET_SHOPS"] ? await openMany() : await openOne();
  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    process.once(signal, () => void running.close().then(() => process.exit(0)));
  }
}

async function openOne(): Promise<RunningShop> {
  const settings = readSettings(process.env);
  const running = await startShop(settings);
  if (settings.logsRequests) sayOpen(running.shop);
  else await greet(running);
  return running;
}

async function openMany(): Promise<ManyShops> {
  const running = await startManyShops(process.env, builtAssets());
  const shops = [...running.open.values()].map(({ shop }) => shop);
  if (process.env["SOFTSET_LOG"]) shops.forEach(sayOpen);
  else await greetMany(running, shops);
  return running;
}

/** A log is kept and read by others, so the link that opens the maker's side does not go there. */
function sayOpen({ log, url }: Shop): void {
  const signIn = "start once without SOFTSET_LOG for a sign-in link";
  log({ note: "the shop is open", url, signIn });
}

async function greetMany({ closed }: ManyShops, shops: readonly Shop[]): Promise<void> {
  for (const shop of shops) {
    const owner = (await shop.shops.first())!;
    const practice = shop.practice ? "   (till for practice: no money moves)" : "";
    console.log(`\n  ${owner.name} is open${practice}
    Shop    ${shop.url}/
    Maker   ${await issueSignInLink(shop, owner.id)}`);
  }
  for (const host of closed()) console.log(`\n  ${host} is NOT open: see above.`);
  console.log(`
  Each Maker link signs its maker in once, within a day.
  Press Ctrl+C to stop. Starting again keeps everything and prints new links.
`);
}

async function greet({ shop, made }: RunningShop): Promise<void> {
  const { url } = shop;
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
