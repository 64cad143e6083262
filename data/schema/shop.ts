/**
 * The shop itself, and the files a maker has sent in to look at before they count.
 */
import { integer, sqliteTable, text } from "drizzle-orm/sqlite-core";

export const shops = sqliteTable("shops", {
  id: text().primaryKey(),
  name: text().notNull(),
  locale: text().notNull(),
  currency: text().notNull(),
  currencyExponent: integer().notNull(),
  /** JSON: ShopParticulars of the service: scale, vessel, where and when parcels go. */
  particulars: text().notNull(),
  /** Rises with every change of a cost, so that a cached tariff knows when it is old. */
  costsRevision: integer().notNull().default(1),
  /** Revision of the firmness law in force, a row of `kitchen_laws`; 0 is the published law. */
  lawRevision: integer().notNull().default(0),
  /** Rises with every change of these settings: who saves an older one is told. */
  revision: integer().notNull().default(1),
});

/** A table of figures as it was uploaded, kept while its preview is looked at. */
export const csvUploads = sqliteTable("csv_uploads", {
  id: text().primaryKey(),
  shopId: text()
    .notNull()
    .references(() => shops.id),
  kind: text({ enum: ["ingredients", "lots"] }).notNull(),
  text: text().notNull(),
  receivedAt: integer().notNull(),
});
