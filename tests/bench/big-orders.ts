/**
 * Eight years of orders and batches of a made-up shop, with sheets, closings, lots and ledger as the service writes
 * them. A few hundred texts are made as the service makes them; the engine writes the rows from these, because a
 * million orders are ten million rows.
 */
import type SQLite from "better-sqlite3";
import { LOTS_PER_STAPLE, ORDERS_PER_RUN, SHEETS, aSheet, aSnapshot } from "./big-sheets.ts";

const SHOP = "quillfen";
const DAY_S = 86_400;
const YEARS_S = 8 * 365 * DAY_S;
const RUNS_PER_BATCH = 2;
const ORDERS_PER_BATCH = RUNS_PER_BATCH * ORDERS_PER_RUN;
/** The latest orders wait; those before them are made and not sent; a batch stands on the bench. */
const WAITING = 400;
const UNSENT = 800;
const REFUNDED_EVERY = 97;
const HELD_EVERY = 5_000;
/** Everybody comes back a few times. */
const ORDERS_PER_CUSTOMER = 4;
const LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const SCATTER = 387_420_489;

/**
 * Fill in orders, their quotes, logs, batches, lots used and the ledger; the latest placed `now`.
 * @param now seconds since 1970
 * @param count some hundreds at least
 */
export function fillOrders(db: SQLite.Database, now: number, count: number): void {
  writeSheets(db);
  writePlacings(db, now, count);
  writeOrders(db, customersOf(count));
  writeBatches(db);
  for (const table of ["sheets", "sheet_lines", "placings", "batch_plan"]) {
    db.exec(`drop table temp.${table}`);
  }
}

/** How many customers there are among so many orders; each is called "Customer" and a number from 0. */
export function customersOf(orders: number): number {
  return Math.ceil(orders / ORDERS_PER_CUSTOMER);
}

/** Six characters that jump about, each order's its own (the factor is odd). */
export function referenceOf(at: number): string {
  let [left, text] = [(at * SCATTER) % 2 ** 30, ""];
  for (let place = 0; place < 6; place++) {
    text = LETTERS[left % 32]! + text;
    left = Math.floor(left / 32);
  }
  return text;
}

/** The same, of an expression of SQL. */
function referenceSql(at: string): string {
  const places = [25, 20, 15, 10, 5, 0].map(
    (shift) =>
      `substr('${LETTERS}', 1 + (((${at}) * ${SCATTER} % ${2 ** 30}) >> ${shift} & 31), 1)`,
  );
  return places.join(" || ");
}

/** Texts that come again after so many orders, with words in them where what differs goes. */
function writeSheets(db: SQLite.Database): void {
  db.exec(`
    create temp table sheets (turn integer primary key, snapshot text, run text, closed text);
    create temp table sheet_lines (turn integer, place integer, ingredient text, target_mg integer)`);
  const sheet = db.prepare("insert into sheets values (?, ?, ?, ?)");
  const line = db.prepare("insert into sheet_lines values (?, ?, ?, ?)");
  for (let turn = 0; turn < SHEETS; turn++) {
    const snapshot = JSON.stringify(aSnapshot(turn));
    if (turn % ORDERS_PER_RUN > 0) {
      sheet.run(turn, snapshot, null, null);
      continue;
    }
    const { run, closed, lines } = aSheet(db, turn);
    sheet.run(turn, snapshot, run, closed);
    for (const [place, { ingredient, targetMg }] of lines.entries()) {
      line.run(turn, place, ingredient, targetMg);
    }
  }
}

/** When each order was placed, which batch it went into, and what has become of both. */
function writePlacings(db: SQLite.Database, now: number, count: number): void {
  const waiting = Math.min(WAITING, Math.floor(count / 5));
  const unsent = Math.min(UNSENT, 2 * waiting);
  const groups = Math.floor((count - waiting) / ORDERS_PER_BATCH);
  db.exec(`
    create temp table placings as
      with recursive numbers (at) as (select 0 union all select at + 1 from numbers where at < ${count - 1}),
      grouped as (
        select at, ${now - YEARS_S} + at * ${YEARS_S} / ${count} as placed, at % ${SHEETS} as turn,
          at % ${ORDERS_PER_BATCH} / ${ORDERS_PER_RUN} as batch_run,
          case when at < ${groups * ORDERS_PER_BATCH} then at / ${ORDERS_PER_BATCH} end as grp
        from numbers)
      select *, case
          when grp is null then 'paid'
          when grp = ${groups - 1} then 'in-making'
          when at % ${HELD_EVERY} = 17 then 'held'
          when at % ${REFUNDED_EVERY} = 5 then 'cancelled'
          when at % ${REFUNDED_EVERY} = 6 then 'expired'
          when at >= ${count - waiting - unsent} then 'made'
          else 'sent' end as state
      from grouped;
    create temp table batch_plan as
      select grp, at as first, placed, turn, grp = ${groups - 1} as is_open,
        grp * ${LOTS_PER_STAPLE} / ${groups} as lot_turn,
        substr(strftime('%Y%m%d', placed, 'unixepoch'), 3) || '-' || printf('%02d',
          row_number() over (partition by placed / ${DAY_S} order by grp)) as number
      from placings where at % ${ORDERS_PER_BATCH} = 0 and grp is not null
      order by grp`);
}

