/**
 * What the stores of products and drafts must do, whichever engine stands behind them.
 */
import { eq } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { musts, productVersions } from "#data/schema.ts";
import { DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { Conflict } from "#service/storage/database.ts";
import { draftsIn } from "#service/storage/drafts.ts";
import { productsIn } from "#service/storage/products.ts";
import { seedDemo } from "#service/storage/seed.ts";
import type { StorageUnderTest } from "./contract.ts";
import { AT, SHOP, fresh } from "./contract-rows.ts";

const [DEMO] = DEMO_PRODUCTS;

export function describeProducts(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let drafts: ReturnType<typeof draftsIn>;
  let products: ReturnType<typeof productsIn>;

  const aDraft = (id: string, change: object = {}) => ({
    product: { ...DEMO!.product, id, ...change },
    pricePolicy: DEMO!.pricePolicy,
  });
  const create = async (change: object = {}) => {
    const id = fresh("product");
    const document = aDraft(id, change);
    await drafts.create({ shopId: SHOP, document, personId: null, at: AT });
    return { id, document };
  };
  const publishing = (id: string, since: number, version: number) => ({
    ...{ shopId: SHOP, productId: id, since, version, personId: null, at: AT + version },
    ...{ product: `{"v":${version}}`, pricePolicy: "{}", room: "{}" },
  });

  describe(`${name}, as storage of products`, () => {
    beforeAll(async () => {
      subject = await open();
      drafts = draftsIn(subject.db);
      products = productsIn(subject.db);
      await seedDemo(subject.db, AT);
    });
    afterAll(() => subject.close());

    it("reads a draft back as it was written, and of none the version for sale", async () => {
      const words = `it's “زبدة” 🧈 \\ \n 20 °C?`;
      const { id, document } = await create({ words });
      const stored = await drafts.read(SHOP, id);
      expect(stored).toEqual({ document, revision: 1, savedAt: AT, personId: null });
      expect(await drafts.read(SHOP, "everyday")).toMatchObject({ revision: 0, savedAt: AT });
      expect(await drafts.read("another", id)).toBeUndefined();
      expect(await drafts.read(SHOP, "none")).toBeUndefined();
    });

    it("takes the id of a product once", async () => {
      const { id, document } = await create();
      const twin = drafts.create({ shopId: SHOP, document, personId: null, at: AT });
      await expect(twin).rejects.toBeInstanceOf(Conflict);
      expect((await drafts.read(SHOP, id))!.revision).toBe(1);
    });

    it("saves for one of several at the same moment, and overwrites nothing", async () => {
      for (const id of ["featherlight", (await create()).id]) {
        const { revision } = (await drafts.read(SHOP, id))!;
        const saves = ["A", "B", "C"].map((each) =>
          drafts.save(SHOP, id, aDraft(id, { name: each }), revision, null, AT + 1),
        );
        const ends = await Promise.allSettled(saves);
        const lost = ends.filter((end) => end.status === "rejected");
        expect(lost).toHaveLength(2);
        for (const { reason } of lost) expect(reason).toBeInstanceOf(Conflict);
        const now = (await drafts.read(SHOP, id))!;
        expect(now.revision).toBe(revision + 1);
        expect((await products.byId(SHOP, id))!.name).toBe(now.document.product.name);
      }
    });

    it("saves nothing for another shop", async () => {
      const { id } = await create();
      const foreign = drafts.save("another", id, aDraft(id, { name: "Theirs" }), 1, null, AT);
      await expect(foreign).rejects.toBeInstanceOf(Conflict);
      expect((await drafts.read(SHOP, id))!.revision).toBe(1);
    });

    it("publishes a revision once, in one piece, and never touches a version again", async () => {
      const { id } = await create();
      await products.publish(publishing(id, 1, 1));
      const [first] = await subject.db.q
        .select()
        .from(productVersions)
        .where(eq(productVersions.productId, id));
      await expect(products.publish(publishing(id, 1, 1))).rejects.toBeInstanceOf(Conflict);
      await expect(products.publish(publishing(id, 9, 2))).rejects.toBeInstanceOf(Conflict);
      await drafts.save(SHOP, id, aDraft(id), 1, null, AT);
      await products.publish(publishing(id, 2, 2));
      expect(await products.version(SHOP, id, 1)).toEqual(first);
      expect((await products.byId(SHOP, id))!.publishedVersion).toBe(2);
      expect((await products.versions(id, 10)).map(({ version }) => version)).toEqual([2, 1]);
      expect(await products.versions(id, 1, 2)).toMatchObject([{ version: 1, by: null }]);
      expect(await products.version("another", id, 1)).toBeUndefined();
      await products.putAway(SHOP, id, AT);
      await expect(products.publish(publishing(id, 2, 3))).rejects.toBeInstanceOf(Conflict);
      expect(await products.version(SHOP, id, 3)).toBeUndefined();
    });

    it("moves what is for sale only from where the maker saw it", async () => {
      const { id } = await create();
      await products.publish(publishing(id, 1, 1));
      await expect(products.sell(SHOP, id, null, 1)).rejects.toBeInstanceOf(Conflict);
      await products.sell(SHOP, id, 1, null);
      await products.sell(SHOP, id, null, 1);
      await products.putAway(SHOP, id, AT);
      expect(await products.byId(SHOP, id)).toMatchObject({
        publishedVersion: null,
        archivedAt: AT,
      });
      await expect(products.sell(SHOP, id, null, 1)).rejects.toBeInstanceOf(Conflict);
      await products.putAway("another", id, null);
      expect((await products.byId(SHOP, id))!.archivedAt).toBe(AT);
    });

    it("lists by name, whatever its case, page after page, each product once", async () => {
      const names = ["zeta", "Zeta", "zeta", "ZETA 100%", "zeta_x", "Zeta’s"];
      for (const each of names) await create({ name: each });
      const seen: string[] = [];
      let after: { name: string; id: string } | undefined;
      for (;;) {
        const search = { words: "zeta", show: "standing", after } as const;
        const rows = await products.list(SHOP, search, 2);
        seen.push(...rows.map(({ product }) => product.id));
        const last = rows.at(-1)?.product;
        if (!last) break;
        after = { name: last.name, id: last.id };
      }
      expect(seen).toHaveLength(names.length);
      expect(new Set(seen).size).toBe(names.length);
      const find = async (words: string) =>
        (await products.list(SHOP, { words, show: "standing" }, 10)).map((row) => row.product.name);
      expect(await find("100%")).toEqual(["ZETA 100%"]);
      expect(await find("a_x")).toEqual(["zeta_x"]);
      const forSale = await products.list(SHOP, { words: "winter", show: "for-sale" }, 10);
      expect(forSale).toMatchObject([{ version: { version: 1 }, draft: null }]);
    });

    it("leaves no guard row behind", async () => {
      expect(await subject.db.q.select().from(musts)).toEqual([]);
    });
  });
}
