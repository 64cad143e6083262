/**
 * A shop after many years, made up: for measuring how the maker's pages bear it. Everything in it is invented and
 * drawn by one fixed row of numbers, so that each run meets the same shop.
 */
import SQLite from "better-sqlite3";

export const BIG = { ingredients: 1_000, lots: 4_000, products: 200, orders: 200_000 } as const;

const SHOP = "quillfen";
const ORDERS_PER_BATCH = 8;
const DAY_S = 86_400;
const WAITING = 400;

/** A small generator of numbers between 0 and 1 (mulberry32), the same row each time. */
function numbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/**
 * Fill the demo shop's file up.
 * @param file database with the demo shop in it, not open elsewhere
 * @param now seconds since 1970
 */
export function fillBigShop(file: string, now: number): void {
  const db = new SQLite(file);
  db.pragma("journal_mode = WAL");
  db.pragma("synchronous = OFF");
  db.pragma("foreign_keys = ON");
  db.transaction(() => {
    fillShelf(db, now);
    fillProducts(db, now);
    fillOrders(db, now);
  })();
  db.exec("analyze");
  db.close();
}

function fillShelf(db: SQLite.Database, now: number): void {
  const draw = numbers(1);
  const library = column(db, "select distinct library_id from ingredients");
  const ingredient = db.prepare(
    `insert into ingredients (shop_id, id, library_id, name, supplier, pack_text, pack_minor, pack_mg, refined, scent, note)
     values ('${SHOP}', ?, ?, ?, ?, '1 kg', ?, 1000000, 'refined', '', '')`,
  );
  for (let at = 0; at < BIG.ingredients; at++) {
    const of = library[at % library.length]!;
    ingredient.run(`bulk-${at}`, of, `${of} no. ${at}`, `Supplier ${at % 40}`, 500 + (at % 3000));
  }
  const lot = db.prepare(
    `insert into lots (id, shop_id, ingredient_id, code, supplier, received_on, best_before, received_mg, on_hand_mg, cost_minor, note)
     values (?, '${SHOP}', ?, ?, 'Supplier', ?, ?, 5000000, ?, ?, '')`,
  );
  const moved = db.prepare(
    "insert into stock_movements (lot_id, at, delta_mg, why, note) values (?, ?, ?, 'received', '')",
  );
  for (let at = 0; at < BIG.lots; at++) {
    const received = now - Math.floor(draw() * 700) * DAY_S;
    const left = draw() < 0.4 ? 0 : Math.floor(draw() * 5_000) * 1000;
    const days = [iso(received), iso(received + 540 * DAY_S)];
    lot.run(`lot-${at}`, `bulk-${at % BIG.ingredients}`, `L${at}`, ...days, left, 4000 + at);
    moved.run(`lot-${at}`, received, left);
  }
}

function fillProducts(db: SQLite.Database, now: number): void {
  const row = db
    .prepare("select product, price_policy from product_versions where product_id = 'everyday'")
    .get() as { product: string; price_policy: string };
  const product = db.prepare(
    `insert into products (id, shop_id, name, published_version) values (?, '${SHOP}', ?, 3)`,
  );
  const version = db.prepare(
    "insert into product_versions (product_id, version, product, price_policy, published_at) values (?, ?, ?, ?, ?)",
  );
  for (let at = 0; at < BIG.products; at++) {
    const [id, name] = [`bulk-${at}`, `Butter of the year, no. ${at}`];
    product.run(id, name);
    const document = JSON.stringify({ ...(JSON.parse(row.product) as object), id, name });
    for (const each of [1, 2, 3]) version.run(id, each, document, row.price_policy, now - each);
  }
}

