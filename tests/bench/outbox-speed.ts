/**
 * How many orders a second are stored with what is to be told of them, every commit flushed, beside the bare driver
 * writing the same rows in prepared statements on the same disk.
 */
import SQLite from "better-sqlite3";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { eventEndpointsIn } from "#service/storage/event-endpoints.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { ordersIn } from "#service/storage/orders.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { AT, SHOP, aQuote, anOrder } from "../service/storage/contract-rows.ts";

const ORDERS = 3000;
/** Requests under way at once. */
const TOGETHER = 32;

/** @param migrations folder with the migrations */
export async function outboxSpeeds(
  migrations: string,
): Promise<{ readonly ours: number; readonly bare: number }> {
  const file = join(mkdtempSync(join(tmpdir(), "softset-bench-")), "shop.db");
  const db = openNodeDatabase(file, migrations);
  await seedDemo(db, AT);
  const url = "https://host.example/events";
  const host = { id: "host", shopId: SHOP, url, secret: "s", createdAt: AT };
  await eventEndpointsIn(db).add(host);
  const orders = ordersIn(db);
  const quotes = Array.from({ length: 2 * ORDERS }, () => aQuote());
  await Promise.all(quotes.map((quote) => orders.insertQuote(quote)));
  const rows = quotes.map(({ id }) => anOrder(id));

  const began = performance.now();
  let next = 0;
  const worker = async () => {
    while (next < ORDERS) await orders.place(rows[next++]!);
  };
  await Promise.all(Array.from({ length: TOGETHER }, worker));
  const ours = (ORDERS * 1000) / (performance.now() - began);
  db.close();
  return { ours, bare: bareSpeed(file, rows.slice(ORDERS)) };
}

/** The same three rows an order, by the driver alone. */
function bareSpeed(file: string, rows: readonly ReturnType<typeof anOrder>[]): number {
  const sqlite = new SQLite(file);
  sqlite.pragma("synchronous = FULL");
  const order = sqlite.prepare(
    `insert into orders (id, shop_id, reference, quote_id, state, snapshot, total_minor, currency, till_kind, till_key,
      placed_at) values (@id, @shopId, @reference, @quoteId, @state, @snapshot, @totalMinor, @currency, @tillKind,
      @tillKey, @placedAt)`,
  );
  const line = sqlite.prepare(
    "insert into order_events (order_id, at, who, what) values (?, ?, 'customer', 'placed')",
  );
  const message = sqlite.prepare(
    `insert into messages (id, shop_id, order_id, kind, purpose, endpoint_id, body, once, state, next_at, created_at)
      values (?, ?, ?, 'event', 'order.placed', 'host', '{"type":"order.placed","data":{}}', ?, 'waiting', ?, ?)`,
  );
  const write = sqlite.transaction((row: (typeof rows)[number]) => {
    order.run(row);
    line.run(row.id, row.placedAt);
    message.run(`msg_${row.id}`, row.shopId, row.id, row.id, row.placedAt, row.placedAt);
  });
  const began = performance.now();
  for (const row of rows) write.immediate(row);
  const speed = (rows.length * 1000) / (performance.now() - began);
  sqlite.close();
  return speed;
}
