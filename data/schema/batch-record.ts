/**
 * The record of a batch: entries in a chain, each holding the hash of the one before it. Rows are only ever added;
 * the migration’s triggers refuse everything else, also to whoever comes round the service.
 */
import { integer, primaryKey, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { RecordKind } from "#core/make/batch-record.ts";
import { batches } from "./batches.ts";
import { shops } from "./shop.ts";

export const batchRecord = sqliteTable(
  "batch_record",
  {
    batchId: text()
      .notNull()
      .references(() => batches.id),
    /** Place in the record, from 1. */
    sequence: integer().notNull(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    at: integer().notNull(),
    /** Name of who wrote it, as it was then. */
    by: text().notNull(),
    kind: text().$type<RecordKind>().notNull(),
    /** Canonical JSON (RFC 8785), of the shape its kind has. */
    body: text().notNull(),
    /** SHA-256 in hex: of the entry before; of the batch’s name for the first. */
    previousHash: text().notNull(),
    hash: text().notNull(),
  },
  (t) => [primaryKey({ columns: [t.batchId, t.sequence] })],
);
