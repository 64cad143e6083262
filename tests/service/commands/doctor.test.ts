/**
 * The doctor names each thing that is wrong, with the way to mend it, and changes nothing.
 */
import SQLite from "better-sqlite3";
import { chmodSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runCommand } from "#service/commands/run.ts";
import type { Word } from "#service/operations/doctor/word.ts";
import { NODE_LEAST, aboutNode, aboutSettings } from "#service/operations/doctor/settings.ts";
import { keptKeys, keysFile } from "#service/operations/kept-keys.ts";
import { freshFile, openTestShop } from "../../helpers/shop.ts";
import { SCHEMAS, makeOlderShop } from "../../migrations/older-shops.ts";

const NOW = Math.floor(Date.now() / 1000);
const DAY = 24 * 3600;

let file: string;
let before: NodeJS.ProcessEnv;
beforeEach(async () => {
  file = freshFile();
  (await openTestShop({}, file)).close();
  await keptKeys(file);
  before = process.env;
  const ours = /^(SOFTSET|STRIPE)_/;
  process.env = Object.fromEntries(Object.entries(before).filter(([name]) => !ours.test(name)));
});
afterEach(() => {
  process.env = before;
});

async function doctor() {
  const { status, stdout } = await runCommand(["doctor", "--json", "--database", file]);
  const { words } = JSON.parse(stdout) as { words: Word[] };
  const of = (about: string) => words.filter((word) => word.about === about);
  return { status, words, of };
}

function change(sql: string): void {
  const sqlite = new SQLite(file);
  sqlite.pragma("foreign_keys = off");
  sqlite.exec(sql);
  sqlite.close();
}

const anOrder = (id: string, rest: string) =>
  `insert into quotes values ('${id}', 'quillfen', 'everyday', 1, '{}', '[]', 1, 2);
   insert into orders (id, shop_id, reference, quote_id, snapshot, total_minor, currency, till_kind, till_key, state,
     placed_at, pending_since) values ('${id}', 'quillfen', '${id}', '${id}', '{}', 1, 'GBP', 'stripe', '${id}', ${rest})`;

