/**
 * A shop of any earlier version opens in this one with every row and every penny, or stays exactly as it was.
 */
import SQLite from "better-sqlite3";
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { inspectFile } from "#service/operations/inspect.ts";
import { copiesOf } from "#service/operations/older-copies.ts";
import { MigrationFault } from "#service/storage/migrate-file.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { MIGRATIONS, freshFile } from "../helpers/shop.ts";
import { SCHEMAS, makeOlderShop, migrationsUpTo } from "./older-shops.ts";

const ORDERS = 21;
const NEWEST = SCHEMAS.at(-1)!;
const EARLIER = SCHEMAS.slice(0, -1);

const open = (file: string, folder = MIGRATIONS) => openNodeDatabase(file, folder).close();

/** The migrations of this version with another statement at the end of the newest. */
function withStatement(sql: string): string {
  const folder = migrationsUpTo(NEWEST);
  const file = join(folder, `${NEWEST}.sql`);
  writeFileSync(file, `${readFileSync(file, "utf8")}\n--> statement-breakpoint\n${sql}`);
  return folder;
}

function thrownBy(work: () => void): Error {
  try {
    work();
  } catch (error) {
    return error as Error;
  }
  throw new Error("nothing was thrown");
}

describe("a shop of an earlier version", () => {
  it.each(EARLIER)("%s opens with every row and every penny", async (schema) => {
    const file = freshFile();
    makeOlderShop(file, schema, ORDERS);
    const before = await inspectFile(file);
    expect(before).toMatchObject({ schema, faults: [], rows: { orders: ORDERS } });
    open(file);
    const after = await inspectFile(file);
    expect(after).toMatchObject({ schema: NEWEST, faults: [], money: before.money });
    // What a lot cost went from a table of its own to the ingredient.
    const { ingredient_costs: costs, ...kept } = before.rows;
    expect(after.rows).toMatchObject(costs === undefined ? kept : { ...kept, ingredients: costs });
    const copies = copiesOf(file);
    expect(copies.map((each) => basename(each))).toEqual([`shop.schema-${schema.slice(0, 4)}.db`]);
    expect(await inspectFile(copies[0]!)).toEqual(before);
  });

  it("keeps the money of what was captured, by each order", () => {
    const file = freshFile();
    makeOlderShop(file, SCHEMAS[0]!, ORDERS);
    open(file);
    const sqlite = new SQLite(file);
    const wrong = sqlite
      .prepare(
        "select id from orders where captured_minor is not case when state = 'in-making' then total_minor end",
      )
      .all();
    expect(wrong).toEqual([]);
    const counts = "select count(captured_minor), count(*) from orders";
    const [[captured, all]] = sqlite.prepare(counts).raw().all() as [[number, number]];
    expect([captured > 0, captured < all]).toEqual([true, true]);
    sqlite.close();
  });

  it("keeps the last three copies and leaves other files alone", () => {
    const file = freshFile();
    makeOlderShop(file, SCHEMAS[0]!, 3);
    writeFileSync(join(dirname(file), "shop.schema-mine.db"), "mine");
    for (const schema of SCHEMAS.slice(1)) open(file, migrationsUpTo(schema));
    const numbers = EARLIER.slice(-3).map((schema) => `shop.schema-${schema.slice(0, 4)}.db`);
    expect(copiesOf(file).map((each) => basename(each))).toEqual(numbers);
    expect(readdirSync(dirname(file))).toContain("shop.schema-mine.db");
  });

  it("makes no copy when nothing is due, nor for a new database", () => {
    const file = freshFile();
    open(file);
    open(file);
    expect(copiesOf(file)).toEqual([]);
  });
});

describe("a migration that cannot be carried out", () => {
  const older = SCHEMAS.at(-3)!;

  it.each([
    [
      "fails half-way",
      "insert into no_such_table values (1)",
      /0\d\d\d_\w+ failed \(no such table/,
    ],
    ["would lose rows", "delete from order_events", /21 rows of order_events would be lost/],
    [
      "would leave rows without what they belong to",
      "pragma defer_foreign_keys = on; update orders set quote_id = 'none' where id = 'o1'",
      /rows of orders would belong to nothing/,
    ],
  ])("leaves the data whole and says what to do when it %s", async (_, sql, why) => {
    const file = freshFile();
    makeOlderShop(file, older, ORDERS);
    const before = await inspectFile(file);
    const fault = thrownBy(() => open(file, withStatement(sql)));
    expect(fault).toBeInstanceOf(MigrationFault);
    expect(fault.message).toMatch(why);
    expect(fault.message).toContain("as it was before. A copy of it is at");
    expect(await inspectFile(file)).toEqual(before);
    // The older version goes on with it, and so does this one once it is mended.
    open(file, migrationsUpTo(older));
    open(file);
    expect(await inspectFile(file)).toMatchObject({ schema: NEWEST, money: before.money });
  });

  it("is not begun when there is no room for the copy", async () => {
    const file = freshFile();
    makeOlderShop(file, older, ORDERS);
    const before = await inspectFile(file);
    // A folder where the copy is written makes it fail as a full disk does.
    const part = join(dirname(file), `shop.schema-${older.slice(0, 4)}.db`);
    mkdirSync(part);
    const fault = thrownBy(() => open(file));
    expect(fault.message).toContain("No copy of the database could be kept");
    expect(await inspectFile(file)).toEqual(before);
    rmSync(part, { recursive: true });
    open(file);
    expect(existsSync(part)).toBe(true);
  });

  it("is told when an older one was merged later, which would be left out for ever", () => {
    const file = freshFile();
    const folder = migrationsUpTo(NEWEST);
    const journalFile = join(folder, "meta", "_journal.json");
    const journal = JSON.parse(readFileSync(journalFile, "utf8")) as {
      entries: { when: number }[];
    };
    open(file);
    const late = {
      ...journal.entries[1]!,
      idx: 99,
      when: journal.entries[1]!.when + 1,
      tag: "0099_late",
    };
    writeFileSync(join(folder, "0099_late.sql"), "select 1");
    writeFileSync(journalFile, JSON.stringify({ ...journal, entries: [...journal.entries, late] }));
    expect(thrownBy(() => open(file, folder)).message).toContain("0099_late is older than one");
  });

  it("is not tried on the database of a newer version", async () => {
    const file = freshFile();
    makeOlderShop(file, NEWEST, 3);
    const fault = thrownBy(() => open(file, migrationsUpTo(older)));
    expect(fault.message).toContain("by another version");
    expect(await inspectFile(file)).toMatchObject({ schema: NEWEST, faults: [] });
  });
});
