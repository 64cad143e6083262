/**
 * What is for sale: products, their published versions, and the draft that the next version will come from.
 */
import { index, integer, primaryKey, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { people } from "./people.ts";
import { shops } from "./shop.ts";

export const products = sqliteTable(
  "products",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    name: text().notNull().default(""),
    archivedAt: integer(),
    /** Version customers see; null while it is not for sale. */
    publishedVersion: integer(),
  },
  (t) => [index("products_by_shop").on(t.shopId)],
);

/** A published version never changes: an order keeps the one it was made from. */
export const productVersions = sqliteTable(
  "product_versions",
  {
    productId: text()
      .notNull()
      .references(() => products.id),
    version: integer().notNull(),
    /** JSON: core Product */
    product: text().notNull(),
    /** JSON: core PricePolicy */
    pricePolicy: text().notNull(),
    publishedAt: integer().notNull(),
    publishedBy: text().references(() => people.id),
    /** JSON: what the orderable room was when it was published; null before rooms were measured. */
    room: text(),
  },
  (t) => [primaryKey({ columns: [t.productId, t.version] })],
);

/** A product being written; it may be unfinished, and no customer sees it. */
export const productDrafts = sqliteTable("product_drafts", {
  productId: text()
    .primaryKey()
    .references(() => products.id),
  /** JSON: ProductDraft of the service */
  document: text().notNull(),
  /** Rises with every save: who saves an older one is told, and nothing is overwritten. */
  revision: integer().notNull(),
  savedAt: integer().notNull(),
  personId: text().references(() => people.id),
});
