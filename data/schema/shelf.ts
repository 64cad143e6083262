/**
 * The maker's shelf: ingredients as they are bought, lots as they arrived, and every movement of stock.
 */
import { sql } from "drizzle-orm";
import {
  check,
  foreignKey,
  index,
  integer,
  primaryKey,
  sqliteTable,
  text,
  unique,
} from "drizzle-orm/sqlite-core";
import { batches } from "./batches.ts";
import { people } from "./people.ts";
import { shops } from "./shop.ts";

/** What the maker buys: a fat of the library under the maker's own name. Put away rather than deleted. */
export const ingredients = sqliteTable(
  "ingredients",
  {
    shopId: text()
      .notNull()
      .references(() => shops.id),
    /** Named by products, blends and lots; the library's own id for the first of its kind. */
    id: text().notNull(),
    /** Ingredient of the library that it is. */
    libraryId: text().notNull(),
    /** The maker's own name for it; empty: the library's. */
    name: text().notNull(),
    supplier: text().notNull(),
    /** The pack as the maker wrote it, "5 lb"; empty while there is no price. */
    packText: text().notNull(),
    packMinor: integer(),
    packMg: integer(),
    refined: text({ enum: ["refined", "unrefined", "not-told"] }).notNull(),
    scent: text().notNull(),
    /** The maker's own greatest share [hundredths of a percent] */
    doseMostShare: integer(),
    /** Notice when less than this is left [mg] */
    lowBelowMg: integer(),
    note: text().notNull(),
    /** Since when none is to be had and customers cannot choose it; null when there is some. */
    ranOutAt: integer(),
    archivedAt: integer(),
    revision: integer().notNull().default(1),
  },
  (t) => [
    primaryKey({ columns: [t.shopId, t.id] }),
    check("pack_whole", sql`(${t.packMinor} is null) = (${t.packMg} is null)`),
    check("pack_minor_not_negative", sql`${t.packMinor} >= 0`),
    check("pack_mg_positive", sql`${t.packMg} > 0`),
  ],
);

/** What arrived: one delivery of one ingredient under the supplier's lot code. */
export const lots = sqliteTable(
  "lots",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    ingredientId: text().notNull(),
    /** The supplier's lot code as printed on the pack. */
    code: text().notNull(),
    supplier: text().notNull(),
    /** ISO days. */
    receivedOn: text().notNull(),
    bestBefore: text(),
    receivedMg: integer().notNull(),
    /** Sum of the lot's movements, kept in step with them in one transaction. */
    onHandMg: integer().notNull(),
    /** Paid for the whole lot [minor units]; null when not told. */
    costMinor: integer(),
    /** JSON: LotCertificate of the service; null when the supplier sent none. */
    certificate: text(),
    /** Where the papers are, and what else is to be known. */
    note: text().notNull(),
    /** Why nothing may be taken from it (a recall, a doubt); null when all is well. */
    blockedBecause: text(),
    archivedAt: integer(),
    revision: integer().notNull().default(1),
  },
  (t) => [
    foreignKey({
      columns: [t.shopId, t.ingredientId],
      foreignColumns: [ingredients.shopId, ingredients.id],
    }),
    unique("lots_code").on(t.shopId, t.ingredientId, t.code),
    index("lots_by_ingredient").on(t.shopId, t.ingredientId, t.bestBefore),
    index("lots_on_hand")
      .on(t.shopId, t.bestBefore)
      .where(sql`on_hand_mg > 0`),
    check("lot_received", sql`${t.receivedMg} > 0`),
    check("lot_never_below_nothing", sql`${t.onHandMg} >= 0`),
  ],
);

/** The ledger of stock; rows are only ever added. */
export const stockMovements = sqliteTable(
  "stock_movements",
  {
    id: integer().primaryKey({ autoIncrement: true }),
    lotId: text()
      .notNull()
      .references(() => lots.id),
    at: integer().notNull(),
    deltaMg: integer().notNull(),
    why: text({ enum: ["received", "batch", "count", "waste", "undone"] }).notNull(),
    batchId: text().references(() => batches.id),
    personId: text().references(() => people.id),
    note: text().notNull(),
  },
  (t) => [
    index("stock_movements_by_lot").on(t.lotId, t.id),
    index("stock_movements_by_batch").on(t.batchId),
  ],
);

/** Which lots went into which run of a batch: the link that traces both ways. */
export const batchLots = sqliteTable(
  "batch_lots",
  {
    batchId: text()
      .notNull()
      .references(() => batches.id),
    /** Place of the run in the batch, from 0. */
    run: integer().notNull(),
    ingredientId: text().notNull(),
    lotId: text()
      .notNull()
      .references(() => lots.id),
    usedMg: integer().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.batchId, t.run, t.lotId] }),
    index("batch_lots_by_lot").on(t.lotId),
    check("lot_was_used", sql`${t.usedMg} > 0`),
  ],
);
