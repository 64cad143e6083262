/**
 * The tables of the shop, for SQLite on a machine and D1 at the edge alike.
 *
 * Money is in integer minor units, times are whole seconds since 1970, days are ISO text, documents are JSON text that
 * the service parses with a schema each time. Rules that must always hold stand here as constraints and not only in
 * code. Nothing cascades: an order is never deleted by deleting something else. The migrations add STRICT to every
 * table.
 */
import { sql } from "drizzle-orm";
import { check, integer, sqliteTable } from "drizzle-orm/sqlite-core";

export { batchRecord } from "./schema/batch-record.ts";
export { batches } from "./schema/batches.ts";
export { kitchenLaws, testJars } from "./schema/kitchen.ts";
export { eventEndpoints, messages } from "./schema/messages.ts";
export {
  disputes,
  orderEvents,
  orders,
  paymentEvents,
  practiceSessions,
  quotes,
  refunds,
} from "./schema/orders.ts";
export { passkeyChallenges, passkeys, people, sessions, signInLinks } from "./schema/people.ts";
export { apiKeys, idempotencyKeys } from "./schema/plugin.ts";
export { productDrafts, products, productVersions } from "./schema/products.ts";
export { batchLots, ingredients, lots, stockMovements } from "./schema/shelf.ts";
export { csvUploads, shops } from "./schema/shop.ts";

/**
 * Aborts an atomic list: inserting changes() after a guarded update fails the check when the update met no row.
 * D1 has no interactive transactions, so this is how "only if it was still so" reaches the whole list.
 */
export const musts = sqliteTable("musts", { ok: integer().notNull() }, (t) => [
  check("must_hold", sql`${t.ok} = 1`),
]);
