/**
 * A table that others point at, made anew by a migration: no row of theirs may go with it, and what would take one is
 * refused, before it lands and when it runs.
 */
import SQLite from "better-sqlite3";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { inspectFile } from "#service/operations/inspect.ts";
import { MigrationFault } from "#service/storage/migrate-file.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { migrationComplaints } from "../helpers/migration-rules.ts";
import { MIGRATIONS, freshFile } from "../helpers/shop.ts";
import { SCHEMAS, makeOlderShop, withOneMore } from "./older-shops.ts";
import { BREAK, CRATES, CRATES_BY_HAND, asGenerated, cratesAndJars } from "./rebuilds.ts";

const ORDERS = 21;
const NEWEST = SCHEMAS.at(-1)!;

/** A shop of this version with two tables beside its own, of which one points at the other. */
function aShopWith(onDelete: string): string {
  const file = freshFile();
  makeOlderShop(file, NEWEST, ORDERS);
  const sqlite = new SQLite(file);
  sqlite.exec(cratesAndJars(onDelete).join(";"));
  sqlite.close();
  return file;
}

function faultOf(file: string, statements: readonly string[]): Error | undefined {
  try {
    openNodeDatabase(file, withOneMore("0099_rebuilt", statements)).close();
    return undefined;
  } catch (error) {
    return error as Error;
  }
}

describe("a migration that makes a table anew to which others belong", () => {
  it("keeps every row of theirs when it is written by hand", async () => {
    const file = aShopWith("on delete cascade");
    const before = await inspectFile(file);
    expect(faultOf(file, CRATES_BY_HAND)).toBeUndefined();
    const after = await inspectFile(file);
    expect(after).toMatchObject({ rows: before.rows, money: before.money, faults: [] });
    expect(after.rows).toMatchObject({ crates: 2, jars: 3 });
    const sqlite = new SQLite(file, { readonly: true });
    expect(sqlite.prepare("select id, crate_id from jars order by id").raw().all()).toEqual([
      ["j1", "c1"],
      ["j2", "c1"],
      ["j3", "c2"],
    ]);
    sqlite.close();
  });

  it.each([
    ["cascades", "on delete cascade", /3 rows of jars would be lost/],
    ["does not", "", /FOREIGN KEY constraint failed/],
  ])("as it is generated is undone whole where deleting %s", async (_, onDelete, why) => {
    const file = aShopWith(onDelete);
    const before = await inspectFile(file);
    const fault = faultOf(file, asGenerated("crates", CRATES));
    expect(fault).toBeInstanceOf(MigrationFault);
    expect(fault!.message).toMatch(why);
    expect(fault!.message).toContain("as it was before. A copy of it is at");
    expect(await inspectFile(file)).toEqual(before);
    expect(before.rows).toMatchObject({ crates: 2, jars: 3 });
  });
});

describe("the rules for migrations", () => {
  const ours = SCHEMAS.map((name) => ({
    name,
    sql: readFileSync(join(MIGRATIONS, `${name}.sql`), "utf8"),
  }));
  const after = (...statements: readonly string[]) =>
    migrationComplaints([...ours, { name: "next", sql: statements.join(BREAK) }]);

  it("hold for every one that has landed", () => {
    expect(migrationComplaints(ours)).toEqual([]);
  });

  it("refuse the form that is generated, for each table that another points at", () => {
    const complaints = after(...asGenerated("orders", "(id text primary key)"));
    expect(complaints).toHaveLength(3);
    expect(complaints[1]).toMatch(/^next drops orders while .*order_events.* still points at it$/);
    expect(after(...asGenerated("musts", "(ok integer not null)"))).toHaveLength(2);
  });

  it("refuse rows that go along with others, and let the form written by hand pass", () => {
    const made = "(id text, order_id text references `orders`(id) ON DELETE CASCADE)";
    expect(after(`CREATE TABLE x ${made} STRICT;`)).toEqual([
      "next lets rows be deleted or emptied along with others",
    ]);
    const standing = cratesAndJars("");
    expect(after(...standing, ...CRATES_BY_HAND)).toEqual([]);
    expect(after(...standing, "DROP TABLE crates;")).toEqual([
      "next drops crates while jars still points at it",
    ]);
  });
});
