/**
 * A shop of one's own from nothing: made once, its first shelf filled, and its first steps as far as what is stored
 * says, whichever engine stands behind it.
 */
import { eq } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import * as schema from "#data/schema.ts";
import { firstSteps } from "#service/actions/first-steps.ts";
import { readOwnShop } from "#service/own-shop.ts";
import { readFirstShelf } from "#service/shelf/first-shelf.ts";
import { Conflict, type Database } from "#service/storage/database.ts";
import { SHELF_COUNT_MOST, firstStepsIn } from "#service/storage/first-steps.ts";
import { ingredientsIn } from "#service/storage/ingredients.ts";
import { createShop } from "#service/storage/new-shop.ts";
import { shopsIn } from "#service/storage/shops.ts";
import { AT, aBatch, aQuote, anOrder } from "./contract-rows.ts";
import type { StorageUnderTest } from "./contract.ts";

const OWNER = "person-1";

export function describeOwnShop(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let db: Database;
  let shopId: string;
  beforeAll(async () => {
    subject = await open();
    ({ db } = subject);
  });
  afterAll(() => subject.close());

  const insert = async (table: Parameters<Database["q"]["insert"]>[0], row: object) =>
    await db.atomic([db.q.insert(table).values(row as never)]);

  /** How the steps stand, by the beginnings of their words. */
  async function steps(url = "https://shop.example") {
    const owner = (await shopsIn(db).byId(shopId))!;
    const till = { kind: "practice" as const };
    const ports = { firstSteps: firstStepsIn(db), till, url } as never;
    const all = await firstSteps(ports, owner, OWNER);
    const of = (words: string) => all.find((step) => step.words.startsWith(words))!;
    return { all, of, done: all.filter(({ done }) => done).map(({ words }) => words) };
  }

  describe(`${name}, as a shop of one's own`, () => {
    it("is made once, in an empty database, and then left alone", async () => {
      const words = { name: "Thistle & Wick", currency: "eur", locale: "de-AT" };
      const read = readOwnShop(words, "Europe/Vienna");
      if ("faults" in read) throw new Error(JSON.stringify(read.faults));
      shopId = read.shop.id;
      expect(await createShop(db, read.shop)).toBe(true);
      expect(await createShop(db, { ...read.shop, id: "other" })).toBe(false);
      expect(await db.q.select().from(schema.shops)).toMatchObject([
        { id: "thistle-wick", name: "Thistle & Wick", currency: "EUR", currencyExponent: 2 },
      ]);
    });

    it("begins with nothing done, each step saying how it stands and where it is taken", async () => {
      await insert(schema.people, {
        id: OWNER,
        shopId,
        name: "Maya",
        role: "owner",
        createdAt: AT,
      });
      const { all, done, of } = await steps();
      expect([all.length, done]).toEqual([9, []]);
      expect(of("Look through")).toMatchObject({ state: "not looked at yet", href: "/maker/shop" });
      expect(of("Make the door").state).toBe("no passkey, no recovery code yet");
      expect(of("Put what")).toMatchObject({ state: "nothing yet", href: "/maker/shelf/start" });
      expect(of("Begin")).toMatchObject({ state: "none yet", href: "/maker/products/new" });
      expect(of("Make the first").state).toBe("once there is an order");
    });

    it("asks for no passkey where none can be had", async () => {
      const { of } = await steps("http://192.0.2.7:8787");
      expect(of("Make the door").state).toBe("no recovery code yet");
    });

    it("fills its first shelf in one go, or not at all", async () => {
      const packs = new Map([
        ["shea-butter", { pack: "1 kg", price: "18,50" }],
        ["cocoa-butter", { pack: "500 g", price: "9.20" }],
      ]);
      const store = ingredientsIn(db);
      const read = readFirstShelf(packs, [], shopId, { code: "EUR", exponent: 2 });
      if ("faults" in read) throw new Error(JSON.stringify(read.faults));
      await store.createAll(shopId, read.rows.slice(0, 1));
      expect((await steps()).of("Put what")).toMatchObject({
        ...{ state: "1 with a price", done: false, href: "/maker/shelf" },
      });
      // The first of the two stands there by now, so neither is written.
      await expect(store.createAll(shopId, read.rows.toReversed())).rejects.toBeInstanceOf(
        Conflict,
      );
      expect(await store.ofShop(shopId)).toMatchObject([{ id: "shea-butter", packMinor: 1850 }]);
      await store.createAll(shopId, read.rows.slice(1));
      expect((await steps()).of("Put what")).toMatchObject({ state: "2 with a price", done: true });
    });

    it("counts a long shelf to a limit", async () => {
      const rows = Array.from({ length: SHELF_COUNT_MOST + 1 }, (_, at) => ({
        ...{ shopId, id: `extra-${at}`, libraryId: "olive-oil", name: `Olive ${at}` },
        ...{ supplier: "", packText: "", packMinor: null, packMg: null, scent: "", note: "" },
        refined: "not-told" as const,
      }));
      await ingredientsIn(db).createAll(shopId, rows);
      expect((await steps()).of("Put what").state).toBe(
        `2 with a price, more than ${SHELF_COUNT_MOST} without`,
      );
    });

    it("ticks settings, door and product off as each is stored", async () => {
      const row = (await shopsIn(db).byId(shopId))!;
      const responsible = { name: "Maya", address: "1 Lane" };
      const particulars = { ...(JSON.parse(row.particulars) as object), responsible };
      const set = { revision: 2, particulars: JSON.stringify(particulars) };
      await db.atomic([db.q.update(schema.shops).set({ revision: 2 })]);
      expect((await steps()).of("Look through").state).toContain("responsible person");
      await db.atomic([db.q.update(schema.shops).set(set)]);
      await db.atomic([db.q.update(schema.people).set({ recoveryHash: "hash" })]);
      const key = { id: "key", personId: OWNER, publicKey: "", counter: 0, transports: "[]" };
      await insert(schema.passkeys, { ...key, name: "Phone", createdAt: AT });
      const product = (bases: readonly unknown[]) => ({
        ...{ productId: "p/1", revision: 1, savedAt: AT },
        document: JSON.stringify({ product: { bases }, stage: bases.length > 0 ? ["price"] : [] }),
      });
      await insert(schema.products, { id: "p/1", shopId, name: "Winter butter" });
      await insert(schema.productDrafts, product([]));
      expect((await steps()).of("Begin").state).toBe("“Winter butter”, without a base");
      const { document } = product([{ id: "soft" }]);
      await db.atomic([db.q.update(schema.productDrafts).set({ document })]);
      const { of, done } = await steps();
      expect(done).toHaveLength(5);
      expect(of("Publish")).toMatchObject({ done: false, href: "/maker/products/p%2F1/publish" });
      expect(of("Order").state).toBe("once a product is published");
      await db.atomic([db.q.update(schema.products).set({ publishedVersion: 1 })]);
      expect((await steps()).of("Order")).toMatchObject({ state: "not yet", href: "/shop/p%2F1" });
    });

    it("leads to the batch on the bench, and is silent once a batch of orders was made", async () => {
      const quote = { ...aQuote(), shopId };
      await insert(schema.quotes, quote);
      await insert(schema.orders, anOrder(quote.id, { shopId }));
      expect((await steps()).of("Make the first").state).toBe("not yet");
      const trial = { ...aBatch(), shopId, kind: "trial" as const, state: "made" as const };
      await insert(schema.batches, trial);
      const batch = { ...aBatch(), shopId };
      await insert(schema.batches, batch);
      expect((await steps()).of("Make the first")).toMatchObject({
        ...{ state: `batch ${batch.number} is on the bench`, done: false },
        href: `/maker/batches/${batch.number}`,
      });
      const made = db.q.update(schema.batches).set({ state: "made" });
      await db.atomic([made.where(eq(schema.batches.id, batch.id))]);
      expect((await steps()).all).toEqual([]);
    });
  });
}
