/**
 * Shops, what they sell and what it costs them.
 */
import { productVersions, products, shops } from "#data/schema.ts";
import { and, asc, eq, isNotNull, sql } from "drizzle-orm";
import type { Database } from "./database.ts";

export type ShopRow = typeof shops.$inferSelect;
export type ProductVersionRow = typeof productVersions.$inferSelect;

/** What tells whether a cached offer is still right: the version for sale and the shop's revisions. */
export interface OfferMark {
  readonly shopId: string;
  readonly publishedVersion: number | null;
  readonly costsRevision: number;
  readonly lawRevision: number;
  /** Of the shop's settings: where and when its parcels go. */
  readonly shopRevision: number;
}

export type Shops = ReturnType<typeof shopsIn>;

export function shopsIn({ q }: Database) {
  const mark = q
    .select({
      shopId: products.shopId,
      publishedVersion: products.publishedVersion,
      costsRevision: shops.costsRevision,
      lawRevision: shops.lawRevision,
      shopRevision: shops.revision,
    })
    .from(products)
    .innerJoin(shops, eq(shops.id, products.shopId))
    .where(eq(products.id, sql.placeholder("id")))
    .prepare();
  return {
    first: async (): Promise<ShopRow | undefined> => (await q.select().from(shops).limit(1))[0],
    byId: async (id: string): Promise<ShopRow | undefined> =>
      (await q.select().from(shops).where(eq(shops.id, id)))[0],
    offerMark: async (productId: string): Promise<OfferMark | undefined> =>
      (await mark.execute({ id: productId }))[0],
    version: async (productId: string, version: number): Promise<ProductVersionRow | undefined> =>
      (
        await q
          .select()
          .from(productVersions)
          .where(
            and(eq(productVersions.productId, productId), eq(productVersions.version, version)),
          )
      )[0],
    /** What is for sale as one text, which is another once anything is published or taken down. */
    publishedMark: async (shopId: string): Promise<string> =>
      (
        await q
          .select({ id: products.id, version: products.publishedVersion })
          .from(products)
          .where(and(eq(products.shopId, shopId), isNotNull(products.publishedVersion)))
          .orderBy(asc(products.id))
      )
        .map(({ id, version }) => `${id} ${version}`)
        .join("\n"),
    published: async (shopId: string): Promise<ProductVersionRow[]> =>
      (
        await q
          .select({ row: productVersions })
          .from(products)
          .innerJoin(
            productVersions,
            and(
              eq(productVersions.productId, products.id),
              eq(productVersions.version, products.publishedVersion),
            ),
          )
          .where(and(eq(products.shopId, shopId), isNotNull(products.publishedVersion)))
          .orderBy(asc(products.id))
      ).map(({ row }) => row),
  };
}
