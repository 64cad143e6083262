/**
 * Products and their published versions. A version is written once, together with the product's pointer to it, and
 * never changes.
 */
import { people, productDrafts, productVersions, products } from "#data/schema.ts";
import { type SQL, and, asc, desc, eq, gte, isNotNull, isNull, lt, sql } from "drizzle-orm";
import { type Database, type Statement, mustHaveChanged } from "./database.ts";

export type ProductRow = typeof products.$inferSelect;
type VersionRow = typeof productVersions.$inferSelect;

export interface ProductSearch {
  /** In the name; empty finds all. */
  readonly words: string;
  readonly show: "standing" | "for-sale" | "draft" | "put-away";
  /** Name and id of the last row of the page before. */
  readonly after?: { readonly name: string; readonly id: string } | undefined;
}

export interface ListedProduct {
  readonly product: ProductRow;
  /** The version for sale, or else the latest there is. */
  readonly version: VersionRow | null;
  /** The draft's document; null while nobody has written since it was published. */
  readonly draft: string | null;
}

export interface ListedVersion {
  readonly version: number;
  readonly publishedAt: number;
  /** Who published it; null when nobody was signed in by name. */
  readonly by: string | null;
}

export interface Publishing {
  readonly shopId: string;
  readonly productId: string;
  /** Revision of the draft that is published. */
  readonly since: number;
  readonly version: number;
  /** JSON: core Product, core PricePolicy, and the room as it was. */
  readonly product: string;
  readonly pricePolicy: string;
  readonly room: string;
  readonly personId: string | null;
  /** [s since 1970] */
  readonly at: number;
}

export type Products = ReturnType<typeof productsIn>;

export function productsIn(db: Database) {
  const { q } = db;
  const own = (shopId: string, id: string) => and(eq(products.shopId, shopId), eq(products.id, id));
  const byName = sql`${products.name} collate nocase`;

  return {
    byId: async (shopId: string, id: string): Promise<ProductRow | undefined> =>
      (await q.select().from(products).where(own(shopId, id)))[0],

    /** A page of the list by name. */
    list: async (shopId: string, search: ProductSearch, most: number): Promise<ListedProduct[]> => {
      const latest = sql`(select max(version) from product_versions v where v.product_id = ${products.id})`;
      return await q
        .select({ product: products, version: productVersions, draft: productDrafts.document })
        .from(products)
        .leftJoin(productDrafts, eq(productDrafts.productId, products.id))
        .leftJoin(
          productVersions,
          and(
            eq(productVersions.productId, products.id),
            sql`${productVersions.version} = coalesce(${products.publishedVersion}, ${latest})`,
          ),
        )
        .where(and(eq(products.shopId, shopId), ...conditionsOf(search)))
        .orderBy(asc(byName), asc(products.id))
        .limit(most);
    },

    /** Names to choose from when a product is copied. */
    names: async (shopId: string, most: number) =>
      await q
        .select({ id: products.id, name: products.name })
        .from(products)
        .where(and(eq(products.shopId, shopId), isNull(products.archivedAt)))
        .orderBy(asc(byName), asc(products.id))
        .limit(most),

    /** Versions of a product, the newest first. */
    versions: async (
      productId: string,
      most: number,
      before = Number.MAX_SAFE_INTEGER,
    ): Promise<ListedVersion[]> =>
      await q
        .select({
          version: productVersions.version,
          publishedAt: productVersions.publishedAt,
          by: people.name,
        })
        .from(productVersions)
        .leftJoin(people, eq(people.id, productVersions.publishedBy))
        .where(and(eq(productVersions.productId, productId), lt(productVersions.version, before)))
        .orderBy(desc(productVersions.version))
        .limit(most),

    version: async (
      shopId: string,
      productId: string,
      version: number,
    ): Promise<VersionRow | undefined> =>
      (
        await q
          .select({ row: productVersions })
          .from(productVersions)
          .innerJoin(products, eq(products.id, productVersions.productId))
          .where(and(own(shopId, productId), eq(productVersions.version, version)))
      )[0]?.row,

    /** What a version and all since say for labels, the earliest first: JSON of LabelFacts, or null. */
    labelsSince: async (
      shopId: string,
      productId: string,
      version: number,
    ): Promise<(string | null)[]> =>
      (
        await q
          .select({
            label: sql<string | null>`json_extract(${productVersions.product}, '$.label')`,
          })
          .from(productVersions)
          .innerJoin(products, eq(products.id, productVersions.productId))
          .where(and(own(shopId, productId), gte(productVersions.version, version)))
          .orderBy(asc(productVersions.version))
      ).map(({ label }) => label),

    /** Write a version and put it on sale; Conflict when the draft, the versions or the product moved meanwhile. */
    publish: async (publishing: Publishing): Promise<void> => {
      const { shopId, productId, since, version, product, pricePolicy, room } = publishing;
      const { personId: publishedBy, at: publishedAt } = publishing;
      await db.atomic([
        q
          .update(productDrafts)
          .set({ revision: since })
          .where(and(eq(productDrafts.productId, productId), eq(productDrafts.revision, since))),
        ...mustHaveChanged(q),
        q
          .insert(productVersions)
          .values({ productId, version, product, pricePolicy, publishedAt, publishedBy, room }),
        q
          .update(products)
          .set({ publishedVersion: version })
          .where(and(own(shopId, productId), isNull(products.archivedAt))),
        ...mustHaveChanged(q),
      ]);
    },

    /**
     * Put a version on sale, or take the product off sale.
     * @param from version for sale as the maker saw it
     * @throws Conflict when another is for sale by now, or the product was put away
     */
    sell: async (
      shopId: string,
      productId: string,
      from: number | null,
      version: number | null,
    ): Promise<void> => {
      const asSeen =
        from === null ? isNull(products.publishedVersion) : eq(products.publishedVersion, from);
      await db.atomic([
        q
          .update(products)
          .set({ publishedVersion: version })
          .where(and(own(shopId, productId), isNull(products.archivedAt), asSeen)),
        ...mustHaveChanged(q),
      ] as Statement[]);
    },

    /**
     * Put a product away, off sale, or back.
     * @param archivedAt when [s since 1970]; null puts it back
     */
    putAway: async (shopId: string, productId: string, archivedAt: number | null): Promise<void> =>
      await db.atomic([
        q
          .update(products)
          .set(archivedAt === null ? { archivedAt } : { archivedAt, publishedVersion: null })
          .where(own(shopId, productId)),
      ]),
  };
}

function conditionsOf({ words, show, after }: ProductSearch): SQL[] {
  const conditions: SQL[] = [
    show === "put-away" ? isNotNull(products.archivedAt) : isNull(products.archivedAt),
  ];
  if (show === "for-sale") conditions.push(isNotNull(products.publishedVersion));
  if (show === "draft") conditions.push(isNull(products.publishedVersion));
  if (words !== "") {
    const pattern = `%${words.replaceAll(/[\\%_]/g, (each) => `\\${each}`)}%`;
    conditions.push(sql`${products.name} like ${pattern} escape '\\'`);
  }
  if (after) {
    const { name, id } = after;
    conditions.push(
      sql`(${products.name} collate nocase > ${name}
        or (${products.name} collate nocase = ${name} and ${products.id} > ${id}))`,
    );
  }
  return conditions;
}
