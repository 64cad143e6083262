/**
 * Orders written with what is to be told of them, every commit flushed, and orders read back, beside the bare driver
 * doing the same on the same disk in prepared statements.
 *
 * In turns, because a disk is not equally quick all the time; each figure is the middle one of its turns.
 */
import SQLite from "better-sqlite3";
import { eventEndpointsIn } from "#service/storage/event-endpoints.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { ordersIn } from "#service/storage/orders.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { MIGRATIONS } from "../helpers/shop.ts";
import { AT, SHOP, aQuote, anOrder } from "../service/storage/contract-rows.ts";
import { type Figure, allOf, atLeast, atLeastShare, figure, medianOf } from "./figures.ts";
import type { Options } from "./options.ts";
import { placeForDatabase, removeDatabase } from "./processes.ts";
import { TOGETHER, forEach } from "./service-acts.ts";

/** As many lists as the service puts into one commit at most. */
const GATHERED = 50;

/** As long as the frozen quote of the demo shop is. */
const SNAPSHOT = JSON.stringify({ words: "x".repeat(1100) });

type OrderRow = ReturnType<typeof anOrder>;
/** A figure for each turn [a second] */
type Speeds = Record<"ours" | "single" | "gathered" | "read" | "bareRead", number[]>;

/** Writes and reads of orders a second. */
export async function storageSpeeds({ isQuick }: Options): Promise<Figure[]> {
  const [turns, orders] = isQuick ? [1, 300] : [5, 1500];
  const file = placeForDatabase();
  const db = openNodeDatabase(file, MIGRATIONS);
  await seedDemo(db, AT);
  const url = "https://host.example/events";
  await eventEndpointsIn(db).add({ id: "host", shopId: SHOP, url, secret: "s", createdAt: AT });
  const own = ordersIn(db);
  const bare = bareDriver(file);
  const speeds: Speeds = { ours: [], single: [], gathered: [], read: [], bareRead: [] };
  for (let turn = 0; turn < turns; turn++) {
    const [first, second, third] = [await stored(), await stored(), await stored()];
    speeds.ours.push(await rate(orders, () => forEach(first, (row) => own.place(row))));
    speeds.single.push(await rate(orders, () => second.forEach(bare.write)));
    speeds.gathered.push(await rate(orders, () => bare.writeInLists(third)));
    speeds.read.push(await rate(orders, () => forEach(first, ({ id }) => own.byId(id))));
    speeds.bareRead.push(await rate(orders, () => first.forEach(bare.read)));
  }
  bare.close();
  db.close();
  removeDatabase(file);
  return figuresOf(speeds);

  /** Orders to be placed; their quotes are stored. */
  async function stored(): Promise<OrderRow[]> {
    const quotes = Array.from({ length: orders }, () => aQuote({ snapshot: SNAPSHOT }));
    await Promise.all(quotes.map((quote) => own.insertQuote(quote)));
    return quotes.map(({ id }) => anOrder(id, { snapshot: SNAPSHOT }));
  }
}

function figuresOf(speeds: Speeds): Figure[] {
  const [ours, single] = [medianOf(speeds.ours), medianOf(speeds.single)];
  return [
    figure("orders stored with their messages", ours, "/s", {
      more: `${TOGETHER} at once`,
      beside: [
        figure("bare driver, a commit each", single, "/s"),
        figure(`bare driver, ${GATHERED} to a commit`, medianOf(speeds.gathered), "/s"),
      ],
      ...allOf([atLeast(ours, 1500), atLeastShare(ours, single, 0.6, "a commit each")]),
    }),
    figure("orders read by their id", medianOf(speeds.read), "/s", {
      beside: [figure("bare driver", medianOf(speeds.bareRead), "/s")],
    }),
  ];
}

async function rate(count: number, work: () => unknown): Promise<number> {
  const began = performance.now();
  await work();
  return (count * 1000) / (performance.now() - began);
}

/** The same three rows an order, and the same columns back. */
function bareDriver(file: string) {
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
  const insert = (row: OrderRow) => {
    order.run(row);
    line.run(row.id, row.placedAt);
    message.run(`msg_${row.id}`, row.shopId, row.id, row.id, row.placedAt, row.placedAt);
  };
  const one = sqlite.transaction(insert);
  const many = sqlite.transaction((rows: readonly OrderRow[]) => rows.forEach(insert));
  const byId = sqlite.prepare("select * from orders where id = ?");
  return {
    write: (row: OrderRow) => one.immediate(row),
    writeInLists: (rows: readonly OrderRow[]) => {
      for (let at = 0; at < rows.length; at += GATHERED) {
        many.immediate(rows.slice(at, at + GATHERED));
      }
    },
    read: ({ id }: OrderRow) => byId.get(id),
    close: () => sqlite.close(),
  };
}
