/**
 * Where D1 differs from SQLite in the same process, and that nothing here leans on the difference.
 */
import { and, eq, sql } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import journal from "#data/migrations/meta/_journal.json" with { type: "json" };
import {
  ingredients,
  lots,
  productVersions,
  shops,
  signInLinks,
  stockMovements,
} from "#data/schema.ts";
import { demoSqlCommand, signInSqlCommand } from "#service/commands/edge.ts";
import { hashToken } from "#service/numbers.ts";
import { openD1Database } from "#service/storage/d1-database.ts";
import type { Database } from "#service/storage/database.ts";
import { migrationsHad } from "#service/storage/migrations-had.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { writeSql } from "#service/storage/sql-script.ts";
import { MIGRATIONS } from "../helpers/shop.ts";
import { CRATES, CRATES_BY_HAND, asGenerated, cratesAndJars } from "../migrations/rebuilds.ts";
import { migrate, startD1 } from "./local-d1.ts";

let d1: Awaited<ReturnType<typeof startD1>>;
let db: Database;
beforeAll(async () => {
  d1 = await startD1();
  await migrate(d1.raw);
  db = openD1Database(d1.binding);
});
afterAll(() => d1.close());

/** Carry a script out as `wrangler d1 execute --file` does. */
async function execute(script: string): Promise<void> {
  const lines = script.split(";\n").filter((line) => line.trim() !== "");
  await d1.raw.batch(lines.map((line) => d1.raw.prepare(line)));
}

describe("D1", () => {
  it("binds every number as a real, which a strict integer column takes back as an integer", async () => {
    const bound = await db.q.all<{ kind: string }>(sql`select typeof(${5}) as kind`);
    expect(bound).toEqual([{ kind: "real" }]);
    await db.q.run(sql`create table if not exists probe (n integer not null) strict`);
    await db.q.run(sql`insert into probe values (${99_999_999})`);
    const kept = await db.q.all(sql`select typeof(n) as kind, n || '' as text from probe`);
    expect(kept).toEqual([{ kind: "integer", text: "99999999" }]);
  });

  it("refuses an interactive transaction and more than a hundred bound values", async () => {
    await expect(d1.raw.prepare("begin").run()).rejects.toThrow();
    const select = (n: number) =>
      d1.raw.prepare(`select 1 in (${Array(n).fill("?")}) as found`).bind(...Array(n).fill(1));
    expect(await select(100).first()).toEqual({ found: 1 });
    await expect(select(101).first()).rejects.toThrow(/too many SQL variables/);
  });

  it("keeps the rows that point at a table when it is made anew by hand, and by no other way", async () => {
    const run = (statements: readonly string[]) =>
      d1.raw.batch(statements.map((statement) => d1.raw.prepare(statement)));
    const left = async () => await d1.raw.prepare("select count(*) as n from jars").first("n");
    await run(cratesAndJars("on delete cascade"));
    await run(CRATES_BY_HAND);
    expect(await left()).toBe(3);
    // Made by hand, nothing cascades from it any more, and what is generated fails.
    await expect(run(asGenerated("crates", CRATES))).rejects.toThrow(/FOREIGN KEY/);
    expect(await left()).toBe(3);
    await run(["drop table jars", "drop table crates", ...cratesAndJars("on delete cascade")]);
    await run(asGenerated("crates", CRATES));
    expect(await left()).toBe(0); // which is why nothing of ours cascades
    await run(["drop table jars", "drop table crates"]);
  });
});

describe("the migrations of a Worker", () => {
  it("are missing one by one as wrangler has not noted them, all where it never ran", async () => {
    const missing = async () => (await migrationsHad(db)).missing;
    expect(await missing()).toEqual([]);
    await db.q.run(sql`delete from d1_migrations where name like '0000%'`);
    expect(await missing()).toEqual(["0000_first_light"]);
    await db.q.run(sql`drop table d1_migrations`);
    expect(await missing()).toEqual(journal.entries.map(({ tag }) => tag));
  });
});

describe("SQL for wrangler", () => {
  it("puts the same demo shop into D1 as the service puts into a file", async () => {
    await execute(await demoSqlCommand());
    const node = openNodeDatabase(":memory:", MIGRATIONS);
    const at = (await db.q.select().from(productVersions))[0]!.publishedAt;
    await seedDemo(node, at);
    for (const table of [shops, productVersions, ingredients, lots, stockMovements]) {
      expect(await db.q.select().from(table)).toEqual(await node.q.select().from(table));
    }
    node.close();
  });

  it("gives both of two columns of one name that a join brings together", async () => {
    const both = await db.q
      .select({ lot: lots, ingredient: ingredients })
      .from(lots)
      .innerJoin(
        ingredients,
        and(eq(ingredients.shopId, lots.shopId), eq(ingredients.id, lots.ingredientId)),
      );
    expect(both.length).toBeGreaterThan(0);
    for (const { lot, ingredient } of both) {
      expect(ingredient.id).toBe(lot.ingredientId);
      expect(lot.id).not.toBe(ingredient.id);
    }
  });

  it("makes the newest sign-in link good and keeps the link itself out of the database", async () => {
    await execute(await signInSqlCommand(["quillfen", "https://shop.example/"]));
    const script = await signInSqlCommand(["quillfen", "https://shop.example/"]);
    const [, token] = /^-- https:\/\/shop\.example\/maker\/enter\/(\S{43})\n/.exec(script)!;
    await execute(script);
    const hashes = (await db.q.select().from(signInLinks)).map(({ tokenHash }) => tokenHash);
    expect(hashes).toEqual([await hashToken(token!)]);
    expect(script.slice(script.indexOf("\n"))).not.toContain(token);
  });

  it("keeps quotation marks inside the text and refuses what SQL cannot hold", async () => {
    const row = (name: string) => ({
      ...{ id: fresh(), locale: "en", currency: "GBP", currencyExponent: 2, particulars: "{}" },
      name,
    });
    const write = (name: string) =>
      writeSql(({ q, atomic }) => atomic([q.insert(shops).values(row(name))]));
    const hostile = "O'Hara''); drop table shops; -- ?";
    await d1.raw.prepare((await write(hostile)).trim()).run();
    expect((await db.q.select().from(shops)).map(({ name }) => name)).toContain(hostile);
    await expect(write("a\0b")).rejects.toThrow(/cannot write/);
  });

  it.each([[[]], [["quillfen"]], [["quillfen", "shop.example"]], [["a", "https://b", "c"]]])(
    "is not written for %j",
    async (rest) => {
      await expect(signInSqlCommand(rest)).rejects.toMatchObject({
        code: "request.command.unusable",
      });
    },
  );
});

let serial = 0;
function fresh(): string {
  return `shop-${++serial}`;
}
