/**
 * Databases as earlier versions left them: their migrations, and rows of what each of them knew.
 */
import SQLite from "better-sqlite3";
import { copyFileSync, mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import journal from "#data/migrations/meta/_journal.json" with { type: "json" };
import { migrateFile } from "#service/storage/migrate-file.ts";
import { MIGRATIONS } from "../helpers/shop.ts";
import { BREAK } from "./rebuilds.ts";

/** Names of the schemas a shop may still have, oldest first; the last is the newest of all. */
export const SCHEMAS = journal.entries.map(({ tag }) => tag);

/**
 * Rows by the schema that brought their tables. Of three orders one is not paid, one is paid and in a batch, and one is
 * held; the totals differ, so that no sum comes out right by chance.
 */
const ROWS: Readonly<Record<string, (orders: number) => string>> = {
  "0000": (orders) => `
    insert into shops (id, name, locale, currency, currency_exponent, particulars)
      values ('moss', 'Moss & Lane', 'en-GB', 'GBP', 2, '{}');
    insert into products (id, shop_id, published_version) values ('whip', 'moss', 1);
    insert into product_versions (product_id, version, product, price_policy, published_at)
      values ('whip', 1, '{"name":"Whip"}', '{}', 1700000000);
    insert into ingredient_costs values ('moss', 'shea-butter', 1180, 1000, 'A mill');
    insert into batches (id, shop_id, number, state, work_order, issued_at)
      values ('b1', 'moss', '231115-01', 'open', '{"steps":[]}', 1700000000);
    insert into quotes with recursive n(i) as (select 1 union all select i + 1 from n where i < ${orders})
      select 'q' || i, 'moss', 'whip', 1, '{"n":' || i || '}', '[]', 1700000000 + i, 1700003600 + i from n;
    insert into orders (id, shop_id, reference, quote_id, state, snapshot, total_minor, currency, till_kind, till_key,
        till_session_id, batch_id, placed_at, paid_at, held_because)
      with recursive n(i) as (select 1 union all select i + 1 from n where i < ${orders})
      select 'o' || i, 'moss', printf('R%07d', i), 'q' || i,
        case i % 3 when 0 then 'placed' when 1 then 'in-making' else 'held' end,
        '{"n":' || i || '}', 1000 + i, case when i % 7 = 0 then 'EUR' else 'GBP' end, 'stripe', 'k' || i, 's' || i,
        case i % 3 when 1 then 'b1' end, 1700000000 + i, case when i % 3 > 0 then 1700000060 + i end,
        case i % 3 when 2 then 'the amount differs' end from n;
    insert into order_events (order_id, at, who, what) select id, placed_at, 'customer', 'placed' from orders;
    insert into payment_events values ('evt1', 'checkout.session.completed', 's1', 1700000061, 1700000062);
    insert into practice_sessions values ('p1', '{}', 'open');
    insert into sessions (token_hash, shop_id, created_at, expires_at) values ('h1', 'moss', 1, 2);
    insert into sign_in_links (token_hash, shop_id, expires_at) values ('h2', 'moss', 2);`,
  "0001": () => `
    insert into kitchen_laws values ('moss', 1, '{}', 3, 1700000000);
    insert into test_jars (id, shop_id, number, title, parts, net_mg, jar_ul, days_rested, celsius, grade, lot, note,
        recorded_at) values ('j1', 'moss', 1, 'Soft', '[]', 60000, 100000, 7, 21.5, 'soft', '', '', 1700000000);`,
  "0002": () => `
    insert into people (id, shop_id, name, role, created_at) values ('ann', 'moss', 'Hand', 'owner', 1);
    insert into passkeys (id, person_id, public_key, counter, transports, name, created_at)
      values ('pk', 'ann', 'AA', 1, '[]', 'Key', 1);
    insert into ingredients (shop_id, id, library_id, name, supplier, pack_text, pack_minor, pack_mg, refined, scent,
        note) values ('moss', 'mango', 'mango-butter', 'Mango', 'A mill', '1 kg', 900, 1000000, 'refined', 'none', '');
    insert into lots (id, shop_id, ingredient_id, code, supplier, received_on, received_mg, on_hand_mg, note)
      values ('l1', 'moss', 'mango', 'M-1', 'A mill', '2023-11-15', 1000000, 400000, '');
    insert into stock_movements (lot_id, at, delta_mg, why, batch_id, note)
      values ('l1', 1, 1000000, 'received', null, ''), ('l1', 2, -600000, 'used', 'b1', '');
    insert into batch_lots values ('b1', 0, 'mango', 'l1', 600000);
    insert into product_drafts values ('whip', '{}', 1, 1, 'ann');
    update orders set customer_name = 'Someone', refunded_minor = 100 where state = 'in-making';`,
  "0004": () => `
    insert into api_keys (id, shop_id, name, secret_hash, created_at) values ('a1', 'moss', 'Host', 'x', 1);
    insert into refunds (id, order_id, amount_minor, why, asked_at, till_key, state, changed_at)
      values ('r1', 'o1', 100, 'late', 1, 'rk1', 'done', 2);
    insert into disputes values ('d1', 'o1', 500, 'GBP', 'needs_response', 'fraudulent', 1, 1);
    insert into event_endpoints (id, shop_id, url, secret, created_at)
      values ('e1', 'moss', 'https://host.example', 'whsec_AA', 1);
    insert into messages (id, shop_id, order_id, kind, purpose, to_whom, once, state, next_at, created_at)
      values ('m1', 'moss', 'o1', 'mail', 'order.paid', 'customer', 'o1 paid', 'waiting', 1, 1);`,
};

/** A folder with the migrations up to one of them, as an earlier version came with. */
export function migrationsUpTo(schema: string): string {
  const folder = mkdtempSync(join(tmpdir(), "softset-migrations-"));
  const entries = journal.entries.slice(0, SCHEMAS.indexOf(schema) + 1);
  mkdirSync(join(folder, "meta"));
  writeFileSync(join(folder, "meta", "_journal.json"), JSON.stringify({ ...journal, entries }));
  for (const { tag } of entries) {
    copyFileSync(join(MIGRATIONS, `${tag}.sql`), join(folder, `${tag}.sql`));
  }
  return folder;
}

/** This version's migrations and one more, as a later version comes with. @param tag its name */
export function withOneMore(tag: string, statements: readonly string[]): string {
  const folder = migrationsUpTo(SCHEMAS.at(-1)!);
  const last = journal.entries.at(-1)!;
  const more = { ...last, idx: journal.entries.length, when: last.when + 1, tag };
  const entries = [...journal.entries, more];
  writeFileSync(join(folder, "meta", "_journal.json"), JSON.stringify({ ...journal, entries }));
  writeFileSync(join(folder, `${tag}.sql`), statements.join(BREAK));
  return folder;
}

/** Make a database that has grown up to a schema, with rows from every step on the way. */
export function makeOlderShop(file: string, schema: string, orders: number): void {
  const sqlite = new SQLite(file);
  sqlite.pragma("journal_mode = WAL");
  sqlite.pragma("foreign_keys = ON");
  for (const step of SCHEMAS.slice(0, SCHEMAS.indexOf(schema) + 1)) {
    migrateFile(sqlite, ":memory:", migrationsUpTo(step));
    const rows = ROWS[step.slice(0, 4)];
    if (rows) sqlite.transaction(() => sqlite.exec(rows(orders)))();
  }
  sqlite.close();
}
