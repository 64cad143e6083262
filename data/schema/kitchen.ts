/**
 * What the kitchen learns from: test jars, and the firmness laws the shop has judged by.
 */
import { sql } from "drizzle-orm";
import {
  check,
  integer,
  primaryKey,
  real,
  sqliteTable,
  text,
  unique,
} from "drizzle-orm/sqlite-core";
import { FIRMNESS_CLASSES } from "#core/judge/firmness.ts";
import { batches } from "./batches.ts";
import { shops } from "./shop.ts";

/**
 * Jars the maker set aside and felt, as they were weighed and read; what follows from them is worked out each time.
 * A jar is struck out and restored, never deleted.
 */
export const testJars = sqliteTable(
  "test_jars",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    number: integer().notNull(),
    /** What it is made of, for a person. */
    title: text().notNull(),
    /** JSON: ingredient ids with shares [hundredths of a percent] */
    parts: text().notNull(),
    netMg: integer().notNull(),
    jarUl: integer().notNull(),
    daysRested: integer().notNull(),
    celsius: real().notNull(),
    /** How it felt to a finger; null when a cone was used. */
    grade: text({ enum: FIRMNESS_CLASSES }),
    coneDepthTenthMm: real(),
    coneWeightG: real(),
    coneAngleDegrees: real(),
    /** The maker's name for the lot of butter in it; empty when not told. */
    lot: text().notNull(),
    /** The trial or batch it was filled from; null when it was not made from a work order. */
    batchId: text().references(() => batches.id),
    note: text().notNull(),
    recordedAt: integer().notNull(),
    struckAt: integer(),
  },
  (t) => [
    unique("test_jars_number").on(t.shopId, t.number),
    check("test_jar_weighed", sql`${t.netMg} > 0 and ${t.jarUl} > 0`),
    check(
      "test_jar_read_once",
      sql`(${t.grade} is null) = (${t.coneDepthTenthMm} is not null
        and ${t.coneWeightG} is not null and ${t.coneAngleDegrees} is not null)`,
    ),
  ],
);

/** Firmness laws a shop has judged by, one row a change; the shop names the one in force. */
export const kitchenLaws = sqliteTable(
  "kitchen_laws",
  {
    shopId: text()
      .notNull()
      .references(() => shops.id),
    revision: integer().notNull(),
    /** JSON: core FirmnessLaw; null is a return to the published one. */
    law: text(),
    /** Test jars it was learned from. */
    jars: integer().notNull(),
    adoptedAt: integer().notNull(),
  },
  (t) => [primaryKey({ columns: [t.shopId, t.revision] })],
);
