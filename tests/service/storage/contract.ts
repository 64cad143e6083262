/**
 * What storage must do, whichever engine stands behind it. The stores are used as the service uses them.
 */
import { eq, sql } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ingredients, kitchenLaws, musts, orders as ordersTable, shops } from "#data/schema.ts";
import { DEMO_INGREDIENTS } from "#data/seeds/demo-shelf.ts";
import { DEMO_PRODUCTS, DEMO_SHOP } from "#data/seeds/demo.ts";
import { batchesIn } from "#service/storage/batches.ts";
import { Conflict, type Database, mustHaveChanged } from "#service/storage/database.ts";
import { kitchenLawsIn } from "#service/storage/kitchen-laws.ts";
import { type OrderRow, ordersIn } from "#service/storage/orders.ts";
import { paymentEventsIn } from "#service/storage/payment-events.ts";
import { practiceSessionsIn } from "#service/storage/practice-sessions.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { ingredientsIn } from "#service/storage/ingredients.ts";
import { shopsIn } from "#service/storage/shops.ts";
import { testJarsIn } from "#service/storage/test-jars.ts";
import { AT, A_CONE, SHOP, aBatch, aQuote, aTestJar, anOrder, fresh } from "./contract-rows.ts";
import { makeCharge } from "../tills/till.contract.ts";

export interface StorageUnderTest {
  /** Migrated and empty. */
  readonly db: Database;
  close(): Promise<unknown>;
}

