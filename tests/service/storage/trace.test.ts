/**
 * Tracing over ten thousand orders: one statement each way, over indexes, in a moment.
 */
import { sql } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type NodeDatabase, openNodeDatabase } from "#service/storage/node-database.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { traceIn } from "#service/storage/trace.ts";
import { MIGRATIONS } from "../../helpers/shop.ts";
import { AT, SHOP } from "./contract-rows.ts";

const ORDERS = 10_000;
const PER_BATCH = 20;
const LOTS = 50;
/** A whole page may take 100 ms; the question to the database must leave room for the rest. */
const MOMENT_MS = 100;

let db: NodeDatabase;
let trace: ReturnType<typeof traceIn>;

beforeAll(async () => {
  db = openNodeDatabase(":memory:", MIGRATIONS);
  await seedDemo(db, AT);
  trace = traceIn(db);
  const numbers = (most: number) =>
    sql`with recursive n(i) as (select 0 union all select i + 1 from n where i < ${sql.raw(String(most - 1))})`;
  const snapshot = JSON.stringify({ quantity: 2, jar: { name: "Middle jar", fillG: 120 } });
  for (const statement of [
    sql`insert into lots (id, shop_id, ingredient_id, code, supplier, received_on, received_mg, on_hand_mg, note)
        ${numbers(LOTS)} select 'lot' || i, ${SHOP}, 'shea-butter', 'C' || i, 's', '2026-01-01', 1000, 1000, '' from n`,
    sql`insert into batches (id, shop_id, number, state, work_order, issued_at)
        ${numbers(ORDERS / PER_BATCH)} select 'b' || i, ${SHOP}, 'B' || i, 'made', '{}', ${AT} from n`,
    sql`insert into batch_lots (batch_id, run, ingredient_id, lot_id, used_mg)
        ${numbers(ORDERS / PER_BATCH)} select 'b' || i, 0, 'shea-butter', 'lot' || (i % ${sql.raw(String(LOTS))}), 5 from n`,
    sql`insert into quotes (id, shop_id, product_id, version, snapshot, price_lines, issued_at, expires_at)
        ${numbers(ORDERS)} select 'q' || i, ${SHOP}, 'everyday', 1, '{}', '[]', 1, 2 from n`,
    sql`insert into orders (id, shop_id, reference, quote_id, state, snapshot, total_minor, currency, till_kind,
          till_key, batch_id, batch_run, customer_name, placed_at)
        ${numbers(ORDERS)} select 'o' || i, ${SHOP}, 'R' || i, 'q' || i, 'sent', ${snapshot}, 100, 'GBP', 'practice',
          'k' || i, 'b' || (i / ${sql.raw(String(PER_BATCH))}), 0, 'Customer ' || i, ${sql.raw(String(AT))} + i from n`,
  ]) {
    await db.q.run(statement);
  }
});
afterAll(() => db.close());

const forwards = () => trace.forwards(SHOP, { lotId: "lot7" });
const byCode = () => trace.forwards(SHOP, { code: "C7" });
const ofOrder = () => trace.backwards(SHOP, { reference: "R9123" });
const ofBatch = () => trace.backwards(SHOP, { batchNumber: "B77" });

describe("a trace over ten thousand orders", () => {
  it("finds every order of a lot, and nothing else", async () => {
    const rows = await forwards();
    expect(rows).toHaveLength(ORDERS / LOTS);
    expect(new Set(rows.map(({ lotId }) => lotId))).toEqual(new Set(["lot7"]));
    expect(rows.every(({ jars, customerName }) => jars === 2 && customerName)).toBe(true);
    expect(await byCode()).toEqual(rows);
    expect((await ofOrder()).map(({ lotId }) => lotId)).toEqual(["lot6"]);
    expect((await ofBatch()).map(({ lotId }) => lotId)).toEqual(["lot27"]);
  });

  it.each([
    ["from a lot", forwards, ["batch_lots_by_lot", "orders_by_batch"]],
    ["from a lot code", byCode, ["batch_lots_by_lot", "orders_by_batch"]],
    ["from an order", ofOrder, ["orders_reference", "batch_lots"]],
    ["from a batch", ofBatch, ["batches_number", "batch_lots"]],
  ])("is one statement %s, over indexes", async (_, ask, indexes) => {
    const statement = (ask() as unknown as { getSQL(): ReturnType<typeof sql> }).getSQL();
    const plan = await db.q.all<{ detail: string }>(sql`explain query plan ${statement}`);
    const steps = plan.map(({ detail }) => detail).filter((detail) => !/TEMP B-TREE/.test(detail));
    expect(steps.filter((detail) => /^SCAN/.test(detail))).toEqual([]);
    for (const index of indexes) expect(steps.join("\n")).toContain(index);
  });

  it.each([
    ["from a lot", forwards],
    ["from a lot code", byCode],
    ["from an order", ofOrder],
    ["from a batch", ofBatch],
  ])("answers %s in a moment", async (_, ask) => {
    const times: number[] = [];
    for (let turn = 0; turn < 5; turn++) {
      const start = performance.now();
      await ask();
      times.push(performance.now() - start);
    }
    expect(Math.min(...times)).toBeLessThan(MOMENT_MS);
  });
});
