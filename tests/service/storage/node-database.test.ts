/**
 * The embedded database holds to what the rest relies on: all or nothing, durable, strict.
 */
import SQLite from "better-sqlite3";
import { sql } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { musts, orders, shops } from "#data/schema.ts";
import { Conflict, mustHaveChanged } from "#service/storage/database.ts";
import { type NodeDatabase, openNodeDatabase } from "#service/storage/node-database.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { MIGRATIONS, freshFile, openTestShop } from "../../helpers/shop.ts";

let file: string;
let db: NodeDatabase;
beforeEach(async () => {
  file = freshFile();
  db = openNodeDatabase(file, MIGRATIONS);
  await seedDemo(db, 1_700_000_000);
});
afterEach(() => db.close());

const rename = (name: string) => db.q.update(shops).set({ name });

describe("an atomic list", () => {
  it("is done whole", async () => {
    await db.atomic([rename("One"), ...mustHaveChanged(db.q)]);
    expect((await db.q.select().from(shops))[0]?.name).toBe("One");
    expect(await db.q.select().from(musts)).toEqual([]);
  });

  it("is undone whole when a guarded update meets no row", async () => {
    const guarded = db.q
      .update(shops)
      .set({ name: "Two" })
      .where(sql`1 = 0`);
    const list = [rename("One"), guarded, ...mustHaveChanged(db.q)];
    await expect(db.atomic(list)).rejects.toBeInstanceOf(Conflict);
    expect((await db.q.select().from(shops))[0]?.name).toBe("Quillfen");
  });

  it("is undone whole when a later statement breaks, and the break is passed on", async () => {
    const broken = db.q.insert(musts).values({ ok: null as never });
    await expect(db.atomic([rename("One"), broken])).rejects.toThrow(/NOT NULL/);
    expect((await db.q.select().from(shops))[0]?.name).toBe("Quillfen");
  });
});

describe("the file", () => {
  it("keeps what was stored when it is opened again, and seeds nothing twice", async () => {
    await db.atomic([rename("Kept")]);
    db.close();
    db = openNodeDatabase(file, MIGRATIONS);
    expect(await seedDemo(db, 1_800_000_000)).toBe(false);
    expect(await db.q.select().from(shops)).toMatchObject([{ name: "Kept" }]);
  });

  it("flushes every commit and checks foreign keys", () => {
    const raw = new SQLite(file);
    expect(raw.pragma("journal_mode", { simple: true })).toBe("wal");
    raw.close();
  });

  it("has only strict tables, and none that deletes along", () => {
    const raw = new SQLite(file, { readonly: true });
    const tables = raw
      .prepare<[], { name: string; strict: number; sql: string }>(
        "select l.name, l.strict, m.sql from pragma_table_list l join sqlite_master m on m.name = l.name " +
          "where l.type = 'table' and l.name not like 'sqlite_%' and l.name not like '\\_\\_%' escape '\\'",
      )
      .all();
    raw.close();
    expect(tables.length).toBeGreaterThan(10);
    expect(tables.filter(({ strict }) => strict !== 1)).toEqual([]);
    expect(tables.filter((table) => /on delete (cascade|set)/i.test(table.sql))).toEqual([]);
  });

  it.each([
    ["a negative total", { totalMinor: -1 }],
    ["an unknown state", { state: "lost" as never }],
    ["a fraction of a penny", { totalMinor: 10.5 }],
    ["an order without a quote", { quoteId: "none" }],
  ])("refuses %s, whatever the code says", async (_, change) => {
    const shop = await openTestShop({}, freshFile());
    const { quote } = await shop.quote();
    const row = {
      id: "o1",
      shopId: "quillfen",
      reference: "AAAAAA",
      quoteId: quote.id,
      state: "placed" as const,
      snapshot: "{}",
      totalMinor: 1,
      currency: "GBP",
      tillKind: "practice" as const,
      tillKey: "k",
      placedAt: 1,
    };
    await expect(
      Promise.resolve().then(() => shop.db.q.insert(orders).values({ ...row, ...change })),
    ).rejects.toThrow();
    await shop.db.q.insert(orders).values(row);
    shop.close();
  });
});
