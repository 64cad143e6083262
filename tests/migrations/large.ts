/**
 * `node --import tsx tests/migrations/large.ts 200000`: a large shop of every earlier schema is opened in this version;
 * prints how long it took, and fails when a row or a penny is missing.
 */
import { statSync } from "node:fs";
import { inspectFile } from "#service/operations/inspect.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { MIGRATIONS, freshFile } from "../helpers/shop.ts";
import { SCHEMAS, makeOlderShop } from "./older-shops.ts";

const orders = Number(process.argv[2] ?? 200_000);

for (const schema of SCHEMAS.slice(0, -1)) {
  const file = freshFile();
  makeOlderShop(file, schema, orders);
  const before = await inspectFile(file);
  const cpu = process.cpuUsage();
  openNodeDatabase(file, MIGRATIONS).close();
  const { user, system } = process.cpuUsage(cpu);
  const after = await inspectFile(file);
  const isSame =
    JSON.stringify(after.money) === JSON.stringify(before.money) &&
    after.rows["orders"] === orders &&
    after.rows["order_events"] === before.rows["order_events"] &&
    after.faults.length === 0;
  const size = `${Math.round(statSync(file).size / 1e6)} MB`;
  console.log(
    `${schema}: ${((user + system) / 1e6).toFixed(1)} s of CPU, ${size}, ${isSame ? "all there" : "NOT THE SAME"}`,
  );
  if (!isSame) process.exitCode = 1;
}
