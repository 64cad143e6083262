/**
 * Copies of a database: made beside a service that writes, looked through, and put back.
 */
import SQLite from "better-sqlite3";
import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { orders } from "#data/schema.ts";
import { chain, firstHash } from "#service/batches/record-chain.ts";
import { runCommand } from "#service/commands/run.ts";
import { type TestShop, freshFile, openTestShop } from "../../helpers/shop.ts";

let database: string;
let shop: TestShop;

const at = 1_764_000_000;
const inFolder = () => join(mkdtempSync(join(tmpdir(), "softset-")), "copy.db");

async function run(...words: string[]) {
  const { status, stdout, stderr } = await runCommand(words);
  return { status, told: JSON.parse(stdout || stderr) as Record<string, unknown> };
}

const backUp = (file: string) => run("backup", file, "--database", database);

async function order() {
  const { token } = await shop.quote();
  expect((await shop.post("/v1/orders", { quote: token })).status).toBe(201);
}

beforeAll(async () => {
  database = freshFile();
  shop = await openTestShop({}, database);
  await order();
  await order();
  const [first] = await shop.db.q.select().from(orders);
  const sqlite = new SQLite(database);
  sqlite
    .prepare(
      "update orders set state='paid', paid_at=1, captured_minor=5000, refunded_minor=700 where id=?",
    )
    .run(first!.id);
  sqlite
    .prepare(
      "insert into batches (id, shop_id, number, state, work_order, issued_at) values ('b','quillfen','1','open','{}',1)",
    )
    .run();
  const note = (words: string) => ({ at, by: "Hand", kind: "note" as const, body: { words } });
  const tip = { sequence: 0, hash: await firstHash({ shopId: "quillfen", number: "1" }) };
  for (const row of await chain(tip, [note("Rained"), note("Stopped")])) {
    sqlite
      .prepare(
        "insert into batch_record values ('b', @sequence, 'quillfen', @at, @by, @kind, @body, @previousHash, @hash)",
      )
      .run(row);
  }
  sqlite.close();
});
afterAll(() => shop.close());

describe("softset backup", () => {
  it("copies a database that is in use, whole, as one file that only its owner reads", async () => {
    const file = inFolder();
    const { status, told } = await backUp(file);
    expect(status).toBe(0);
    expect(told).toMatchObject({
      rows: { orders: 2, shops: 1, batch_record: 2 },
      batchRecords: { records: 1, entries: 2 },
      money: [{ currency: "GBP", orders: 2, paidOrders: 1, paidMinor: 5000, refundedMinor: 700 }],
      faults: [],
    });
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(existsSync(`${file}-wal`) || existsSync(`${file}.part`)).toBe(false);
    await order(); // the service goes on
    expect(await run("backup", "--check", file)).toMatchObject({
      status: 0,
      told: { sentence: "Whole.", rows: { orders: 2 } },
    });
  });

  it("never goes over a file, and says what to do", async () => {
    const file = inFolder();
    writeFileSync(file, "mine");
    const { status, told } = await backUp(file);
    expect([status, told["code"]]).toEqual([2, "operations.file.taken"]);
    expect(told["detail"]).toContain("it was left as it is");
    expect(readFileSync(file, "utf8")).toBe("mine");
  });

  it("makes none of a database whose record was altered beside us, and names the entry", async () => {
    const forged = freshFile();
    await run("backup", forged, "--database", database);
    const sqlite = new SQLite(forged);
    sqlite.exec("drop trigger batch_record_never_changed");
    sqlite.exec('update batch_record set body = \'{"words":"Shone"}\' where sequence = 2');
    sqlite.close();
    const file = inFolder();
    const { status, told } = await run("backup", file, "--database", forged);
    expect([status, told["code"]]).toEqual([2, "operations.file.damaged"]);
    expect(told["detail"]).toContain("Batch 1: Entry 2 was altered");
    expect([file, `${file}.part`].filter((each) => existsSync(each))).toEqual([]);
  });

  it.each([
    ["nothing", []],
    ["two files", ["a", "b"]],
    ["an option it does not have", ["a", "--loud"]],
  ])("is not run for %s", async (_, words) => {
    const { status, told } = await run("backup", ...words);
    expect([status, told["code"]]).toEqual([2, "request.command.unusable"]);
  });

  it.each([
    ["a database that is not there", () => ["x.db", "--database", "no-such.db"]],
    ["a folder that is not there", () => ["/no/such/folder/x.db", "--database", database]],
  ])("names %s", async (_, words) => {
    const { status, told } = await run("backup", ...words());
    expect([status, told["code"]]).toEqual([2, "operations.file.unreadable"]);
  });
});

describe("softset backup --check", () => {
  it("finds a page that was damaged on the disk", async () => {
    const file = inFolder();
    await backUp(file);
    const bytes = readFileSync(file);
    bytes.fill(0xa5, bytes.length - 3 * 4096, bytes.length - 4096);
    writeFileSync(file, bytes);
    const { status, told } = await run("backup", "--check", file);
    expect(status).toBe(1);
    expect((told["faults"] as string[]).length).toBeGreaterThan(0);
  });

  it("finds a row that belongs to nothing", async () => {
    const file = inFolder();
    await backUp(file);
    const sqlite = new SQLite(file);
    sqlite.pragma("foreign_keys = off");
    sqlite.exec("update orders set quote_id = 'none' where state = 'paid'");
    sqlite.close();
    const { told } = await run("backup", "--check", file);
    expect(told["faults"]).toEqual([expect.stringContaining("of orders belongs to something")]);
  });

  it("says that a file is no database", async () => {
    const file = inFolder();
    writeFileSync(file, "not a database, but long enough to be looked at".repeat(100));
    expect((await run("backup", "--check", file)).status).toBe(1);
  });
});

describe("softset restore", () => {
  it("puts a copy where there is none, with everything in it", async () => {
    const [copy, target] = [inFolder(), freshFile()];
    await backUp(copy);
    const { status, told } = await run("restore", copy, "--database", target);
    expect(status).toBe(0);
    const rows = await shop.db.q.select().from(orders);
    expect(told).toMatchObject({ rows: { orders: rows.length }, faults: [] });
    const again = await openTestShop({}, target);
    expect(await again.db.q.select().from(orders)).toEqual(rows);
    again.close();
  });

  it("never goes over a database, nor beside the log of another", async () => {
    const copy = inFolder();
    await backUp(copy);
    const before = readFileSync(database);
    expect(await run("restore", copy, "--database", database)).toMatchObject({
      status: 2,
      told: { code: "operations.file.taken" },
    });
    expect(readFileSync(database).equals(before)).toBe(true);
    const target = freshFile();
    writeFileSync(`${target}-wal`, "another's");
    expect((await run("restore", copy, "--database", target)).status).toBe(2);
    expect(existsSync(target)).toBe(false);
  });

  it("puts no damaged copy anywhere", async () => {
    const [copy, target] = [inFolder(), freshFile()];
    await backUp(copy);
    const cut = inFolder();
    copyFileSync(copy, cut);
    writeFileSync(cut, readFileSync(copy).subarray(0, 60_000));
    const { told } = await run("restore", cut, "--database", target);
    expect(told["code"]).toBe("operations.file.damaged");
    expect([target, `${target}.part`].filter((each) => existsSync(each))).toEqual([]);
  });
});
