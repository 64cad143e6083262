/**
 * A shop after many years, made up: for measuring how the maker's pages bear it. Everything in it is invented and
 * drawn by one fixed row of numbers, so that each run meets the same shop.
 */
import { chanceFrom } from "#core/order/room/sequence.ts";
import SQLite from "better-sqlite3";
import { fillOrders } from "./big-orders.ts";
import { LOTS_PER_STAPLE, STAPLES } from "./big-sheets.ts";

export const BIG = { ingredients: 1_000, lots: 4_000, products: 200, orders: 200_000 } as const;

const SHOP = "quillfen";
const DAY_S = 86_400;
const STAPLE_LOTS_LEFT = 6;

/** As many as this are looked through for rows that belong to nothing; more come by the same statements. */
const CHECKED_MOST = 20_000;

/**
 * Fill the demo shop's file up.
 * @param file database with the demo shop in it, not open elsewhere
 * @param now seconds since 1970
 * @param orders how many; a thousand at least
 * @param products how many besides those of the demo; one in ten is not for sale
 */
export function fillBigShop(
  file: string,
  now: number,
  orders: number = BIG.orders,
  products: number = BIG.products,
): void {
  const db = new SQLite(file);
  // A file that breaks off is thrown away, so nothing of it need survive, and no journal takes as much room again.
  db.pragma("journal_mode = delete");
  db.pragma("journal_mode = off");
  db.pragma("synchronous = off");
  db.pragma("foreign_keys = off");
  db.pragma("cache_size = -1000000");
  db.pragma("temp_store = memory");
  db.transaction(() => {
    fillShelf(db, now);
    fillProducts(db, now, products);
    fillOrders(db, now, orders);
  })();
  const loose = orders > CHECKED_MOST ? [] : (db.pragma("foreign_key_check") as unknown[]);
  if (loose.length > 0) throw new Error(`${loose.length} rows belong to nothing`);
  // No "analyze": the service never asks for one, so the plans must be good without.
  db.close();
}

function fillShelf(db: SQLite.Database, now: number): void {
  const draw = chanceFrom(1);
  const library = column(db, "select distinct library_id from ingredients");
  const ingredient = db.prepare(
    `insert into ingredients (shop_id, id, library_id, name, supplier, pack_text, pack_minor, pack_mg,
       refined, scent, note)
     values ('${SHOP}', ?, ?, ?, ?, '1 kg', ?, 1000000, 'refined', '', '')`,
  );
  for (let at = 0; at < BIG.ingredients; at++) {
    const of = library[at % library.length]!;
    ingredient.run(`bulk-${at}`, of, `${of} no. ${at}`, `Supplier ${at % 40}`, 500 + (at % 3000));
  }
  const lot = db.prepare(
    `insert into lots (id, shop_id, ingredient_id, code, supplier, received_on, best_before, received_mg,
       on_hand_mg, cost_minor, note)
     values (?, '${SHOP}', ?, ?, 'Supplier', ?, ?, 5000000, ?, ?, '')`,
  );
  const moved = db.prepare(
    "insert into stock_movements (lot_id, at, delta_mg, why, note) values (?, ?, ?, 'received', '')",
  );
  const put = (id: string, of: string, code: string, received: number, left: number) => {
    const days = [iso(received), iso(received + 540 * DAY_S)];
    lot.run(id, of, code, ...days, left, 4000 + Math.round(left / 10_000));
    moved.run(id, received, 5_000_000);
    if (left < 5_000_000) moved.run(id, received + DAY_S, left - 5_000_000);
  };
  const staples = STAPLES.length * LOTS_PER_STAPLE;
  for (let at = 0; at < staples; at++) {
    const [which, turn] = [at % STAPLES.length, Math.floor(at / STAPLES.length)];
    const received = now - (LOTS_PER_STAPLE - turn) * 14 * DAY_S;
    const left = turn < LOTS_PER_STAPLE - STAPLE_LOTS_LEFT ? 0 : 4_000_000;
    put(`staple-${which}-${turn}`, STAPLES[which]!, `S${which}-${turn}`, received, left);
  }
  for (let at = staples; at < BIG.lots; at++) {
    const received = now - Math.floor(draw() * 700) * DAY_S;
    const left = draw() < 0.4 ? 0 : Math.floor(draw() * 5_000) * 1000;
    put(`lot-${at}`, `bulk-${at % BIG.ingredients}`, `L${at}`, received, left);
  }
}

function fillProducts(db: SQLite.Database, now: number, count: number): void {
  const row = db
    .prepare("select product, price_policy from product_versions where product_id = 'everyday'")
    .get() as { product: string; price_policy: string };
  const product = db.prepare(
    `insert into products (id, shop_id, name, published_version) values (?, '${SHOP}', ?, ?)`,
  );
  const version = db.prepare(
    `insert into product_versions (product_id, version, product, price_policy, published_at, room)
     values (?, ?, ?, ?, ?, ?)`,
  );
  const draft = db.prepare(
    "insert into product_drafts (product_id, document, revision, saved_at) values (?, ?, 2, ?)",
  );
  const pricePolicy = JSON.parse(row.price_policy) as object;
  const room = JSON.stringify({ shipDay: iso(now), sentences: ["Most of it passes."], prices: 0 });
  for (let at = 0; at < count; at++) {
    const [id, name] = [`bulk-${at}`, `Butter of the year, no. ${at}`];
    const isForSale = at % 10 !== 9;
    product.run(id, name, isForSale ? 3 : null);
    const said = { ...(JSON.parse(row.product) as object), id, name };
    for (const each of [1, 2, 3]) {
      version.run(id, each, JSON.stringify(said), row.price_policy, now - each, room);
    }
    if (at % 2 === 0) draft.run(id, JSON.stringify({ product: said, pricePolicy }), now);
  }
}

function column(db: SQLite.Database, sql: string): string[] {
  return db.prepare(sql).pluck().all() as string[];
}

function iso(seconds: number): string {
  return new Date(seconds * 1000).toISOString().slice(0, 10);
}