export function describeStorage(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let db: Database;
  let orders: ReturnType<typeof ordersIn>;

  async function placed(change: Partial<typeof ordersTable.$inferInsert> = {}): Promise<OrderRow> {
    const quote = aQuote();
    await orders.insertQuote(quote);
    const row = anOrder(quote.id, change);
    await orders.place(row);
    return (await orders.byId(row.id))!;
  }

  const move = (orderId: string, to: OrderRow["state"]) =>
    ({ orderId, to, at: AT + 60, who: "till", what: to }) as const;

  const paid = () => placed({ state: "paid", paidAt: AT + 60 });

  async function logOf(orderId: string): Promise<string[]> {
    return (await orders.events(orderId)).map(({ what }) => what);
  }

  describe(`${name}, as storage`, () => {
    beforeAll(async () => {
      subject = await open();
      db = subject.db;
      orders = ordersIn(db);
      expect(await seedDemo(db, AT)).toBe(true);
    });
    afterAll(() => subject.close());

    it("holds the demo shop once, and seeds nothing twice", async () => {
      expect(await seedDemo(db, AT + 1)).toBe(false);
      const store = shopsIn(db);
      expect((await store.published(SHOP)).map(({ productId }) => productId).sort()).toEqual(
        DEMO_PRODUCTS.map(({ product }) => product.id).sort(),
      );
      expect(await ingredientsIn(db).ofShop(SHOP)).toHaveLength(DEMO_INGREDIENTS.length);
      const mark = {
        shopId: SHOP,
        publishedVersion: 1,
        costsRevision: 1,
        lawRevision: 0,
        shopRevision: 1,
      };
      expect(await store.offerMark("everyday")).toEqual(mark);
      expect(await store.offerMark("none")).toBeUndefined();
      expect(await store.offerMark("everyday")).toEqual(mark);
    });

    it("gives a document back to the last character", async () => {
      const document = {
        words: `it's “soft” – 20 °C? ${"\u00a0\u2028\u{1F9C8}"} \\ ; -- \n\t`,
        n: 1e21,
      };
      const quote = aQuote({ snapshot: JSON.stringify(document), priceLines: '[{"minor":-0}]' });
      await orders.insertQuote(quote);
      expect(await orders.quote(quote.id)).toEqual(quote);
      expect(JSON.parse((await orders.quote(quote.id))!.snapshot)).toEqual(document);
    });

    it("keeps money and times as integers, to the largest amount that can be charged", async () => {
      const order = await placed({ totalMinor: 99_999_999, placedAt: 4_102_444_800 });
      expect(order).toMatchObject({ totalMinor: 99_999_999, placedAt: 4_102_444_800 });
      const [kinds] = await db.q
        .select({
          total: sql<string>`typeof(${ordersTable.totalMinor})`,
          placed: sql<string>`typeof(${ordersTable.placedAt})`,
          text: sql<string>`cast(${ordersTable.totalMinor} as text)`,
        })
        .from(ordersTable)
        .where(eq(ordersTable.id, order.id));
      expect(kinds).toEqual({ total: "integer", placed: "integer", text: "99999999" });
    });

    it.each([
      ["a negative total", { totalMinor: -1 }],
      ["a fraction of a penny", { totalMinor: 10.5 }],
      ["a total that is no number", { totalMinor: Number.NaN }],
      ["an unknown state", { state: "lost" as never }],
      ["an order without a quote", { quoteId: "none" }],
      ["an order of no shop", { shopId: "none" }],
    ])("refuses %s, and does not take it for a twin", async (_, change) => {
      const quote = aQuote();
      await orders.insertQuote(quote);
      const row = anOrder(quote.id, change);
      const error: unknown = await orders.place(row).catch((reason: unknown) => reason);
      expect(error).toBeInstanceOf(Error);
      expect(error).not.toBeInstanceOf(Conflict);
      expect(await orders.byId(row.id)).toBeUndefined();
      expect(await orders.events(row.id)).toEqual([]);
    });

    it("refuses a cost of nothing by the kilogram and a quote that ends before it begins", async () => {
      const bare = { name: "", supplier: "s", packText: "", refined: "not-told" as const };
      const cost = { shopId: SHOP, id: "x", libraryId: "x", packMinor: 1, packMg: 0, ...bare };
      await expect(
        db.atomic([db.q.insert(ingredients).values({ ...cost, scent: "", note: "" })]),
      ).rejects.toThrow();
      await expect(orders.insertQuote(aQuote({ expiresAt: AT }))).rejects.toThrow();
    });

    it("takes one order a quote, also from twins at the same moment", async () => {
      const quote = aQuote();
      await orders.insertQuote(quote);
      const twins = Array.from({ length: 5 }, () => anOrder(quote.id));
      const ends = await Promise.allSettled(twins.map((row) => orders.place(row)));
      const lost = ends.filter((end) => end.status === "rejected");
      expect(lost).toHaveLength(4);
      for (const { reason } of lost) expect(reason).toBeInstanceOf(Conflict);
      const winner = (await orders.byQuote(quote.id))!;
      const logs = await Promise.all(twins.map(({ id }) => logOf(id)));
      expect(logs.flat()).toEqual(["placed"]);
      expect(await logOf(winner.id)).toEqual(["placed"]);
    });

    it("takes a spoken reference once, and leaves no trace of the second", async () => {
      const { reference } = await placed();
      const quote = aQuote();
      await orders.insertQuote(quote);
      const row = anOrder(quote.id, { reference });
      await expect(orders.place(row)).rejects.toBeInstanceOf(Conflict);
      expect(await logOf(row.id)).toEqual([]);
      await orders.place(anOrder(quote.id));
    });

    it("moves an order once, however many ask at the same moment", async () => {
      const { id } = await placed();
      const asked = Array.from({ length: 5 }, () => orders.move(move(id, "paid")));
      const ends = await Promise.allSettled(asked);
      expect(ends.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
      expect(await orders.byId(id)).toMatchObject({ state: "paid" });
      expect(await logOf(id)).toEqual(["placed", "paid"]);
    });

    it("moves no order to where the table of states does not lead", async () => {
      const { id } = await placed();
      await expect(orders.move(move(id, "sent"))).rejects.toBeInstanceOf(Conflict);
      expect(await orders.byId(id)).toMatchObject({ state: "placed", paidAt: null });
      expect(await logOf(id)).toEqual(["placed"]);
    });

    it("does a list whole or not at all, and passes on what broke it", async () => {
      const rename = db.q.update(shops).set({ name: "Renamed" }).where(eq(shops.id, SHOP));
      const broken = db.q.insert(musts).values({ ok: null as never });
      const error: unknown = await db.atomic([rename, broken]).catch((reason: unknown) => reason);
      expect(String(error)).toMatch(/NOT NULL/);
      expect(error).not.toBeInstanceOf(Conflict);
      const nowhere = db.q.update(shops).set({ name: "Nowhere" }).where(eq(shops.id, "none"));
      const guarded = [rename, nowhere, ...mustHaveChanged(db.q)];
      await expect(db.atomic(guarded)).rejects.toBeInstanceOf(Conflict);
      expect((await shopsIn(db).byId(SHOP))?.name).toBe(DEMO_SHOP.name);
    });

    it("takes an empty list for nothing to do", async () => {
      await db.atomic([]);
    });

    it("issues a batch with all its orders or not at all", async () => {
      const store = batchesIn(db, orders);
      const [ready, waiting] = [await paid(), await placed()];
      const both = [ready, waiting].map(({ id }) => move(id, "in-making"));
      const batch = aBatch();
      await expect(store.issue(batch, both)).rejects.toBeInstanceOf(Conflict);
      expect(await store.byId(batch.id)).toBeUndefined();
      expect(await orders.byId(ready.id)).toMatchObject({ state: "paid", batchId: null });
    });

    it("issues and closes a batch of forty orders", async () => {
      const store = batchesIn(db, orders);
      const batch = aBatch();
      const members = await Promise.all(Array.from({ length: 40 }, paid));
      const withBatch = { with: { batchId: batch.id } };
      const moves = members.map(({ id }) => ({ ...move(id, "in-making"), ...withBatch }));
      await store.issue(batch, moves);
      expect(await orders.ofBatch(batch.id)).toHaveLength(40);
      const listed = (await store.page(SHOP, 50)).find(({ number }) => number === batch.number);
      const line = { number: batch.number, state: "open", kind: "orders", issuedAt: AT };
      expect(listed).toEqual({ ...line, orders: 40 });
      const madeIds = members.map(({ id }) => id);
      await store.close(
        {
          ...{ batchId: batch.id, closing: "{}", at: AT + 60, personId: null },
          ...{ madeIds, backIds: [], saysMade: "made", saysBack: "back" },
        },
        [],
      );
      expect((await store.byId(batch.id))?.state).toBe("made");
      expect((await orders.ofBatch(batch.id)).map(({ state }) => state)).not.toContain("in-making");
    });

    it("counts batch numbers by how they begin, and lists no more than asked for", async () => {
      const store = batchesIn(db, orders);
      for (const number of ["990101-01", "990101-02", "990102-01"]) {
        await store.issue({ ...aBatch(), number }, []);
      }
      expect(await store.countFrom(SHOP, "990101-")).toBe(2);
      expect(await store.page(SHOP, 2)).toHaveLength(2);
    });

    it("lets a payment event wait until it is settled, however often it comes", async () => {
      const store = paymentEventsIn(db);
      const event = { id: fresh("evt"), type: "t", sessionId: null, receivedAt: AT };
      expect(await store.receive(event)).toBe(true);
      expect(await store.receive(event)).toBe(true);
      expect((await store.waiting(AT, 10)).map(({ id }) => id)).toContain(event.id);
      expect((await store.waiting(AT - 1, 10)).map(({ id }) => id)).not.toContain(event.id);
      expect(await store.unknownOf([event.id, "evt_never"])).toEqual(["evt_never"]);
      await store.settle(event.id, AT);
      expect((await store.waiting(AT, 10)).map(({ id }) => id)).not.toContain(event.id);
      expect(await store.receive(event)).toBe(false);
    });

    it("closes a practice session once", async () => {
      const store = practiceSessionsIn(db);
      const { idempotencyKey: _key, ...charge } = makeCharge();
      const id = fresh("practice");
      await store.insert({ ...charge, id, state: "open" });
      await store.setState(id, "paid");
      await store.setState(id, "expired");
      expect(await store.find(id)).toEqual({ ...charge, id, state: "paid" });
    });

    it("numbers test jars, keeps each once, and strikes out without deleting", async () => {
      const store = testJarsIn(db);
      const [one, two] = [aTestJar(), aTestJar({ grade: null, ...A_CONE })];
      await store.add(one);
      await store.add(two);
      await expect(store.add(one)).rejects.toBeInstanceOf(Conflict);
      await expect(store.add(aTestJar(A_CONE))).rejects.toThrow(); // read twice
      await expect(store.add(aTestJar({ grade: null }))).rejects.toThrow(); // not read at all
      await store.setStruck(SHOP, one.id, AT);
      await store.setStruck("another shop", two.id, AT);
      const latest = await store.latest(SHOP, 10);
      expect(latest.map(({ number, struckAt }) => [number, struckAt])).toEqual([
        [2, null],
        [1, AT],
      ]);
      await store.setStruck(SHOP, one.id, null);
      expect(await store.byId(SHOP, one.id)).toEqual({ ...one, number: 1, struckAt: null });
      expect(await store.byId("another shop", one.id)).toBeUndefined();
    });

    it("changes the law in force for one of two, and keeps every law there was", async () => {
      const store = kitchenLawsIn(db);
      const law = { scalePa: 1_234_567.8901234567, solidsExponent: 2.1, airExponent: 1.4 };
      expect(await store.inForce(SHOP)).toEqual({ revision: 0, jars: 0 });
      await store.adopt(SHOP, 0, law, { jars: 12, at: AT });
      expect(await store.inForce(SHOP)).toMatchObject({ revision: 1, law, jars: 12 });
      const late = store.adopt(SHOP, 0, undefined, { jars: 0, at: AT });
      await expect(late).rejects.toBeInstanceOf(Conflict);
      await store.adopt(SHOP, 1, undefined, { jars: 0, at: AT + 1 });
      expect(await store.inForce(SHOP)).not.toHaveProperty("law");
      expect(await db.q.select().from(kitchenLaws)).toHaveLength(2);
      expect((await shopsIn(db).offerMark("everyday"))!.lawRevision).toBe(2);
    });

    it("leaves no guard row behind", async () => {
      expect(await db.q.select().from(musts)).toEqual([]);
    });
  });
}