function writeOrders(db: SQLite.Database, customers: number): void {
  const snapshot = `replace(replace(replace(snapshot, 'QUOTE', 'quote-' || at), '1111111111', placed),
    '2222222222', placed + 3600)`;
  const isOut = "state in ('held', 'cancelled', 'expired') or grp is null";
  const priceLines = JSON.stringify({
    lines: [{ what: "material", subject: "shea-butter", minor: 410 }],
    ...{ costMinor: 500, taxMinor: 100, jarMinor: 1490 },
  });
  db.exec(`
    insert into quotes (id, shop_id, product_id, version, snapshot, price_lines, issued_at, expires_at)
      select 'quote-' || at, '${SHOP}', 'everyday', 1, ${snapshot}, '${priceLines}', placed, placed + 3600
      from placings cross join sheets using (turn);
    insert into orders (id, shop_id, reference, quote_id, state, snapshot, total_minor, currency, till_kind, till_key,
        batch_id, batch_run, placed_at, paid_at, customer_name, customer_email, refunded_minor, held_because)
      select 'order-' || at, '${SHOP}', ${referenceSql("at")}, 'quote-' || at, state, ${snapshot},
        1490, 'GBP', 'practice', 'key-' || at,
        case when not (${isOut}) then 'batch-' || grp end, case when not (${isOut}) then batch_run end,
        placed, case when state <> 'expired' then placed + 60 end,
        'Customer ' || (at % ${customers}), 'customer' || (at % ${customers}) || '@example.org',
        case when state = 'cancelled' then 1490 else 0 end,
        case when state = 'held' then 'Wants another jar.' end
      from placings cross join sheets using (turn);
    insert into order_events (order_id, at, who, what)
      select 'order-' || placings.at, placed + later, who, what
      from placings cross join (
        select 0 as nth, 0 as later, 'customer' as who, 'placed' as what
        union all select 1, 60, 'till', 'paid'
        union all select 2, 600, 'maker', 'in a batch'
        union all select 3, ${DAY_S}, 'maker', 'sent') as kinds
      where nth = 0 or (nth = 1 and state <> 'expired') or (nth = 2 and not (${isOut}))
        or (nth = 3 and state = 'sent')`);
}

function writeBatches(db: SQLite.Database): void {
  const references = Array.from({ length: ORDERS_PER_RUN }, (_, nth) => nth);
  const run = (nth: number) =>
    references.reduce(
      (text, place) =>
        // Two digits, so that the first is not found at the head of the eleventh.
        `replace(${text}, 'REFERENCE${String(place).padStart(2, "0")}',
          ${referenceSql(`first + ${nth * ORDERS_PER_RUN + place}`)})`,
      `replace(run${nth}.run, 'NUMBER', number)`,
    );
  const closed = (nth: number) => `replace(run${nth}.closed, 'LOT-TURN', lot_turn)`;
  const both = `from batch_plan
      cross join sheets as run0 on run0.turn = batch_plan.turn
      cross join sheets as run1 on run1.turn = (batch_plan.turn + ${ORDERS_PER_RUN}) % ${SHEETS}`;
  db.exec(`
    insert into batches (id, shop_id, number, state, work_order, issued_at, closed_at, closing)
      select 'batch-' || grp, '${SHOP}', number, iif(is_open, 'open', 'made'),
        '{"runs":[' || ${run(0)} || ',' || ${run(1)} || ']}', placed,
        iif(is_open, null, placed + ${DAY_S}),
        iif(is_open, null, '{"runs":[' || ${closed(0)} || ',' || ${closed(1)} ||
          '],"shortOrders":[],"note":"","added":[]}')
      ${both};
    insert into batch_lots (batch_id, run, ingredient_id, lot_id, used_mg)
      select 'batch-' || grp, nth, ingredient, 'staple-' || place || '-' || lot_turn, target_mg
      from batch_plan cross join (select 0 as nth union all select 1) as runs
        cross join sheet_lines on sheet_lines.turn = (batch_plan.turn + nth * ${ORDERS_PER_RUN}) % ${SHEETS}
      where not is_open;
    insert into stock_movements (lot_id, at, delta_mg, why, batch_id, note)
      select 'staple-' || place || '-' || lot_turn, placed + ${DAY_S}, 0, 'batch', 'batch-' || grp, ''
      from batch_plan cross join sheet_lines on sheet_lines.turn = batch_plan.turn
      where not is_open`);
}
