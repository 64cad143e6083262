/**
 * A whole shop from a file to D1 and back, by the files that wrangler takes and gives.
 */
import SQLite from "better-sqlite3";
import { existsSync, mkdtempSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { chain, firstHash } from "#service/batches/record-chain.ts";
import { runCommand } from "#service/commands/run.ts";
import { statementsOf } from "#service/operations/sql-statements.ts";
import { rowsByTable } from "#service/storage/sqlite-tables.ts";
import { migrate, startD1 } from "../../edge/local-d1.ts";
import { freshFile, openTestShop } from "../../helpers/shop.ts";

const HOSTILE = "O'Hara''); drop table shops; -- ?\nline two\u0000after a zero byte \u{1f9c8}";
/** Longer than a statement of D1 may be, with a butter that no piece may cut in two. */
const LONG = `${"it''s 'long' ".repeat(9000)}${"\u{1f9c8}".repeat(40_000)}`;

let database: string;
let script: string;
let d1: Awaited<ReturnType<typeof startD1>>;

const inFolder = (name: string) => join(mkdtempSync(join(tmpdir(), "softset-")), name);

async function run(...words: string[]) {
  const { status, stdout, stderr } = await runCommand(words);
  return { status, told: JSON.parse(stdout || stderr) as Record<string, unknown> };
}

/** Everything in a database, table by table. */
function contentsOf(file: string) {
  const sqlite = new SQLite(file, { readonly: true });
  sqlite.defaultSafeIntegers(true);
  const tables = [...rowsByTable(sqlite).keys()];
  const found = tables.map((name) => [
    name,
    sqlite.prepare(`select * from "${name}" order by rowid`).all(),
  ]);
  sqlite.close();
  return found;
}

async function split(text: string, size = 777): Promise<string[]> {
  async function* inChunks() {
    for (let at = 0; at < text.length; at += size) yield text.slice(at, at + size);
  }
  const found: string[] = [];
  for await (const statement of statementsOf(inChunks())) found.push(statement);
  return found;
}

beforeAll(async () => {
  database = freshFile();
  const shop = await openTestShop({}, database);
  for (let n = 0; n < 3; n++) {
    const { token } = await shop.quote();
    expect((await shop.post("/v1/orders", { quote: token })).status).toBe(201);
  }
  shop.close();
  const sqlite = new SQLite(database);
  sqlite
    .prepare("update orders set customer_name = ?, captured_minor = 9007199254740991")
    .run(HOSTILE);
  const batch = sqlite.prepare(
    "insert into batches (id, shop_id, number, state, work_order, issued_at) values (?,'quillfen',?,'open',?,1)",
  );
  batch.run("b", "1", LONG);
  // More than is carried out at once, in the table that wrangler writes down before all others.
  for (let more = 2; more < 20; more++) batch.run(`b${more}`, String(more), "x".repeat(60_000));
  const tip = { sequence: 0, hash: await firstHash({ shopId: "quillfen", number: "1" }) };
  const entry = { at: 1_764_000_000, by: "Hand", kind: "note" as const, body: { words: LONG } };
  for (const row of await chain(tip, [entry, entry])) {
    sqlite
      .prepare(
        "insert into batch_record values ('b', @sequence, 'quillfen', @at, @by, @kind, @body, @previousHash, @hash)",
      )
      .run(row);
  }
  sqlite.exec(
    "insert into test_jars (id, shop_id, number, title, parts, net_mg, jar_ul, days_rested, celsius, grade, lot, note, recorded_at)" +
      " values ('j','quillfen',1,'t','[]',1,1,1,0.1,'soft','','',1)",
  );
  sqlite.close();
  script = inFolder("shop.sql");
  d1 = await startD1();
  await migrate(d1.raw);
});
afterAll(() => d1.close());

describe("softset export", () => {
  it("writes statements that D1 takes, and everything arrives", async () => {
    const { status, told } = await run("export", script, "--database", database);
    expect(told).toMatchObject({ rows: { orders: 3, batch_record: 2 }, tooLong: {} });
    expect(status).toBe(0);
    expect(statSync(script).mode & 0o777).toBe(0o600);
    const statements = await split(readFileSync(script, "utf8"), 65_536);
    expect(Math.max(...statements.map((each) => Buffer.byteLength(each)))).toBeLessThan(100_000);
    await d1.raw.batch(statements.map((each) => d1.raw.prepare(each)));
    expect(await d1.raw.prepare("select count(*) as n from orders").first()).toEqual({ n: 3 });
  });

  it("refuses a database with a shop in it, which stays as it was", async () => {
    const statements = await split(readFileSync(script, "utf8"), 65_536);
    const again = d1.raw.batch(statements.map((each) => d1.raw.prepare(each)));
    await expect(again).rejects.toThrow(/must_hold/);
    expect(await d1.raw.prepare("select count(*) as n from orders").first()).toEqual({ n: 3 });
  });

  it("never goes over a file", async () => {
    expect(await run("export", script, "--database", database)).toMatchObject({
      status: 2,
      told: { code: "operations.file.taken" },
    });
  });
});

describe("softset import", () => {
  it("makes the same database of what it exported, to the bit", async () => {
    const target = freshFile();
    const { status } = await run("import", script, "--database", target);
    expect(status).toBe(0);
    expect(contentsOf(target)).toEqual(contentsOf(database));
    expect(existsSync(`${target}.import`)).toBe(false);
  });

  it.each([
    ["with its tables", 0],
    ["without them", 1],
  ])("makes the same database of what wrangler exports of D1, %s", async (_, noSchema) => {
    const dump = await d1.raw.prepare("PRAGMA miniflare_d1_export(?,?,?);").bind(noSchema, 0).raw();
    const [file, target] = [inFolder("d1.sql"), freshFile()];
    writeFileSync(file, dump[0]!.join("\n"));
    const { told } = await run("import", file, "--database", target);
    expect(told).toMatchObject({ rows: { orders: 3, batch_record: 2 } });
    expect(contentsOf(target)).toEqual(contentsOf(database));
  });

  it.each([
    ["a file that breaks off", (text: string) => text.slice(0, text.length / 2)],
    [
      "a file with a row too few",
      (text: string) => text.replace(/insert into "order_events"[^;]*;/, ""),
    ],
    ["no SQL", () => "Dear shop, here is your export."],
    ["nothing", () => ""],
  ])("makes none of %s", async (_, change) => {
    const [file, target] = [inFolder("broken.sql"), freshFile()];
    writeFileSync(file, change(readFileSync(script, "utf8")));
    const { status, told } = await run("import", file, "--database", target);
    expect([status, told["code"]]).toEqual([2, "operations.file.damaged"]);
    expect(
      [target, `${target}.part`, `${target}.import`].filter((each) => existsSync(each)),
    ).toEqual([]);
  });

  it("never goes over a database", async () => {
    const { told } = await run("import", script, "--database", database);
    expect(told["code"]).toBe("operations.file.taken");
  });
});

describe("a script", () => {
  it.each([
    ["select 1; select ';';", ["select 1;", " select ';';"]],
    ["-- a ; b ' c\nselect 'it''s; so';", ["-- a ; b ' c\nselect 'it''s; so';"]],
    ['select ";", `;`;', ['select ";", `;`;']],
    [
      "CREATE TRIGGER t BEFORE UPDATE ON a BEGIN SELECT CASE WHEN 1 THEN 2 END; DELETE FROM b; END;\nselect 1;",
      [
        "CREATE TRIGGER t BEFORE UPDATE ON a BEGIN SELECT CASE WHEN 1 THEN 2 END; DELETE FROM b; END;",
        "\nselect 1;",
      ],
    ],
  ])("is taken apart wherever its pieces end: %s", async (text, statements) => {
    for (const size of [1, 2, 7, 1000]) expect(await split(text, size)).toEqual(statements);
  });
});
