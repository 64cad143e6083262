/**
 * What another commerce backend needs to place orders over the API.
 */
import { index, integer, primaryKey, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { people } from "./people.ts";
import { shops } from "./shop.ts";

/** Keys of host shops; only a hash is kept. */
export const apiKeys = sqliteTable(
  "api_keys",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    /** What the maker calls it. */
    name: text().notNull(),
    secretHash: text().notNull().unique(),
    madeBy: text().references(() => people.id),
    createdAt: integer().notNull(),
    lastUsedAt: integer(),
    revokedAt: integer(),
  },
  (t) => [index("api_keys_by_shop").on(t.shopId)],
);

/** A request that must not be done twice, by its Idempotency-Key, with the answer it got. */
export const idempotencyKeys = sqliteTable(
  "idempotency_keys",
  {
    apiKeyId: text()
      .notNull()
      .references(() => apiKeys.id),
    key: text().notNull(),
    /** Hash of method, path and body: the same key for another request is refused. */
    requestHash: text().notNull(),
    startedAt: integer().notNull(),
    /** Null while the first request is still at work. */
    status: integer(),
    /** JSON of the answer. */
    answer: text(),
  },
  (t) => [
    primaryKey({ columns: [t.apiKeyId, t.key] }),
    index("idempotency_keys_by_time").on(t.startedAt),
  ],
);
