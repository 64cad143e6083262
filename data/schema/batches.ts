/**
 * Batches: what is made together.
 */
import { index, integer, sqliteTable, text, unique } from "drizzle-orm/sqlite-core";
import { people } from "./people.ts";
import { shops } from "./shop.ts";

export const batches = sqliteTable(
  "batches",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    number: text().notNull(),
    state: text({ enum: ["open", "made", "set-aside"] }).notNull(),
    /** What it is made for: orders, or a maker's own trial of a blend. */
    kind: text({ enum: ["orders", "trial"] })
      .notNull()
      .default("orders"),
    /** JSON: BatchSheets of the service as issued; what is changed after that is numbered there, and recorded. */
    workOrder: text().notNull(),
    issuedAt: integer().notNull(),
    /** JSON: BatchClosing of the service: actual weights, yield and checks; null until it is made. */
    closing: text(),
    closedAt: integer(),
    personId: text().references(() => people.id),
  },
  (t) => [
    unique("batches_number").on(t.shopId, t.number),
    index("batches_by_time").on(t.shopId, t.issuedAt),
    index("batches_by_state").on(t.shopId, t.state, t.issuedAt),
  ],
);
