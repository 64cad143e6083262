/**
 * What the stores of host shops and of a customer's wishes must do, whichever engine stands behind them.
 */
import { eq } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { idempotencyKeys, orderEvents, orders } from "#data/schema.ts";
import { apiKeysIn } from "#service/storage/api-keys.ts";
import { Conflict, type Database } from "#service/storage/database.ts";
import { hostOrdersIn } from "#service/storage/host-orders.ts";
import { idempotencyKeysIn } from "#service/storage/idempotency-keys.ts";
import { orderCareIn } from "#service/storage/order-care.ts";
import { ordersIn } from "#service/storage/orders.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { AT, SHOP, aQuote, anOrder, fresh } from "./contract-rows.ts";
import type { StorageUnderTest } from "./contract.ts";

export function describePlugin(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let db: Database;

  async function aKey() {
    const id = fresh("key");
    const row = { id, shopId: SHOP, name: "Larder", secretHash: `hash of ${id}`, createdAt: AT };
    await apiKeysIn(db).add(row);
    return row;
  }

  async function aHostOrder(apiKeyId: string, change: Partial<typeof orders.$inferInsert> = {}) {
    const quote = aQuote();
    await ordersIn(db).insertQuote(quote);
    const host = { tillKind: "host" as const, apiKeyId, hostReference: fresh("H") };
    const { state: _placed, ...row } = anOrder(quote.id, { ...host, ...change });
    await hostOrdersIn(db, ordersIn(db)).place(row);
    return row;
  }

  const byId = async (id: string) => (await ordersIn(db).byId(id))!;
  const logOf = async (id: string) => (await ordersIn(db).events(id)).map(({ what }) => what);

  describe(`host shops and wishes on ${name}`, () => {
    beforeAll(async () => {
      subject = await open();
      ({ db } = subject);
      await seedDemo(db, AT);
    });
    afterAll(() => subject.close());

    it("keeps keys: found by hash, used, renewed, revoked once", async () => {
      const store = apiKeysIn(db);
      const { id, secretHash } = await aKey();
      const found = (await store.bySecretHash(secretHash))!;
      await store.noteUse(found, AT + 5);
      const used = (await store.bySecretHash(secretHash))!;
      expect(used.lastUsedAt).toBe(AT + 5);
      await store.noteUse(used, AT + 6); // within the minute: no write
      expect((await store.bySecretHash(secretHash))!.lastUsedAt).toBe(AT + 5);
      await expect(store.add({ ...found, name: "again" })).rejects.toBeInstanceOf(Conflict);
      await store.renew(SHOP, id, "another");
      expect(await store.bySecretHash(secretHash)).toBeUndefined();
      await store.revoke(SHOP, id, AT + 9);
      expect(await store.bySecretHash("another")).toBeUndefined();
      await expect(store.revoke(SHOP, id, AT + 9)).rejects.toBeInstanceOf(Conflict);
      await expect(store.renew(SHOP, id, "third")).rejects.toBeInstanceOf(Conflict);
    });

    it("does a request once: begun, taken over by one, finished, forgotten", async () => {
      const store = idempotencyKeysIn(db);
      const of = { apiKeyId: (await aKey()).id, key: "cart" };
      await store.begin({ ...of, requestHash: "h", startedAt: AT }, AT - 100);
      const again = store.begin({ ...of, requestHash: "h", startedAt: AT }, AT - 100);
      await expect(again).rejects.toBeInstanceOf(Conflict);
      const takers = await Promise.allSettled([1, 2].map(() => store.takeOver(of, AT, AT + 60)));
      expect(takers.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
      await store.finish(of, { startedAt: AT, status: 500, answer: "late" }); // the dead attempt
      expect((await store.find(of))!.status).toBeNull();
      await store.finish(of, { startedAt: AT + 60, status: 201, answer: "{}" });
      await store.release(of, AT + 60);
      expect(await store.find(of)).toMatchObject({ status: 201, answer: "{}" });
      const other = { ...of, key: "another cart" };
      await store.begin({ ...other, requestHash: "h", startedAt: AT + 90 }, AT + 61);
      expect(await store.find(of)).toBeUndefined();
      await store.release(other, AT + 90);
      expect(await store.find(other)).toBeUndefined();
      const left = await db.q.select().from(idempotencyKeys);
      expect(left.filter(({ apiKeyId }) => apiKeyId === of.apiKeyId)).toEqual([]);
    });

    it("stores a host's order as paid, or nothing of it", async () => {
      const { id: apiKeyId } = await aKey();
      const row = await aHostOrder(apiKeyId);
      expect(await byId(row.id)).toMatchObject({ state: "paid", paidAt: AT });
      expect(await logOf(row.id)).toEqual(["placed", "paid at the host shop"]);
      const twin = { ...row, id: fresh("order"), reference: fresh("R"), tillKey: fresh("t") };
      const store = hostOrdersIn(db, ordersIn(db));
      await expect(store.place(twin)).rejects.toBeInstanceOf(Conflict);
      const lines = db.q.select().from(orderEvents).where(eq(orderEvents.orderId, twin.id));
      expect(await lines).toEqual([]);
    });

    it("lists a host's orders page by page, each once, also those of one second", async () => {
      const key = { ...(await aKey()), shopId: SHOP };
      for (const later of [0, 0, 0, 1]) await aHostOrder(key.id, { placedAt: AT + later });
      await aHostOrder((await aKey()).id);
      const store = hostOrdersIn(db, ordersIn(db));
      const first = await store.list(key, { most: 2 });
      const rest = await store.list(key, { most: 9, after: first.at(-1)! });
      expect(new Set([...first, ...rest].map(({ id }) => id)).size).toBe(4);
      expect(await store.list(key, { most: 9, since: AT + 1 })).toHaveLength(1);
      const { hostReference } = first[0]!;
      expect(await store.list(key, { most: 9, hostReference: hostReference! })).toEqual([first[0]]);
    });

    it("takes a wish to cancel once, and a no", async () => {
      const { id } = await aHostOrder((await aKey()).id);
      const care = orderCareIn(db, ordersIn(db));
      await care.askToCancel(id, AT + 1);
      await expect(care.askToCancel(id, AT + 2)).rejects.toBeInstanceOf(Conflict);
      expect((await care.askedToCancel(SHOP)).map((order) => order.id)).toContain(id);
      await care.keepOn(id, AT + 3, "begun");
      await expect(care.keepOn(id, AT + 3, "begun")).rejects.toBeInstanceOf(Conflict);
      expect(await care.keptOnBecause(id)).toBe("begun");
      expect((await care.askedToCancel(SHOP)).map((order) => order.id)).not.toContain(id);
    });

    it("erases who it was once the order is over, and not before", async () => {
      const deliverTo = JSON.stringify({ name: "Wren", city: "Quill", country: "GB" });
      const { id } = await aHostOrder((await aKey()).id, { customerName: "Wren", deliverTo });
      const store = ordersIn(db);
      const care = orderCareIn(db, store);
      await expect(care.erase(id, AT, "customer")).rejects.toBeInstanceOf(Conflict);
      expect((await byId(id)).customerName).toBe("Wren");
      const what = "cancelled: Wren rang";
      await store.move({ orderId: id, to: "cancelled", at: AT, who: "maker", what });
      await care.erase(id, AT + 4, "customer");
      expect(await byId(id)).toMatchObject({
        ...{ customerName: null, deliverTo: '{"country":"GB"}', erasedAt: AT + 4 },
        totalMinor: 2900,
      });
      expect((await logOf(id)).slice(2)).toEqual([
        "cancelled: (words taken out)",
        "personal particulars erased",
      ]);
      await expect(care.erase(id, AT + 5, "customer")).rejects.toBeInstanceOf(Conflict);
      const { id: bare } = await aHostOrder((await aKey()).id);
      await store.move({ orderId: bare, to: "cancelled", at: AT, who: "maker", what: "cancelled" });
      await care.erase(bare, AT + 4, "maker");
      expect(await byId(bare)).toMatchObject({ deliverTo: null, erasedAt: AT + 4 });
    });
  });
}