describe("softset doctor", () => {
  it("finds nothing to mend in a sound shop, and says so in words", async () => {
    expect(await doctor()).toMatchObject({ status: 0 });
    const { status, stdout } = await runCommand(["doctor", "--database", file]);
    expect(status).toBe(0);
    expect(stdout).toContain("ok  database");
    expect(stdout.trim().endsWith("The shop can do its work.")).toBe(true);
  });

  it("has nothing against a machine where nothing was started yet", async () => {
    file = freshFile();
    const { status, of } = await doctor();
    expect(status).toBe(0);
    expect(of("database")).toEqual([
      expect.objectContaining({
        state: "look",
        sentence: expect.stringContaining("first start makes it"),
      }),
    ]);
  });

  it("lists all faults of the settings at once, and quotes no secret", async () => {
    Object.assign(process.env, {
      PORT: "many",
      SOFTSET_URL: "shop",
      SOFTSET_METRICS_TOKEN: "short",
    });
    const { status, of } = await doctor();
    expect(status).toBe(1);
    const told = of("settings").map(({ sentence }) => sentence.split(":")[0]);
    expect(told).toEqual(["PORT", "SOFTSET_URL", "SOFTSET_METRICS_TOKEN"]);
    expect(JSON.stringify(of("settings"))).not.toContain("short");
  });

  it.each([
    [{ STRIPE_SECRET_KEY: "sk_live_abc" }, "till", "mend", "no Stripe webhook secret"],
    [
      { STRIPE_SECRET_KEY: "sk_test_abc", STRIPE_WEBHOOK_SECRETS: "whsec_a" },
      "till",
      "look",
      "for tests",
    ],
    [
      { STRIPE_SECRET_KEY: "sk_live_abc", STRIPE_WEBHOOK_SECRETS: "whsec_a" },
      "url",
      "mend",
      "https",
    ],
    [{}, "mail", "look", "mails wait"],
    [{}, "till", "look", "for practice"],
  ])("with %j says of %s", (environment, about, state, words) => {
    const found = aboutSettings(environment).words.find((word) => word.about === about);
    expect(found).toMatchObject({ state, sentence: expect.stringContaining(words) });
    expect(JSON.stringify(found)).not.toContain("abc");
  });

  it("misses the keys of a shop that has a database, and knows those that are none", async () => {
    writeFileSync(keysFile(file), "{}");
    const spoilt = await doctor();
    expect(spoilt.status).toBe(1);
    expect(spoilt.of("keys")[0]!.sentence).toContain("Put back the keys this shop had");
    rmSync(keysFile(file));
    expect((await doctor()).of("keys")[0]).toMatchObject({ state: "mend" });
    await keptKeys(file);
    chmodSync(keysFile(file), 0o644);
    expect((await doctor()).of("keys")[0]!.sentence).toContain("chmod 600");
  });

  it.each([
    [
      "an order that nobody pays",
      anOrder("o1", `'placed', ${NOW - 2 * DAY}, null`),
      "orders.unpaid",
      "mend",
    ],
    [
      "a slow payment",
      anOrder("o1", `'placed', ${NOW - 20 * DAY}, ${NOW - 20 * DAY}`),
      "orders.slow",
      "look",
    ],
    ["an order that is held", anOrder("o1", `'held', ${NOW}, null`), "orders.held", "look"],
    [
      "an event nobody worked through",
      `insert into payment_events values ('e', 't', 's', ${NOW - DAY}, null)`,
      "payments.events",
      "mend",
    ],
    [
      "a message that failed",
      `insert into messages (id, shop_id, kind, purpose, to_whom, once, state, next_at, created_at)
         values ('m', 'quillfen', 'mail', 'p', 'maker', 'o', 'failed', 1, ${NOW})`,
      "messages.failed",
      "look",
    ],
    [
      "a message that waits",
      `insert into messages (id, shop_id, kind, purpose, to_whom, once, state, next_at, created_at)
         values ('m', 'quillfen', 'mail', 'p', 'maker', 'o', 'waiting', 1, ${NOW - 2 * DAY})`,
      "messages.waiting",
      "look",
    ],
    [
      "a clock that went back",
      `${anOrder("o1", `'paid', ${NOW}, null`)};
       insert into order_events (order_id, at, who, what) values ('o1', ${NOW + 7200}, 'service', 'x')`,
      "clock",
      "mend",
    ],
    [
      "tables of a newer version",
      "insert into __drizzle_migrations values (1, 'x', 9999999999999)",
      "database.tables",
      "mend",
    ],
    [
      "a row that belongs to nothing",
      `${anOrder("o1", "'paid', 1, null")}; delete from quotes`,
      "database",
      "mend",
    ],
  ])("names %s", async (_, sql, about, state) => {
    expect((await doctor()).of(about)[0]).toMatchObject({ state: "well" });
    change(sql);
    const { status, of } = await doctor();
    expect(of(about)[0]).toMatchObject({ state });
    expect(status).toBe(state === "mend" ? 1 : 0);
  });

  it("says of an older schema that the next start mends it", async () => {
    file = freshFile();
    makeOlderShop(file, SCHEMAS[0]!, 3);
    await keptKeys(file);
    const { status, of } = await doctor();
    expect(status).toBe(0);
    expect(of("database.tables")[0]!.sentence).toContain("keeps a copy");
  });

  it("names a damaged file and which copy to take", async () => {
    file = freshFile();
    makeOlderShop(file, SCHEMAS.at(-2)!, 300);
    (await openTestShop({}, file)).close();
    await keptKeys(file);
    const bytes = readFileSync(file);
    bytes.fill(0xa5, bytes.length - 20 * 4096);
    writeFileSync(file, bytes);
    const { status, of } = await doctor();
    expect(status).toBe(1);
    expect(of("database").length).toBeGreaterThan(0);
    expect(of("database.restore")[0]!.sentence).toContain(
      `schema-${SCHEMAS.at(-2)!.slice(0, 4)}.db`,
    );
  });

  it("knows when the last backup was, and where it went", async () => {
    expect((await doctor()).of("database.backup")[0]).toMatchObject({ state: "look" });
    const copy = freshFile();
    expect((await runCommand(["backup", copy, "--database", file])).status).toBe(0);
    const { of } = await doctor();
    expect(of("database.backup")[0]).toMatchObject({
      state: "well",
      sentence: expect.stringContaining(copy),
    });
  });
});

describe("the version of Node", () => {
  it("is the one that package.json asks for", () => {
    const { engines } = JSON.parse(
      readFileSync(new URL("../../../package.json", import.meta.url), "utf8"),
    ) as { engines: { node: string } };
    expect(engines.node).toBe(`>=${NODE_LEAST.join(".")}`);
  });

  it.each([
    ["v20.19.0", "well"],
    ["v20.18.9", "mend"],
    ["v22.0.0", "well"],
    ["v18.99.0", "mend"],
  ])("%s: %s", (version, state) => expect(aboutNode(version).state).toBe(state));
});
