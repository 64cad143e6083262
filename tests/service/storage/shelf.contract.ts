/**
 * What the stores of the shelf must do, whichever engine stands behind them.
 */
import { eq } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ingredients, lots, stockMovements } from "#data/schema.ts";
import { csvUploadsIn } from "#service/storage/csv-uploads.ts";
import { Conflict, type Database } from "#service/storage/database.ts";
import { type IngredientRow, ingredientsIn } from "#service/storage/ingredients.ts";
import { type LotRow, lotsIn } from "#service/storage/lots.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { shelfFilesIn } from "#service/storage/shelf-files.ts";
import { shopsIn } from "#service/storage/shops.ts";
import { AT, SHOP, fresh } from "./contract-rows.ts";
import type { StorageUnderTest } from "./contract.ts";
import { aLot } from "./stock.contract.ts";

const TODAY = "2025-11-24";

function anIngredient(change: Partial<IngredientRow> = {}): IngredientRow {
  return {
    ...{ shopId: SHOP, id: fresh("oil"), libraryId: "olive-oil", name: "", supplier: "S" },
    ...{ packText: "1 kg", packMinor: 900, packMg: 1_000_000, refined: "not-told", scent: "" },
    ...{
      doseMostShare: null,
      lowBelowMg: null,
      note: "",
      archivedAt: null,
      ranOutAt: null,
      revision: 1,
    },
    ...change,
  };
}