function fillOrders(db: SQLite.Database, now: number): void {
  const draw = numbers(2);
  const quote = db.prepare(
    `insert into quotes (id, shop_id, product_id, version, snapshot, price_lines, issued_at, expires_at)
     values (?, '${SHOP}', 'everyday', 1, ?, '{"lines":[],"costMinor":500,"taxMinor":100,"jarMinor":1490}', ?, ?)`,
  );
  const order = db.prepare(
    `insert into orders (id, shop_id, reference, quote_id, state, snapshot, total_minor, currency, till_kind, till_key,
       batch_id, batch_run, placed_at, paid_at, customer_name, customer_email)
     values (?, '${SHOP}', ?, ?, ?, ?, 1490, 'GBP', 'practice', ?, ?, ?, ?, ?, ?, ?)`,
  );
  const event = db.prepare(
    "insert into order_events (order_id, at, who, what) values (?, ?, 'till', 'paid')",
  );
  const batch = db.prepare(
    `insert into batches (id, shop_id, number, state, work_order, issued_at, closed_at)
     values (?, '${SHOP}', ?, 'made', '{"runs":[]}', ?, ?)`,
  );
  const used = db.prepare(
    "insert into batch_lots (batch_id, run, ingredient_id, lot_id, used_mg) values (?, 0, ?, ?, 300000)",
  );
  const started = now - 8 * 365 * DAY_S;
  for (let at = 0; at < BIG.orders; at++) {
    const placed = started + Math.floor((at / BIG.orders) * (now - started));
    const waits = at >= BIG.orders - WAITING;
    const group = Math.floor(at / ORDERS_PER_BATCH);
    const batchId = waits ? null : `batch-${group}`;
    if (batchId && at % ORDERS_PER_BATCH === 0) {
      batch.run(batchId, `B${group}`, placed, placed + DAY_S);
      for (let part = 0; part < 4; part++) {
        const lot = Math.floor(draw() * (BIG.lots / 4)) * 4 + part;
        used.run(batchId, `bulk-${lot % BIG.ingredients}`, `lot-${lot}`);
      }
    }
    const state = waits ? "paid" : at >= BIG.orders - 3 * WAITING ? "made" : "sent";
    const text = snapshot(`quote-${at}`, placed, at);
    quote.run(`quote-${at}`, text, placed, placed + 3600);
    const who = [`Customer ${at % 30_000}`, `customer${at % 30_000}@example.org`];
    const keys = [`key-${at}`, batchId, waits ? null : 0];
    order.run(`order-${at}`, `R${at}`, `quote-${at}`, state, text, ...keys, placed, placed, ...who);
    event.run(`order-${at}`, placed);
  }
}

/** Soft shea as the demo sells it, its shares a little moved so that some blends are alike and most are not. */
function snapshot(id: string, issuedAt: number, at: number): string {
  const moved = (at % 40) * 10;
  const shares = { "shea-butter": 6000 - moved, "cocoa-butter": 1000, "jojoba-oil": 1500 + moved };
  const parts = Object.entries({ ...shares, "sunflower-oil": 1450, tocopherol: 50 }).map(
    ([ingredient, share]) => ({ ingredient, name: ingredient, inci: "Invented", share }),
  );
  const take = (from: number, to: number) =>
    parts.slice(from, to).map(({ ingredient, share }) => ({ ingredient, share }));
  const [glide, care] = take(2, 4);
  return JSON.stringify({
    id,
    product: { id: "everyday", name: "Everyday butter", version: 1 },
    base: { id: "soft-shea", name: "Soft shea" },
    choice: {
      base: "soft-shea",
      butters: take(0, 2),
      oils: [
        { place: "glide", ...glide },
        { place: "care", ...care },
      ],
    },
    parts,
    jar: { id: "jar-120", name: "Middle jar", fillG: 120 },
    quantity: 1 + (at % 3),
    currency: { code: "GBP", exponent: 2 },
    ...{ jarMinor: 1490, per100gMinor: 1242, totalMinor: 1490, taxMinor: 248 },
    ...{ firmness: "soft", softensAboveCelsius: 31.5, issuedAt, expiresAt: issuedAt + 3600 },
  });
}

function column(db: SQLite.Database, sql: string): string[] {
  return db.prepare(sql).pluck().all() as string[];
}

function iso(seconds: number): string {
  return new Date(seconds * 1000).toISOString().slice(0, 10);
}
