/**
 * What the ledger of stock must do, whichever engine stands behind it.
 */
import { eq, sum } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ingredients, lots, musts, stockMovements } from "#data/schema.ts";
import { Conflict, type Database, StockShort } from "#service/storage/database.ts";
import { type LotRow, type NewMovement, stockIn } from "#service/storage/stock.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { shopsIn } from "#service/storage/shops.ts";
import { AT, SHOP, fresh } from "./contract-rows.ts";
import type { StorageUnderTest } from "./contract.ts";

export function aLot(change: Partial<LotRow> = {}): LotRow {
  const id = fresh("lot");
  return {
    id,
    shopId: SHOP,
    ingredientId: "shea-butter",
    code: id,
    supplier: "Invented supplier",
    receivedOn: "2025-11-01",
    bestBefore: "2026-11-01",
    receivedMg: 1_000_000,
    onHandMg: 1_000_000,
    costMinor: 1180,
    certificate: null,
    note: "",
    blockedBecause: null,
    archivedAt: null,
    revision: 1,
    ...change,
  };
}

export function aMovement(lotId: string, deltaMg: number, change: Partial<NewMovement> = {}) {
  const rest = { why: "waste" as const, batchId: null, personId: null, at: AT, note: "" };
  return { lotId, deltaMg, ...rest, ...change };
}

