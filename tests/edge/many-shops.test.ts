/**
 * Several shops in one Worker, each over a D1 of its own: the host name picks one, and none is held up by another.
 */
import { sql } from "drizzle-orm";
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from "vitest";
import type { OrderAnswer, Problem, QuoteAnswer } from "#core/wire.ts";
import { makeKeys } from "#service/seals.ts";
import { type D1Binding, openD1Database } from "#service/storage/d1-database.ts";
import { eventEndpointsIn } from "#service/storage/event-endpoints.ts";
import { messagesIn } from "#service/storage/messages.ts";
import { seedDemo } from "#service/storage/seed.ts";
import type { ShopEnv } from "#service/worker-shop.ts";
import { type EdgeWorker, createWorker } from "#service/worker.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import { SECRET, SHOP, startReceiver } from "../service/messages/a-told-shop.ts";
import { memoryD1 } from "./memory-d1.ts";

const NAMES = { "moss.test": "MOSS", "lane.test": "LANE" };

const opened: ReturnType<typeof memoryD1>[] = [];
let env: ShopEnv & Record<string, unknown>;
let worker: EdgeWorker;
let receiver: Awaited<ReturnType<typeof startReceiver>>;
const logged = vi.spyOn(console, "error").mockImplementation(() => undefined);
beforeAll(async () => {
  receiver = await startReceiver();
  const ASSETS = { fetch: async () => new Response("none", { status: 404 }) };
  env = { ASSETS, SOFTSET_SHOPS: NAMES };
  for (const name of Object.values(NAMES)) {
    const database = memoryD1();
    opened.push(database);
    await seedDemo(openD1Database(database.binding), Math.floor(Date.now() / 1000));
    env[`${name}_DB`] = database.binding;
    env[`${name}_SETTINGS`] = await settingsOf();
  }
});
beforeEach(() => {
  worker = createWorker(); // each test is an isolate of its own
  logged.mockClear();
});
afterAll(async () => {
  await receiver.close();
  for (const { close } of opened) close();
  logged.mockRestore();
});

const settingsOf = async () =>
  `SOFTSET_KEYS='${await makeKeys()}'\nSOFTSET_EVENTS_TO_LOOPBACK=yes\n`;
const dbOf = (name: string) => openD1Database(env[`${name}_DB`] as D1Binding);
const ask = (host: string, path: string, init: RequestInit = {}, bound: ShopEnv = env) =>
  worker.fetch(new Request(`https://${host}${path}`, init), bound);
const post = (host: string, path: string, body: object) =>
  ask(host, path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });

async function problemAt(host: string, bound: ShopEnv = env): Promise<Problem> {
  return (await (await ask(host, "/v1/products", {}, bound)).json()) as Problem;
}

