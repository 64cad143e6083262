/**
 * The tables of the shop, for SQLite on a machine and D1 at the edge alike.
 *
 * Money is in integer minor units, times are whole seconds since 1970, documents are JSON text that the service
 * parses with a schema each time. Rules that must always hold stand here as constraints and not only in code.
 * Nothing cascades: an order is never deleted by deleting something else. The migrations add STRICT to every
 * table.
 */
import { sql } from "drizzle-orm";
import {
  type AnySQLiteColumn,
  check,
  index,
  integer,
  primaryKey,
  real,
  sqliteTable,
  text,
  unique,
} from "drizzle-orm/sqlite-core";
import { FIRMNESS_CLASSES } from "#core/judge/firmness.ts";
import { ORDER_STATES } from "#core/order/states.ts";

export const shops = sqliteTable("shops", {
  id: text().primaryKey(),
  name: text().notNull(),
  locale: text().notNull(),
  currency: text().notNull(),
  currencyExponent: integer().notNull(),
  /** JSON: scale resolution, responsible person and other particulars of the maker. */
  particulars: text().notNull(),
  /** Rises with every change of a cost, so that a cached tariff knows when it is old. */
  costsRevision: integer().notNull().default(1),
  /** Revision of the firmness law in force, a row of `kitchen_laws`; 0 is the published law. */
  lawRevision: integer().notNull().default(0),
});

export const products = sqliteTable(
  "products",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
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
  },
  (t) => [primaryKey({ columns: [t.productId, t.version] })],
);

export const ingredientCosts = sqliteTable(
  "ingredient_costs",
  {
    shopId: text()
      .notNull()
      .references(() => shops.id),
    ingredientId: text().notNull(),
    packMinor: integer().notNull(),
    packG: integer().notNull(),
    supplier: text().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.shopId, t.ingredientId] }),
    check("pack_minor_not_negative", sql`${t.packMinor} >= 0`),
    check("pack_g_positive", sql`${t.packG} > 0`),
  ],
);

export const quotes = sqliteTable(
  "quotes",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    productId: text().notNull(),
    version: integer().notNull(),
    /** JSON: core QuoteSnapshot */
    snapshot: text().notNull(),
    /** JSON: core PriceBreakdown of one jar; the maker's alone. */
    priceLines: text().notNull(),
    issuedAt: integer().notNull(),
    expiresAt: integer().notNull(),
  },
  (t) => [check("quote_expires_later", sql`${t.expiresAt} > ${t.issuedAt}`)],
);

const knownState = (column: AnySQLiteColumn) =>
  sql`${column} in (${sql.raw(ORDER_STATES.map((state) => `'${state}'`).join(", "))})`;

export const orders = sqliteTable(
  "orders",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    /** What people say on the phone. */
    reference: text().notNull(),
    /** One order a quote: the second attempt meets this. */
    quoteId: text()
      .notNull()
      .unique()
      .references(() => quotes.id),
    state: text({ enum: ORDER_STATES }).notNull(),
    /** JSON: core QuoteSnapshot, frozen */
    snapshot: text().notNull(),
    totalMinor: integer().notNull(),
    currency: text().notNull(),
    tillKind: text({ enum: ["stripe", "practice"] }).notNull(),
    /** Idempotency key for the till, stored before the call. */
    tillKey: text().notNull().unique(),
    tillSessionId: text().unique(),
    tillUrl: text(),
    batchId: text().references(() => batches.id),
    placedAt: integer().notNull(),
    paidAt: integer(),
    /** Why the maker must look, when held. */
    heldBecause: text(),
  },
  (t) => [
    unique("orders_reference").on(t.shopId, t.reference),
    index("orders_by_state").on(t.shopId, t.state, t.placedAt),
    index("orders_by_batch").on(t.batchId),
    check("order_state_known", knownState(t.state)),
    check("order_total_not_negative", sql`${t.totalMinor} >= 0`),
  ],
);

/** Who did what to an order, and when; rows are only ever added. */
export const orderEvents = sqliteTable(
  "order_events",
  {
    id: integer().primaryKey({ autoIncrement: true }),
    orderId: text()
      .notNull()
      .references(() => orders.id),
    at: integer().notNull(),
    who: text({ enum: ["customer", "maker", "till", "service"] }).notNull(),
    what: text().notNull(),
  },
  (t) => [index("order_events_by_order").on(t.orderId)],
);

/** Signed events as they came in: stored first, worked through after, never twice. */
export const paymentEvents = sqliteTable("payment_events", {
  id: text().primaryKey(),
  type: text().notNull(),
  sessionId: text(),
  receivedAt: integer().notNull(),
  settledAt: integer(),
});

/** Sessions of the practice till, where no money moves. */
export const practiceSessions = sqliteTable("practice_sessions", {
  id: text().primaryKey(),
  /** JSON: the charge */
  document: text().notNull(),
  state: text({ enum: ["open", "paid", "expired"] }).notNull(),
});

export const batches = sqliteTable(
  "batches",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    number: text().notNull(),
    state: text({ enum: ["open", "made"] }).notNull(),
    /** JSON: the work order as issued; a printed sheet and this are the same for good. */
    workOrder: text().notNull(),
    issuedAt: integer().notNull(),
  },
  (t) => [unique("batches_number").on(t.shopId, t.number)],
);

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

/** One-time links that open the maker's door; only a hash is kept. */
export const signInLinks = sqliteTable("sign_in_links", {
  tokenHash: text().primaryKey(),
  shopId: text()
    .notNull()
    .references(() => shops.id),
  expiresAt: integer().notNull(),
  usedAt: integer(),
});

export const sessions = sqliteTable("sessions", {
  tokenHash: text().primaryKey(),
  shopId: text()
    .notNull()
    .references(() => shops.id),
  createdAt: integer().notNull(),
  expiresAt: integer().notNull(),
});

/**
 * Aborts an atomic list: inserting changes() after a guarded update fails the check when the update met no row.
 * D1 has no interactive transactions, so this is how "only if it was still so" reaches the whole list.
 */
export const musts = sqliteTable("musts", { ok: integer().notNull() }, (t) => [
  check("must_hold", sql`${t.ok} = 1`),
]);
