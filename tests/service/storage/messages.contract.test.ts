/**
 * The outbox on each engine the shop can stand on.
 */
import { openD1Database } from "#service/storage/d1-database.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { migrate, startD1 } from "../../edge/local-d1.ts";
import { MIGRATIONS } from "../../helpers/shop.ts";
import { describeMessages } from "./messages.contract.ts";

async function onNode() {
  const db = openNodeDatabase(":memory:", MIGRATIONS);
  return { db, close: async () => db.close() };
}

async function onD1() {
  const d1 = await startD1();
  await migrate(d1.raw);
  return { db: openD1Database(d1.binding), close: d1.close };
}

for (const [name, open] of [
  ["better-sqlite3", onNode],
  ["D1 in workerd", onD1],
] as const) {
  describeMessages(name, open);
}
