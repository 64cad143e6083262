/**
 * What lots cost, on each engine the shop can stand on.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ingredients, lots, shops } from "#data/schema.ts";
import { openD1Database } from "#service/storage/d1-database.ts";
import type { Database } from "#service/storage/database.ts";
import { lotCostsIn } from "#service/storage/lot-costs.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { migrate, startD1 } from "../../edge/local-d1.ts";
import { MIGRATIONS } from "../../helpers/shop.ts";
import { aLotOf } from "../prices/a-lot.ts";

const SHOP = "bare";
const per = (packMinor: number, packMg = 1_000_000) => ({ packMinor, packMg });

async function onNode() {
  const db = openNodeDatabase(":memory:", MIGRATIONS);
  return { db, close: async () => db.close() };
}

async function onD1() {
  const d1 = await startD1();
  await migrate(d1.raw);
  return { db: openD1Database(d1.binding), close: d1.close };
}

for (const [name, open] of [
  ["better-sqlite3", onNode],
  ["D1 in workerd", onD1],
] as const) {
  describe(`what lots cost, on ${name}`, () => {
    let db: Database;
    let close: () => Promise<void>;

    beforeAll(async () => {
      ({ db, close } = await open());
      const rest = { locale: "en-GB", currency: "GBP", currencyExponent: 2, particulars: "{}" };
      const bare = {
        supplier: "",
        packText: "",
        refined: "not-told" as const,
        scent: "",
        note: "",
      };
      const rows = ["shea", "cocoa", "mango"].map((id) => {
        return { shopId: SHOP, id, libraryId: `${id}-butter`, name: "", ...bare };
      });
      await db.q.insert(shops).values([
        { id: SHOP, name: "Bare", ...rest },
        { id: "other", name: "Other", ...rest },
      ]);
      await db.q.insert(ingredients).values([...rows, { ...rows[0]!, shopId: "other" }]);
      const of = (id: string, cost: number | null, change: Parameters<typeof aLotOf>[2] = {}) =>
        aLotOf(id, cost, { shopId: SHOP, ...change });
      for (const lot of [
        of("shea", 1_000, { receivedOn: "2026-01-01" }),
        of("shea", 4_000, { receivedOn: "2026-02-01", receivedMg: 5_000_000 }), // 800 a kg, though the most in all
        of("shea", 900, { receivedOn: "2026-03-01" }),
        of("shea", 700, { receivedOn: "2026-03-01" }), // written down later on the same day
        of("shea", 9_000, { receivedOn: "2026-01-02", onHandMg: 0 }), // used up
        of("shea", 9_000, { receivedOn: "2026-01-02", blockedBecause: "a recall" }),
        of("shea", 9_000, { receivedOn: "2026-04-01", archivedAt: 1 }),
        of("shea", null, { receivedOn: "2026-05-01" }),
        of("cocoa", 2_000, { receivedOn: "2026-01-01", onHandMg: 0 }),
        of("mango", null, { receivedOn: "2026-01-01" }),
        of("shea", 50_000, { shopId: "other", receivedOn: "2026-06-01" }),
      ]) {
        await db.q.insert(lots).values(lot); // one by one: D1 binds a hundred values at most
      }
    });
    afterAll(() => close());

    it("takes the dearest by weight of those that may be taken from", async () => {
      expect(await lotCostsIn(db).dearestOnHand(SHOP)).toEqual({ shea: per(1_000) });
    });

    it("takes what was paid last, used up or not", async () => {
      expect(await lotCostsIn(db).newest(SHOP)).toEqual({ shea: per(700), cocoa: per(2_000) });
    });

    it("keeps to one shop", async () => {
      expect(await lotCostsIn(db).newest("other")).toEqual({ shea: per(50_000) });
    });
  });
}
