/**
 * Quotes, the orders made from them, and what the till reported.
 */
import { sql } from "drizzle-orm";
import {
  type AnySQLiteColumn,
  check,
  index,
  integer,
  sqliteTable,
  text,
  unique,
} from "drizzle-orm/sqlite-core";
import { ORDER_STATES } from "#core/order/states.ts";
import { batches } from "./batches.ts";
import { people } from "./people.ts";
import { apiKeys } from "./plugin.ts";
import { shops } from "./shop.ts";

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
    /** `host`: a host shop took the money and placed the order over the API. */
    tillKind: text({ enum: ["stripe", "practice", "host"] }).notNull(),
    /** Idempotency key for the till, stored before the call. */
    tillKey: text().notNull().unique(),
    tillSessionId: text().unique(),
    tillUrl: text(),
    batchId: text().references(() => batches.id),
    /** Place of its run in the batch, from 0. */
    batchRun: integer(),
    /** Who bought it, as the till was told: needed to reach them in a recall. */
    customerName: text(),
    customerEmail: text(),
    /** Given back so far [minor units] */
    refundedMinor: integer().notNull().default(0),
    /** What was really taken, carriage included; null until it was [minor units] */
    capturedMinor: integer(),
    /** Carriage as it was chosen at the till [minor units] */
    carriageMinor: integer().notNull().default(0),
    carriageName: text(),
    /** JSON: where the parcel goes, as the till was told. Personal: erased on request. */
    deliverTo: text(),
    /** A slow payment is on its way since then. */
    pendingSince: integer(),
    /** State of the newest dispute, as the payment service calls it; null when there was none. */
    disputeState: text(),
    /** The customer asked to cancel. */
    cancelAskedAt: integer(),
    /** Name, address and the like were taken out; the books stay. */
    erasedAt: integer(),
    /** The host shop's own number of the order, and the key it came with. */
    hostReference: text(),
    apiKeyId: text().references(() => apiKeys.id),
    /** BCP 47 tag of the page it was placed on; the shop's own when null. */
    language: text(),
    placedAt: integer().notNull(),
    paidAt: integer(),
    /** Why the maker must look, when held. */
    heldBecause: text(),
  },
  (t) => [
    unique("orders_reference").on(t.shopId, t.reference),
    index("orders_by_state").on(t.shopId, t.state, t.placedAt),
    index("orders_by_batch").on(t.batchId),
    index("orders_by_time").on(t.shopId, t.placedAt),
    index("orders_refunded")
      .on(t.shopId, t.placedAt)
      .where(sql`refunded_minor > 0`),
    index("orders_by_email").on(t.shopId, t.customerEmail),
    index("orders_by_name").on(t.shopId, t.customerName),
    index("orders_by_host_reference")
      .on(t.apiKeyId, t.hostReference)
      .where(sql`host_reference is not null`),
    index("orders_cancel_asked")
      .on(t.shopId, t.cancelAskedAt)
      .where(sql`cancel_asked_at is not null`),
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
    who: text({ enum: ["customer", "maker", "till", "service", "host"] }).notNull(),
    what: text().notNull(),
  },
  (t) => [index("order_events_by_order").on(t.orderId)],
);

/** Money given back, as it was asked for and as the till says it went. */
export const refunds = sqliteTable(
  "refunds",
  {
    id: text().primaryKey(),
    orderId: text()
      .notNull()
      .references(() => orders.id),
    amountMinor: integer().notNull(),
    why: text().notNull(),
    /** Who asked for it; null when it was done at the payment service itself. */
    askedBy: text().references(() => people.id),
    askedAt: integer().notNull(),
    /** Idempotency key for the till, stored before the call. */
    tillKey: text().notNull().unique(),
    tillRefundId: text().unique(),
    state: text({ enum: ["asked", "pending", "done", "failed"] }).notNull(),
    /** Why it failed, in the payment service's word. */
    fault: text(),
    changedAt: integer().notNull(),
  },
  (t) => [
    index("refunds_by_order").on(t.orderId),
    check("refund_is_something", sql`${t.amountMinor} > 0`),
  ],
);

/** Payments that a customer's bank has called back in question. */
export const disputes = sqliteTable(
  "disputes",
  {
    /** Id at the payment service. */
    id: text().primaryKey(),
    orderId: text()
      .notNull()
      .references(() => orders.id),
    amountMinor: integer().notNull(),
    currency: text().notNull(),
    /** As the payment service calls it; a word this version does not know is kept as it is. */
    state: text().notNull(),
    reason: text().notNull(),
    openedAt: integer().notNull(),
    changedAt: integer().notNull(),
  },
  (t) => [index("disputes_by_order").on(t.orderId)],
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
