/**
 * What the shop has to tell others: mails to the customer and the maker, signed events to a host shop. A message is
 * written in the same atomic list as the change it tells of, and delivered afterwards, at least once.
 */
import { sql } from "drizzle-orm";
import { check, index, integer, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { orders } from "./orders.ts";
import { shops } from "./shop.ts";

/** Where signed events go, by the Standard Webhooks specification. */
export const eventEndpoints = sqliteTable(
  "event_endpoints",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    url: text().notNull(),
    /** `whsec_` and base64: the host shop checks with the same secret. */
    secret: text().notNull(),
    /** The secret before the last change; both sign until its time is over. */
    olderSecret: text(),
    olderUntil: integer(),
    /** Since when nothing has been taken in there; null while all is well. */
    failingSince: integer(),
    /** Why nothing is sent any more; null while it is in use. */
    offBecause: text(),
    createdAt: integer().notNull(),
  },
  (t) => [index("event_endpoints_by_shop").on(t.shopId)],
);

export const messages = sqliteTable(
  "messages",
  {
    /** Goes out with every attempt, so that the receiver can tell a second one. */
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    orderId: text().references(() => orders.id),
    kind: text({ enum: ["mail", "event"] }).notNull(),
    /** What it tells, for instance `order.paid`. */
    purpose: text().notNull(),
    /** Mail: whose it is. The address is read from the order when it is sent, so that nothing is left of it here. */
    toWhom: text({ enum: ["customer", "maker"] }),
    /** Event: where it goes. */
    endpointId: text().references(() => eventEndpoints.id),
    /** Event: the body, the same bytes at every attempt; it holds no personal data. */
    body: text(),
    /** One change is told once: the change, the receiver and the kind in one word. */
    once: text().notNull().unique(),
    state: text({ enum: ["waiting", "sent", "failed", "dropped"] }).notNull(),
    attempts: integer().notNull().default(0),
    nextAt: integer().notNull(),
    /** A sender is at it until then; who finds it later may try again. */
    takenUntil: integer(),
    lastFault: text(),
    createdAt: integer().notNull(),
    sentAt: integer(),
  },
  (t) => [
    index("messages_due").on(t.state, t.nextAt),
    index("messages_by_shop").on(t.shopId, t.state, t.createdAt),
    index("messages_by_order").on(t.orderId),
    check(
      "message_has_receiver",
      sql`(${t.kind} = 'mail' and ${t.toWhom} is not null) or (${t.kind} = 'event' and ${t.endpointId} is not null and ${t.body} is not null)`,
    ),
  ],
);