export function describeShelf(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let db: Database;
  let store: ReturnType<typeof ingredientsIn>;
  let lotStore: ReturnType<typeof lotsIn>;

  const costs = async () => (await shopsIn(db).byId(SHOP))!.costsRevision;
  const ledger = (lotId: string) =>
    db.q.select().from(stockMovements).where(eq(stockMovements.lotId, lotId));
  const received = async (lot: LotRow) => {
    const { onHandMg: _, ...row } = lot;
    await lotStore.receive(row, { at: AT, personId: null });
    return lot;
  };

  describe(`${name}, as a shelf`, () => {
    beforeAll(async () => {
      subject = await open();
      db = subject.db;
      store = ingredientsIn(db);
      lotStore = lotsIn(db);
      await seedDemo(db, AT);
    });
    afterAll(() => subject.close());

    it("saves an ingredient for one of two people, and calls every price old in the same list", async () => {
      const row = anIngredient();
      const before = await costs();
      await store.create(row);
      await expect(store.create(row)).rejects.toBeInstanceOf(Conflict);
      const saves = [1, 2].map((minor) => store.save(SHOP, row.id, { packMinor: minor }, 1));
      const ends = await Promise.allSettled(saves);
      expect(ends.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
      expect(await store.byId(SHOP, row.id)).toMatchObject({ revision: 2 });
      expect(await costs()).toBe(before + 2);
    });

    it("finds by words of any length and letters, and by eighty fats of the library", async () => {
      const words = `${"långt ".repeat(20)}%_' נר 🧈`.trim();
      const row = anIngredient({ name: words, libraryId: "none" });
      await store.create(row);
      const search = { after: "", putAway: false, onDay: TODAY };
      const libraryIds = Array.from({ length: 90 }, (_, at) => `fat-${at}`);
      const found = await store.page(SHOP, { ...search, words, libraryIds }, 10);
      expect(found.map((each) => each.row)).toEqual([row]);
    });

    it("adds up what stands of an ingredient, and what of it may be used", async () => {
      const row = anIngredient({ lowBelowMg: 400 });
      await store.create(row);
      const of = { ingredientId: row.id, receivedMg: 300 };
      await received(aLot({ ...of, bestBefore: "2026-05-01" }));
      await received(aLot({ ...of, bestBefore: "2025-11-23" }));
      await received(aLot({ ...of, blockedBecause: "doubt", bestBefore: "2026-01-01" }));
      await received(aLot({ ...of, archivedAt: AT }));
      const search = { words: row.id, libraryIds: [], after: "", putAway: false, onDay: TODAY };
      const [listed] = await store.page(SHOP, search, 10);
      expect(listed).toMatchObject({
        onHandMg: 900,
        usableMg: 300,
        nextBestBefore: "2026-05-01",
      });
      const { low } = await store.inNeed(SHOP, TODAY, 50);
      expect(low.map((each) => each.row.id)).toContain(row.id);
      const needs = await lotStore.inNeed(SHOP, TODAY, "2026-05-01", 50);
      const mine = (list: readonly { lot: LotRow }[]) =>
        list.filter(({ lot }) => lot.ingredientId === row.id).length;
      expect([mine(needs.past), mine(needs.soon), mine(needs.blocked)]).toEqual([1, 1, 1]);
    });

    it("receives a lot with its movement, and a code once", async () => {
      const lot = await received(aLot({ code: "once" }));
      expect((await ledger(lot.id)).map(({ deltaMg }) => deltaMg)).toEqual([1_000_000]);
      const twin = aLot({ code: "once" });
      await expect(received(twin)).rejects.toBeInstanceOf(Conflict);
      expect(await lotStore.byId(SHOP, twin.id)).toBeUndefined();
      expect(await ledger(twin.id)).toEqual([]);
      await lotStore.save(SHOP, lot.id, { note: "moved" }, 1);
      await expect(lotStore.save(SHOP, lot.id, { note: "late" }, 1)).rejects.toBeInstanceOf(
        Conflict,
      );
      expect(await lotStore.byId("another shop", lot.id)).toBeUndefined();
    });

    it("names the products that hold an ingredient", async () => {
      const uses = await store.usedBy(SHOP, "kokum-butter");
      expect(uses.map(({ id, published }) => [id, published])).toEqual([
        ["deep-winter", true],
        ["featherlight", true],
      ]);
      expect(await store.usedBy(SHOP, "kokum")).toEqual([]);
    });

    it("writes twelve hundred rows of a table, twice for once, and leaves what changed meanwhile", async () => {
      const files = shelfFilesIn(db);
      const rows = Array.from({ length: 1200 }, (_, at) =>
        anIngredient({ name: `“${at}” 'naïve'; -- 🧈 שלום`, note: '\u2028\n",' }),
      );
      await files.writeIngredients(SHOP, rows, []);
      await files.writeIngredients(SHOP, rows, []);
      const stored = await db.q
        .select()
        .from(ingredients)
        .where(eq(ingredients.note, '\u2028\n",'));
      expect(stored).toHaveLength(1200);
      expect(stored.find(({ id }) => id === rows[7]!.id)).toEqual(rows[7]);
      await store.save(SHOP, rows[0]!.id, { name: "by hand" }, 1);
      const changed = rows.slice(0, 2).map((row) => ({ ...row, packMinor: null, packMg: null }));
      await files.writeIngredients(SHOP, [], changed);
      await files.writeIngredients(SHOP, [], changed);
      expect(await store.byId(SHOP, rows[0]!.id)).toMatchObject({
        name: "by hand",
        packMinor: 900,
      });
      expect(await store.byId(SHOP, rows[1]!.id)).toMatchObject({ packMinor: null, revision: 2 });
    });

    it("writes lots of a table so that every ledger adds up, and nothing twice", async () => {
      const files = shelfFilesIn(db);
      const moved = { at: AT, personId: null, note: "from a table" };
      const [whole, opened] = [aLot(), aLot({ onHandMg: 400_000 })];
      for (let time = 0; time < 2; time++) {
        await files.writeLots(SHOP, [whole, opened], [], moved);
      }
      const deltas = async (id: string) =>
        (await ledger(id)).map(({ why, deltaMg }) => [why, deltaMg]);
      expect(await deltas(whole.id)).toEqual([["received", 1_000_000]]);
      expect(await deltas(opened.id)).toEqual([
        ["received", 1_000_000],
        ["count", -600_000],
      ]);
      const counted = { ...opened, onHandMg: 350_000, costMinor: 7 };
      for (let time = 0; time < 2; time++) await files.writeLots(SHOP, [], [counted], moved);
      expect((await deltas(opened.id)).at(-1)).toEqual(["count", -50_000]);
      expect(await deltas(opened.id)).toHaveLength(3);
      expect(await lotStore.byId(SHOP, opened.id)).toEqual({ ...counted, revision: 2 });
      const twin = aLot({ code: whole.code });
      await files.writeLots(SHOP, [twin], [], moved);
      expect(await lotStore.byId(SHOP, twin.id)).toBeUndefined();
      expect(await ledger(twin.id)).toEqual([]);
      const all = await db.q.select().from(lots).where(eq(lots.code, whole.code));
      expect(all).toHaveLength(1);
    });

    it("keeps a table of four megabytes to the last character, for a day", async () => {
      const uploads = csvUploadsIn(db);
      const text = `${"🧈אב\n".repeat(400_000)}end`;
      const upload = { id: fresh("file"), shopId: SHOP, kind: "lots" as const, text };
      await uploads.add({ ...upload, receivedAt: AT });
      const kept = (await uploads.byId(SHOP, upload.id))!;
      expect(kept.text === text).toBe(true);
      expect(await uploads.byId("another shop", upload.id)).toBeUndefined();
      expect(await uploads.byId(SHOP, "file")).toBeUndefined();
      const next = { ...upload, id: fresh("file"), text: "", receivedAt: AT + 25 * 3600 };
      await uploads.add(next);
      expect(await uploads.byId(SHOP, upload.id)).toBeUndefined();
      expect(await uploads.byId(SHOP, next.id)).toMatchObject({ text: "" });
    });
  });
}
