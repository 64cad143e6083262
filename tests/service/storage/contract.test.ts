/**
 * The same storage on each engine the shop can stand on.
 */
import { openD1Database } from "#service/storage/d1-database.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { migrate, startD1 } from "../../edge/local-d1.ts";
import { MIGRATIONS, freshFile } from "../../helpers/shop.ts";
import { describeStorage } from "./contract.ts";

async function onNode(file: string) {
  const db = openNodeDatabase(file, MIGRATIONS);
  return { db, close: async () => db.close() };
}

describeStorage("a file of better-sqlite3", () => onNode(freshFile()));

describeStorage("better-sqlite3 in memory", () => onNode(":memory:"));

describeStorage("D1 in workerd", async () => {
  const d1 = await startD1();
  await migrate(d1.raw);
  return { db: openD1Database(d1.binding), close: d1.close };
});
