/**
 * The Worker. `wrangler.toml` says what is bound to it: one shop, or several, of which the host name of a request picks
 * one.
 *
 * `SOFTSET_SHOPS` is then a table from host name to the name that the shop’s bindings begin with: for "MOSS" its
 * database is MOSS_DB, and the secret MOSS_SETTINGS holds its settings, a line each. Nothing else of it is bound, so
 * that a hundred shops fit among the variables a Worker may have.
 */
import { createClosedApp } from "./app.ts";
import { COUNTERS } from "./guard/edge-limits.ts";
import { Refusal } from "./problem.ts";
import { notForAll, readShopLines } from "./shop-lines.ts";
import { hostOf, isHostName, noSuchShop, urlOfHost } from "./shops-by-host.ts";
import type { D1Binding } from "./storage/d1-database.ts";
import {
  type Afterwards,
  type ShopEnv,
  type WorkerShop,
  createWorkerShop,
  edgePorts,
} from "./worker-shop.ts";

/** One of several shops. */
interface Place {
  readonly host: string;
  readonly shop: WorkerShop;
  readonly env: ShopEnv;
}

/** Whose rounds go on at once: a Worker has six connections out, and one that hangs must not hold up the rest. */
const ROUNDS_TOGETHER = 4;
const MINUTE_MS = 60_000;

export type EdgeWorker = ReturnType<typeof createWorker>;

/** What an isolate answers and does by itself. */
export function createWorker() {
  const alone = createWorkerShop();
  // What is bound never changes while an isolate lives.
  let places: ReadonlyMap<string, Place> | Refusal | undefined;
  const placesOf = (env: ShopEnv) => (places ??= readPlaces(env));

  return {
    async fetch(request: Request, env: ShopEnv, context?: Afterwards): Promise<Response> {
      if (env["SOFTSET_SHOPS"] === undefined) return alone.fetch(request, env, context);
      const shops = placesOf(env);
      const place = shops instanceof Refusal ? undefined : shops.get(hostOf(request));
      if (place) return place.shop.fetch(request, place.env, context);
      const why = shops instanceof Refusal ? shops : noSuchShop(hostOf(request));
      return createClosedApp(edgePorts(env), () => why).fetch(request);
    },
    /** Cron: what each shop does by itself. A fault of one keeps no other from its turn. */
    async scheduled(_event: unknown, env: ShopEnv): Promise<void> {
      if (env["SOFTSET_SHOPS"] === undefined) return await alone.goRound(env);
      const shops = placesOf(env);
      if (shops instanceof Refusal) return edgePorts(env).log({ error: shops.message });
      await goAllRounds([...shops.values()], Math.floor(Date.now() / MINUTE_MS));
    },
  };
}

/** @param minute whoever was last in one minute is not in the next, should a limit of the Worker cut rounds off */
async function goAllRounds(places: readonly Place[], minute: number): Promise<void> {
  const first = minute % places.length;
  const turns = [...places.slice(first), ...places.slice(0, first)].values();
  const lane = async () => {
    for (const { host, shop, env } of turns) {
      await shop.goRound(env).catch((error: unknown) => {
        edgePorts(env, host).log({
          note: "the round failed and comes again",
          error: String(error),
        });
      });
    }
  };
  await Promise.all(Array.from({ length: ROUNDS_TOGETHER }, lane));
}

/** The shops of the table; a Refusal when the table itself, which is everybody’s, cannot be used. */
function readPlaces(env: ShopEnv): ReadonlyMap<string, Place> | Refusal {
  const table = env["SOFTSET_SHOPS"];
  const rows = typeof table === "object" && table !== null ? Object.entries(table) : [];
  const faults = [
    ...notForAll(env),
    ...(rows.length > 0
      ? []
      : ['SOFTSET_SHOPS: must be a table such as { "shop.example" = "MOSS" }.']),
    ...rows.flatMap(([host, name]) => rowFaults(host, name as unknown)),
    ...(new Set(rows.map(([, name]) => name as unknown)).size === rows.length
      ? []
      : ["SOFTSET_SHOPS: each shop needs a name of its own, or two would share a database."]),
  ];
  if (faults.length > 0) return new Refusal("service.not-ready", faults.join(" "));
  const keys = new Set<string>();
  return new Map(rows.map(([host, name]) => [host, placeOf(env, host, String(name), keys)]));
}

function rowFaults(host: string, name: unknown): string[] {
  return [
    ...(isHostName(host) ? [] : [`SOFTSET_SHOPS: “${host}” is no host name.`]),
    ...(/^[A-Z][A-Z0-9]*$/.test(String(name))
      ? []
      : [`SOFTSET_SHOPS: the name for ${host} must be of capital letters and digits.`]),
  ];
}

/** @param keys of the shops before, since two with the same would believe each other’s links and quotes */
function placeOf(env: ShopEnv, host: string, name: string, keys: Set<string>): Place {
  const { variables, faults } = readShopLines(host, String(env[`${name}_SETTINGS`] ?? ""));
  const inText = faults.map((fault) => `${name}_SETTINGS: ${fault}`);
  const own = variables["SOFTSET_KEYS"] ?? "";
  if (keys.has(own)) inText.push(`${name}_SETTINGS: SOFTSET_KEYS: another shop has these keys.`);
  if (own !== "") keys.add(own);
  const counters = Object.values(COUNTERS).map((counter) => [counter, env[counter]] as const);
  const shared = { ...Object.fromEntries(counters), ASSETS: env.ASSETS };
  const bound = { ...shared, DB: env[`${name}_DB`] as D1Binding | undefined };
  const shop = createWorkerShop({ host, faults: inText });
  return { host, shop, env: { ...bound, SOFTSET_URL: urlOfHost(host), ...variables } };
}