export function describeStock(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let db: Database;
  let stock: ReturnType<typeof stockIn>;

  async function stored(change: Partial<LotRow> = {}): Promise<LotRow> {
    const lot = aLot(change);
    await db.atomic([db.q.insert(lots).values(lot)]);
    return lot;
  }
  const onHand = async (id: string) =>
    (await db.q.select().from(lots).where(eq(lots.id, id)))[0]!.onHandMg;
  const move = (...movements: NewMovement[]) =>
    db.atomic(movements.flatMap((each) => stock.movementStatements(each)));
  const moved = async (id: string) =>
    Number(
      (
        await db.q
          .select({ mg: sum(stockMovements.deltaMg) })
          .from(stockMovements)
          .where(eq(stockMovements.lotId, id))
      )[0]!.mg ?? 0,
    );

  describe(`${name}, as a ledger of stock`, () => {
    beforeAll(async () => {
      subject = await open();
      db = subject.db;
      stock = stockIn(db);
      await seedDemo(db, AT);
      const bare = { shopId: SHOP, libraryId: "olive-oil", name: "", supplier: "", packText: "" };
      for (const id of ["an-oil", "another-oil"]) {
        const row = { ...bare, id, refined: "not-told" as const, scent: "", note: "" };
        await db.atomic([db.q.insert(ingredients).values(row)]);
      }
    });
    afterAll(() => subject.close());

    it("keeps a lot in step with its movements, down to the last milligram", async () => {
      const { id } = await stored({ onHandMg: 0 });
      await move(aMovement(id, 1_000_000, { why: "received" }), aMovement(id, -999_999));
      expect(await onHand(id)).toBe(1);
      await move(aMovement(id, -1));
      expect([await onHand(id), await moved(id)]).toEqual([0, 0]);
      const ledger = await stock.movements(id, 2);
      expect(ledger.map(({ deltaMg, why }) => [deltaMg, why])).toEqual([
        [-1, "waste"],
        [-999_999, "waste"],
      ]);
    });

    it("lets no lot go below nothing, and undoes the whole list that tried", async () => {
      const [full, low] = [await stored(), await stored({ onHandMg: 10 })];
      const error: unknown = await move(aMovement(full.id, -500), aMovement(low.id, -11)).catch(
        (reason: unknown) => reason,
      );
      expect(error).toBeInstanceOf(StockShort);
      expect(error).not.toBeInstanceOf(Conflict);
      expect([await onHand(full.id), await onHand(low.id)]).toEqual([1_000_000, 10]);
      expect([await moved(full.id), await moved(low.id)]).toEqual([0, 0]);
    });

    it("gives the last of a lot to one of two at the same moment", async () => {
      const { id } = await stored({ onHandMg: 100 });
      const ends = await Promise.allSettled([1, 2, 3].map(() => move(aMovement(id, -60))));
      const lost = ends.filter((end) => end.status === "rejected");
      expect(lost).toHaveLength(2);
      for (const { reason } of lost) expect(reason).toBeInstanceOf(StockShort);
      expect([await onHand(id), await moved(id)]).toEqual([40, -60]);
    });

    it("moves nothing of a lot that is not there, and no part of a milligram", async () => {
      await expect(move(aMovement("none", 1))).rejects.toThrow();
      const { id } = await stored();
      expect(() => stock.movementStatements(aMovement(id, 0.5))).toThrow(RangeError);
      expect(() => stock.movementStatements(aMovement(id, Number.NaN))).toThrow(RangeError);
    });

    it("suggests what expires first, and leaves out what may not be used", async () => {
      const kind = { ingredientId: "an-oil", onHandMg: 300 };
      const [late, undated, soon, sameDay] = [
        await stored({ ...kind, bestBefore: "2026-08-01" }),
        await stored({ ...kind, bestBefore: null }),
        await stored({ ...kind, bestBefore: "2026-03-01" }),
        await stored({ ...kind, bestBefore: "2026-02-01" }),
      ];
      await stored({ ...kind, bestBefore: "2026-01-31" }); // past
      await stored({ ...kind, bestBefore: "2026-02-02", blockedBecause: "recalled" });
      await stored({ ...kind, bestBefore: "2026-02-02", archivedAt: AT });
      await stored({ ...kind, bestBefore: "2026-02-02", onHandMg: 0 });
      await stored({ ...kind, ingredientId: "another-oil", bestBefore: "2026-02-02" });
      const ask = (mg: number) => stock.suggest(SHOP, "an-oil", mg, "2026-02-01");
      const lotsOf = async (mg: number) =>
        (await ask(mg)).portions.map(({ lot, takeMg }) => [lot.id, takeMg]);
      expect(await lotsOf(300)).toEqual([[sameDay.id, 300]]);
      expect(await lotsOf(700)).toEqual([
        [sameDay.id, 300],
        [soon.id, 300],
        [late.id, 100],
      ]);
      expect((await ask(700)).shortMg).toBe(0);
      const all = await ask(1500);
      expect(all.portions.at(-1)).toMatchObject({ lot: { id: undated.id }, takeMg: 300 });
      expect(all.shortMg).toBe(300);
      expect(await stock.suggest("another shop", "an-oil", 5, "2026-02-01")).toEqual({
        portions: [],
        shortMg: 5,
      });
    });

    it("records a movement for whoever saw the newest one, and for nobody else", async () => {
      const { id } = await stored();
      await stock.record(aMovement(id, -1), 0);
      const last = (await stock.movements(id, 1))[0]!.id;
      await expect(stock.record(aMovement(id, -1), 0)).rejects.toBeInstanceOf(Conflict);
      const twins = [1, 2].map(() => stock.record(aMovement(id, -1), last));
      const ends = await Promise.allSettled(twins);
      expect(ends.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
      expect([await onHand(id), await moved(id)]).toEqual([999_998, -2]);
    });

    it("calls prices old when a lot has run out or has come, and not in between", async () => {
      const revision = async () => (await shopsIn(db).byId(SHOP))!.costsRevision;
      const { id } = await stored({ onHandMg: 0 });
      const before = await revision();
      await move(aMovement(id, 100, { why: "received" }));
      expect(await revision()).toBe(before + 1);
      await move(aMovement(id, -40));
      expect(await revision()).toBe(before + 1);
      await move(aMovement(id, -60));
      expect(await revision()).toBe(before + 2);
    });

    it("takes the earlier delivery first where two keep equally long", async () => {
      const kind = { ingredientId: "another-oil", bestBefore: "2026-08-01" };
      const later = await stored({ ...kind, receivedOn: "2025-06-01" });
      const earlier = await stored({ ...kind, receivedOn: "2025-05-01" });
      const { portions } = await stock.suggest(SHOP, "another-oil", 9_000_000, "2026-01-01");
      const ids = portions.map(({ lot }) => lot.id);
      expect(ids.filter((id) => [earlier.id, later.id].includes(id))).toEqual([
        earlier.id,
        later.id,
      ]);
    });

    it("leaves no guard row behind", async () => {
      expect(await db.q.select().from(musts)).toEqual([]);
    });
  });
}
