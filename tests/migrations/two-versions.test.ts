/**
 * Two versions at once over one database: the newer has changed the tables while the older still answers. Both write,
 * nothing of either is lost, the older says that its time is over, and it does not begin again.
 */
import { sql } from "drizzle-orm";
import { expect, it } from "vitest";
import type { Problem } from "#core/wire.ts";
import { inspectFile } from "#service/operations/inspect.ts";
import type { CheckResult } from "#service/operations/readiness.ts";
import { MigrationFault } from "#service/storage/migrate-file.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { aQuoteRequest, freshFile, openTestShop } from "../helpers/shop.ts";
import { withOneMore } from "./older-shops.ts";

/** Adds, as all of ours do. */
const LATER = [
  "alter table orders add column later text;",
  "create table later (n integer) strict;",
];

it("two versions at once lose nothing of what either writes, and the older does not start again", async () => {
  const file = freshFile();
  const older = await openTestShop({}, file);
  const order = async () => {
    const { token } = await older.quote();
    return (await older.post("/v1/orders", { quote: token })).status;
  };
  expect(await order()).toBe(201);
  const { token: quotedBefore } = await older.quote();

  const folder = withOneMore("9999_later", LATER);
  const newer = openNodeDatabase(file, folder);
  for (let n = 0; n < 5; n++) {
    await newer.q.run(sql`insert into later values (${n})`);
    expect(await order()).toBe(201);
  }
  // A quote from before the change is still good, and the same order however often it is sent.
  const placed = await older.post("/v1/orders", { quote: quotedBefore });
  expect(placed.status).toBe(201);
  await newer.q.run(sql`update orders set later = 'seen'`);
  expect((await older.post("/v1/orders", { quote: quotedBefore })).status).toBe(200);
  const refused = await older.post("/v1/quotes", { ...aQuoteRequest(), jar: "none" });
  expect(((await refused.json()) as Problem).code).toBe("compose.choice.refused");

  // Whoever watches over it is told to put the newer in its place.
  older.pass(10);
  const ready = await older.request("/readyz");
  const { checks } = (await ready.json()) as { checks: CheckResult[] };
  const [broken, ...others] = checks.filter(({ holds }) => !holds);
  expect([ready.status, others]).toEqual([503, []]);
  expect(broken!.sentence).toContain("A newer version has changed the tables");
  expect((await older.request("/healthz")).status).toBe(200);
  older.close();

  await expect(openTestShop({}, file)).rejects.toThrow(MigrationFault);
  newer.close();
  const after = openNodeDatabase(file, folder);
  const rows = await after.q.all(sql`select count(*) as n, count(later) as seen from orders`);
  expect(rows).toEqual([{ n: 7, seen: 7 }]);
  expect(await after.q.all(sql`select count(*) as n from later`)).toEqual([{ n: 5 }]);
  after.close();
  expect((await inspectFile(file)).faults).toEqual([]);
});