describe("a Worker with several shops", () => {
  it("answers each under its name, with its address, database and keys", async () => {
    const { token } = (await (
      await post("moss.test", "/v1/quotes", aQuoteRequest())
    ).json()) as QuoteAnswer;
    const strange = await post("lane.test", "/v1/orders", { quote: token });
    expect(((await strange.json()) as Problem).code).toBe("order.quote.altered");
    const placed = (await (
      await post("moss.test", "/v1/orders", { quote: token })
    ).json()) as OrderAnswer;
    expect(placed.orderUrl).toMatch(/^https:\/\/moss\.test\/orders\//);
    const path = new URL(placed.orderUrl).pathname;
    expect((await ask("moss.test", path)).status).toBe(200);
    expect((await ask("lane.test", path)).status).toBe(404);
    const counts = await Promise.all(
      ["MOSS", "LANE"].map((name) => dbOf(name).q.all(sql`select count(*) as n from orders`)),
    );
    expect(counts).toEqual([[{ n: 1 }], [{ n: 0 }]]);
  });

  it("has no shop under another name, and says nothing of those it has", async () => {
    for (const host of ["other.test", "softset.workers.test", "10.0.0.1"]) {
      const answer = await ask(host, "/v1/products");
      expect(answer.status).toBe(421);
      const text = await answer.text();
      expect(text).toContain("request.host.unknown");
      expect(text).not.toMatch(/moss|MOSS|lane|quill/i);
    }
  });

  it("shuts one alone whose settings, keys or database are not right", async () => {
    const broken = { ...env, MOSS_SETTINGS: "SOFTSET_KYES=hush" };
    const moss = await problemAt("moss.test", broken);
    expect(moss.code).toBe("service.not-ready");
    expect(moss.detail).toContain("MOSS_SETTINGS: SOFTSET_KYES: there is no such setting");
    expect(moss.detail).toContain("SOFTSET_KEYS is not set");
    expect(moss.detail).not.toContain("hush");
    expect((await ask("lane.test", "/v1/products", {}, broken)).status).toBe(200);
    worker = createWorker();
    const unbound = { ...env, LANE_DB: undefined };
    expect((await problemAt("lane.test", unbound)).detail).toContain("No database is bound");
    expect((await ask("moss.test", "/v1/products", {}, unbound)).status).toBe(200);
  });

  it("does not open a shop with another’s keys", async () => {
    const twin = { ...env, LANE_SETTINGS: env["MOSS_SETTINGS"] };
    expect((await problemAt("lane.test", twin)).detail).toContain("another shop has these keys");
    expect((await ask("moss.test", "/v1/products", {}, twin)).status).toBe(200);
  });

  it.each([
    ["no table", { SOFTSET_SHOPS: "moss.test" }, /must be a table/],
    ["no shop", { SOFTSET_SHOPS: {} }, /must be a table/],
    ["no host name", { SOFTSET_SHOPS: { "Moss Lane": "MOSS" } }, /is no host name/],
    ["no name", { SOFTSET_SHOPS: { "moss.test": "a b" } }, /capital letters/],
    ["one name twice", { SOFTSET_SHOPS: { "a.test": "MOSS", "b.test": "MOSS" } }, /of its own/],
    ["one shop’s secret for all", { SOFTSET_KEYS: "hush" }, /SOFTSET_KEYS: belongs to one shop/],
  ])("opens none when the table has %s, and says why", async (_, change, why) => {
    const { code, detail } = await problemAt("moss.test", { ...env, ...change });
    expect([code, detail]).toEqual(["service.not-ready", expect.stringMatching(why)]);
    expect(detail).not.toContain("hush");
  });

  it("goes a round for every shop, also when one has no database any more", async () => {
    const now = Math.floor(Date.now() / 1000);
    const db = dbOf("LANE");
    const host = { id: "h", shopId: SHOP, url: receiver.url, secret: SECRET, createdAt: 0 };
    await eventEndpointsIn(db).add(host);
    await messagesIn(db).add({
      ...{ id: "msg_lane", once: "1", shopId: SHOP, kind: "event", purpose: "trial" },
      ...{ endpointId: "h", body: "{}", state: "waiting", nextAt: now, createdAt: now },
    });
    const down = {
      prepare: () => {
        throw new Error("D1_ERROR: gone");
      },
    };
    await worker.scheduled(undefined, { ...env, MOSS_DB: down as unknown as D1Binding });
    const told = receiver.received.map(({ headers }) => headers["webhook-id"]);
    expect(told).toEqual(["msg_lane"]);
  });

  it("counts a client for each shop alone", async () => {
    const keys: string[] = [];
    const SIGN_INS = {
      limit: async ({ key }: { readonly key: string }) => {
        keys.push(key);
        return { success: !key.startsWith("moss.test") };
      },
    };
    const knock = async (host: string) => {
      const headers = { "cf-connecting-ip": "203.0.113.9" };
      const init = { method: "POST", headers };
      return (await ask(host, "/maker/enter/code", init, { ...env, SIGN_INS })).status;
    };
    expect([await knock("moss.test"), await knock("lane.test")]).toEqual([429, 403]);
    expect(keys).toEqual(["moss.test 203.0.113.9", "lane.test 203.0.113.9"]);
  });
});
