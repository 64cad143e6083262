/**
 * Batch records on each engine the shop can stand on.
 */
import { openD1Database } from "#service/storage/d1-database.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { migrate, startD1 } from "../../edge/local-d1.ts";
import { MIGRATIONS } from "../../helpers/shop.ts";
import { describeBatchRecord } from "./batch-record.contract.ts";

describeBatchRecord("better-sqlite3", async () => {
  const db = openNodeDatabase(":memory:", MIGRATIONS);
  return { db, close: async () => db.close() };
});

describeBatchRecord("D1 in workerd", async () => {
  const d1 = await startD1();
  await migrate(d1.raw);
  return { db: openD1Database(d1.binding), close: d1.close };
});
