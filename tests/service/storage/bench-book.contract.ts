/**
 * What the stores of batches, order lists and traces must do, whichever engine stands behind them.
 */
import { eq, sum } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { batchLots, lots, musts, orders as ordersTable, stockMovements } from "#data/schema.ts";
import { batchLotsIn } from "#service/storage/batch-lots.ts";
import { batchesIn } from "#service/storage/batches.ts";
import { Conflict, type Database, StockShort } from "#service/storage/database.ts";
import { orderListsIn } from "#service/storage/order-lists.ts";
import { type SearchMark, orderSearchIn } from "#service/storage/order-search.ts";
import { ordersIn } from "#service/storage/orders.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { type LotRow, stockIn } from "#service/storage/stock.ts";
import { traceIn } from "#service/storage/trace.ts";
import { AT, SHOP, aBatch, aQuote, anOrder, fresh } from "./contract-rows.ts";
import type { StorageUnderTest } from "./contract.ts";
import { aLot, aMovement } from "./stock.contract.ts";

const SNAPSHOT = JSON.stringify({
  product: { id: "everyday", name: "Everyday butter", version: 1 },
  quantity: 3,
  jar: { id: "jar-120", name: "Middle jar", fillG: 120 },
});

export function describeBenchBook(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let db: Database;
  let orders: ReturnType<typeof ordersIn>;
  let batches: ReturnType<typeof batchesIn>;

  async function order(change: Partial<typeof ordersTable.$inferInsert> = {}) {
    const quote = aQuote();
    await orders.insertQuote(quote);
    const row = anOrder(quote.id, { snapshot: SNAPSHOT, ...change });
    await orders.place(row);
    return (await orders.byId(row.id))!;
  }

  async function stored(change: Partial<LotRow> = {}): Promise<LotRow> {
    const lot = aLot(change);
    await db.atomic([db.q.insert(lots).values(lot)]);
    return lot;
  }

  /** A batch on the bench with so many orders in it. */
  async function onBench(count: number) {
    const batch = aBatch();
    const members = [];
    for (let n = 0; n < count; n++) members.push(await order({ state: "paid", paidAt: AT }));
    const moves = members.map(({ id }) => ({
      ...{ orderId: id, to: "in-making" as const, at: AT, who: "maker" as const, what: "batch" },
      with: { batchId: batch.id, batchRun: 0 },
    }));
    await batches.issue(batch, moves);
    return { batch, ids: members.map(({ id }) => id), members };
  }

  const endOf = (batchId: string, madeIds: string[], backIds: string[] = []) => ({
    ...{ batchId, closing: '{"a":1}', at: AT + 60, personId: null, madeIds, backIds },
    ...{ saysMade: "made", saysBack: "waits again" },
  });

  const taking = (batchId: string, lot: LotRow, usedMg: number) => [
    ...batchLotsIn(db).usedStatements([
      { batchId, run: 0, ingredientId: lot.ingredientId, lotId: lot.id, usedMg },
    ]),
    ...stockIn(db).movementStatements(aMovement(lot.id, -usedMg, { why: "batch", batchId })),
  ];

  const stateOf = async (id: string) => (await orders.byId(id))!.state;
  const logOf = async (id: string) => (await orders.events(id)).map(({ what }) => what);
  const onHand = async (id: string) =>
    (await db.q.select().from(lots).where(eq(lots.id, id)))[0]!.onHandMg;

  describe(`${name}, as the bench's book`, () => {
    beforeAll(async () => {
      subject = await open();
      db = subject.db;
      orders = ordersIn(db);
      batches = batchesIn(db, orders);
      await seedDemo(db, AT);
    });
    afterAll(() => subject.close());

    it("closes a batch with its lots, its stock and its orders, and an order that came out short waits", async () => {
      const { batch, ids } = await onBench(3);
      const lot = await stored();
      const end = endOf(batch.id, ids.slice(0, 2), ids.slice(2));
      await batches.close(end, taking(batch.id, lot, 400_000));
      expect(await batches.byId(batch.id)).toMatchObject({
        ...{ state: "made", closing: '{"a":1}', closedAt: AT + 60 },
      });
      expect(await Promise.all(ids.map(stateOf))).toEqual(["made", "made", "paid"]);
      expect(await orders.byId(ids[2]!)).toMatchObject({ batchId: null, batchRun: null });
      expect(await logOf(ids[0]!)).toEqual(["placed", "batch", "made"]);
      expect(await logOf(ids[2]!)).toEqual(["placed", "batch", "waits again"]);
      expect(await onHand(lot.id)).toBe(600_000);
      const [moved] = await db.q
        .select({ sum: sum(stockMovements.deltaMg) })
        .from(stockMovements)
        .where(eq(stockMovements.batchId, batch.id));
      expect(Number(moved!.sum)).toBe(-400_000);
    });

    it("stores nothing of a closing when one lot holds too little", async () => {
      const { batch, ids } = await onBench(2);
      const [full, low] = [await stored(), await stored({ onHandMg: 100 })];
      const stock = [...taking(batch.id, full, 500_000), ...taking(batch.id, low, 101)];
      await expect(batches.close(endOf(batch.id, ids), stock)).rejects.toBeInstanceOf(StockShort);
      expect(await batches.byId(batch.id)).toMatchObject({ state: "open", closing: null });
      expect(await Promise.all(ids.map(stateOf))).toEqual(["in-making", "in-making"]);
      expect(await logOf(ids[0]!)).toEqual(["placed", "batch"]);
      expect([await onHand(full.id), await onHand(low.id)]).toEqual([1_000_000, 100]);
      const used = db.q.select().from(batchLots).where(eq(batchLots.batchId, batch.id));
      expect(await used).toEqual([]);
    });

    it("closes once, however many press at the same moment, and not with an order that left", async () => {
      const { batch, ids } = await onBench(1);
      const lot = await stored();
      const close = () => batches.close(endOf(batch.id, ids), taking(batch.id, lot, 1000));
      const ends = await Promise.allSettled([close(), close(), close()]);
      expect(ends.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
      expect(await onHand(lot.id)).toBe(999_000);
      const other = await onBench(2);
      await orders.move({
        ...{ orderId: other.ids[0]!, to: "held", at: AT, who: "maker", what: "held" },
        with: { heldBecause: "asked", batchId: null, batchRun: null },
      });
      const late = batches.close(endOf(other.batch.id, other.ids), []);
      await expect(late).rejects.toBeInstanceOf(Conflict);
      expect(await stateOf(other.ids[1]!)).toBe("in-making");
    });

    it("writes down the lots of forty lines over several statements", async () => {
      const { batch } = await onBench(0);
      const many = await Promise.all(Array.from({ length: 40 }, () => stored()));
      const rows = many.map((lot, at) => ({
        ...{ batchId: batch.id, run: at % 3, ingredientId: "shea-butter" },
        ...{ lotId: lot.id, usedMg: 10 },
      }));
      const moves = many.flatMap((lot) =>
        stockIn(db).movementStatements(aMovement(lot.id, -10, { why: "batch" })),
      );
      const used = batchLotsIn(db).usedStatements(rows);
      await batches.close(endOf(batch.id, []), [...used, ...moves]);
      expect(await batchLotsIn(db).ofBatch(batch.id)).toHaveLength(40);
    });

    it("sets a batch aside and takes it up again, unless one of its orders went elsewhere", async () => {
      const { batch, ids } = await onBench(2);
      const aside = { closing: "{}", at: AT + 1, says: "set aside" };
      await batches.setAside(batch.id, ids, aside);
      expect((await batches.byId(batch.id))!.state).toBe("set-aside");
      expect(await orders.byId(ids[0]!)).toMatchObject({ state: "paid", batchId: null });
      const again = batches.setAside(batch.id, ids, aside);
      await expect(again).rejects.toBeInstanceOf(Conflict);
      const moves = ids.map((orderId) => ({
        ...{ orderId, to: "in-making" as const, at: AT + 2, who: "maker" as const, what: "up" },
        with: { batchId: batch.id, batchRun: 0 },
      }));
      await batches.takeUp(batch.id, moves);
      expect(await batches.byId(batch.id)).toMatchObject({ state: "open", closing: null });
      expect(await logOf(ids[1]!)).toEqual(["placed", "batch", "set aside", "up"]);
      await batches.setAside(batch.id, ids, aside);
      await orders.move({ orderId: ids[0]!, to: "held", at: AT, who: "maker", what: "held" });
      await expect(batches.takeUp(batch.id, moves)).rejects.toBeInstanceOf(Conflict);
      expect((await batches.byId(batch.id))!.state).toBe("set-aside");
    });

    it("knows what is on the bench: batches with orders in making, and the latest trials", async () => {
      const { batch, ids } = await onBench(1);
      const trial = { ...aBatch(), kind: "trial" as const };
      await batches.issue(trial, []);
      const numbers = async () => (await batches.open(SHOP, 90)).map(({ number }) => number);
      expect(await numbers()).toEqual(expect.arrayContaining([batch.number, trial.number]));
      await batches.setAside(batch.id, ids, { closing: "{}", at: AT, says: "aside" });
      expect(await numbers()).not.toContain(batch.number);
    });

    it("amends a closing only as it was read", async () => {
      const { batch } = await onBench(0);
      await batches.close(endOf(batch.id, []), []);
      await batches.amend(batch.id, '{"a":1}', '{"a":2}');
      const late = batches.amend(batch.id, '{"a":1}', '{"a":3}');
      await expect(late).rejects.toBeInstanceOf(Conflict);
      expect((await batches.byId(batch.id))!.closing).toBe('{"a":2}');
    });

    it("pages through orders both ways without losing one of a shared second", async () => {
      const lists = orderListsIn(db);
      const made = [];
      for (const placedAt of [10, 20, 20, 20, 20, 30, 40]) {
        made.push(await order({ state: "sent", placedAt }));
      }
      for (const newestFirst of [true, false]) {
        const seen: string[] = [];
        let after: { placedAt: number; id: string } | undefined;
        for (let turn = 0; turn < 10; turn++) {
          const page = await lists.page(SHOP, "sent", { most: 2, after, newestFirst });
          seen.push(...page.map(({ id }) => id));
          after = page.at(-1);
          if (!after) break;
        }
        expect(seen).toHaveLength(7);
        expect(new Set(seen)).toEqual(new Set(made.map(({ id }) => id)));
      }
      expect(await lists.count(SHOP, "sent")).toBe(7);
      expect(await lists.count("none", "sent")).toBe(0);
    });

    it("finds an order by how its reference, a name or an address begins", async () => {
      const search = orderSearchIn(db);
      const placed = { placedAt: AT + 500 };
      const wanted = await order({
        ...{ ...placed, reference: "ZZ9PKQ", customerName: "Wren %_ Ashdown" },
        customerEmail: "wren@customer.example",
      });
      const other = await order({ ...placed, customerEmail: "WRENNA@customer.example" });
      const found = async (words: string) =>
        (await search.beginning(SHOP, words, undefined, 50)).found.map(({ id }) => id);
      for (const words of ["ZZ9PKQ", "zz9p", "Wren", "wren %_ a", "WREN@C"]) {
        expect([words, await found(words)]).toEqual([words, expect.arrayContaining([wanted.id])]);
      }
      // Found by its name, so not again by its address.
      expect(await found("wren")).toEqual([wanted.id, other.id]);
      for (const words of ["ZZX", "ren", "Ashdown", "wren_", "%"]) {
        expect([words, await found(words)]).toEqual([words, []]);
      }
      expect((await search.beginning("none", "wren", undefined, 50)).found).toEqual([]);
    });

    it("pages through what begins so, each order once, the newest of one customer first", async () => {
      const search = orderSearchIn(db);
      const made: string[] = [];
      for (const nth of [0, 1, 2]) {
        made.push((await order({ customerName: "Heron One", placedAt: AT + nth })).id);
      }
      made.reverse();
      made.push(
        (await order({ customerName: "Heron Two", customerEmail: "heron@two.example" })).id,
      );
      for (const nth of [1, 2]) {
        made.push((await order({ customerName: null, customerEmail: `heron${nth}@x.example` })).id);
      }
      const seen: string[] = [];
      let after: SearchMark | undefined;
      do {
        const page = await search.beginning(SHOP, "heron", after, 2);
        expect(page.found).toHaveLength(2);
        seen.push(...page.found.map(({ id }) => id));
        after = page.next;
      } while (after && seen.length < 20);
      expect(seen).toEqual(made);
    });

    it("looks inside names and addresses, among the orders before a moment", async () => {
      const search = orderSearchIn(db);
      const wanted = await order({
        ...{ customerName: "Teal %_ Marsh", customerEmail: "teal@inside.example" },
        placedAt: AT + 700,
      });
      for (const words of ["teal", "MARSH", "%_", "@inside"]) {
        const { found, before } = await search.inside(SHOP, words, AT + 701, 1);
        expect([words, found[0]?.id]).toEqual([words, wanted.id]);
        expect(before === undefined || before <= AT + 701).toBe(true);
      }
      expect((await search.inside(SHOP, "marsh", AT + 700, 50)).found).toEqual([]);
    });

    it("lists what was given back over all states, as a list of its own", async () => {
      const lists = orderListsIn(db);
      const before = await lists.count(SHOP, "refunded");
      const one = await order({ state: "cancelled", refundedMinor: 900, placedAt: AT + 800 });
      const other = await order({ state: "sent", refundedMinor: 1, placedAt: AT + 801 });
      await order({ state: "cancelled", placedAt: AT + 802 });
      expect(await lists.count(SHOP, "refunded")).toBe(before + 2);
      const page = await lists.page(SHOP, "refunded", { most: 2, newestFirst: true });
      expect(page.map(({ id }) => id)).toEqual([other.id, one.id]);
    });

    it("notes what the till gave back, once", async () => {
      const row = await order({ state: "paid" });
      const note = (what: string) => db.atomic(orders.refundStatements(row, 500, AT, what));
      await note("given back");
      await expect(note("again")).rejects.toBeInstanceOf(Conflict);
      expect(await orders.byId(row.id)).toMatchObject({ refundedMinor: 500, state: "paid" });
      expect(await logOf(row.id)).toEqual(["placed", "given back"]);
    });

    it("traces a lot to its orders and an order to its lots, run by run", async () => {
      const batch = aBatch();
      const [one, two] = [
        await order({ state: "paid", customerName: "Wren" }),
        await order({ state: "paid", customerName: "Teal" }),
      ];
      const into = (orderId: string, batchRun: number) => ({
        ...{ orderId, to: "in-making" as const, at: AT, who: "maker" as const, what: "batch" },
        with: { batchId: batch.id, batchRun },
      });
      await batches.issue(batch, [into(one.id, 0), into(two.id, 1)]);
      const [shared, own] = [await stored({ code: fresh("SHARED") }), await stored()];
      const row = { batchId: batch.id, ingredientId: "shea-butter" };
      const used = batchLotsIn(db).usedStatements([
        { ...row, run: 0, lotId: shared.id, usedMg: 100 },
        { ...row, run: 1, lotId: shared.id, usedMg: 200 },
        { ...row, run: 1, lotId: own.id, usedMg: 300 },
      ]);
      await batches.close(endOf(batch.id, [one.id, two.id]), used);
      const trace = traceIn(db);
      const who = async (asked: Parameters<typeof trace.forwards>[1]) =>
        (await trace.forwards(SHOP, asked)).map((each) => [each.customerName, each.jars]);
      expect(await who({ code: shared.code })).toEqual([
        ["Wren", 3],
        ["Teal", 3],
      ]);
      expect(await who({ lotId: own.id })).toEqual([["Teal", 3]]);
      expect(await trace.forwards("another shop", { lotId: own.id })).toEqual([]);
      const lotsOf = async (asked: Parameters<typeof trace.backwards>[1]) =>
        (await trace.backwards(SHOP, asked)).map(({ lotId, usedMg }) => [lotId, usedMg]);
      expect(await lotsOf({ reference: one.reference })).toEqual([[shared.id, 100]]);
      expect(new Set((await lotsOf({ batchNumber: batch.number })).map(([id]) => id))).toEqual(
        new Set([shared.id, own.id]),
      );
      const jar = { batchNumber: batch.number, reference: two.reference };
      expect(await lotsOf(jar)).toHaveLength(2);
      expect(await lotsOf({ batchNumber: "none", reference: two.reference })).toEqual([]);
    });

    it("leaves no guard row behind", async () => {
      expect(await db.q.select().from(musts)).toEqual([]);
    });
  });
}
