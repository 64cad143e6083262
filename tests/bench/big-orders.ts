/**
 * Eight years of orders and batches of a made-up shop, with sheets, closings, lots and ledger as the service writes
 * them.
 */
import { ingredientById } from "#data/library.ts";
import { writeRun } from "#service/batches/run.ts";
import { ShopParticularsShape } from "#service/shapes.ts";
import type SQLite from "better-sqlite3";

const SHOP = "quillfen";
const DAY_S = 86_400;
const ORDERS_PER_BATCH = 8;
const ORDERS_PER_RUN = 4;
/** The latest orders wait; those before them are made and not sent; a batch stands on the bench. */
const WAITING = 400;
const UNSENT = 800;
/** What the orders are made of; each has lots of its own, used up one after the other. */
export const STAPLES = ["shea-butter", "cocoa-butter", "jojoba-oil", "sunflower-oil", "tocopherol"];
export const LOTS_PER_STAPLE = 200;
/** After so many orders blends and quantities are the same again. */
const SHEETS = 480;
const LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

type Sheet = ReturnType<typeof sheetOf>;

/** Fill in orders, their quotes, logs, batches, lots used and the ledger; the latest placed `now`. */
export function fillOrders(db: SQLite.Database, now: number, count: number): void {
  const rows = statements(db);
  const sheets = new Map<number, Sheet>();
  const started = now - 8 * 365 * DAY_S;
  const batches = Math.floor((count - WAITING) / ORDERS_PER_BATCH);
  let [day, ofDay] = ["", 0];
  for (let at = 0; at < count; at++) {
    const placed = started + Math.floor((at / count) * (now - started));
    const [group, place] = [Math.floor(at / ORDERS_PER_BATCH), at % ORDERS_PER_BATCH];
    const waits = at >= batches * ORDERS_PER_BATCH;
    const isOpen = group === batches - 1;
    if (!waits && place === 0) {
      const today = iso(placed).slice(2).replaceAll("-", "");
      ofDay = today === day ? ofDay + 1 : 1;
      day = today;
      const runs = [at, at + ORDERS_PER_RUN].map((first) => {
        const known = sheets.get(first % SHEETS) ?? sheetOf(db, first);
        sheets.set(first % SHEETS, known);
        return known;
      });
      const number = `${day}-${String(ofDay).padStart(2, "0")}`;
      const turn = Math.floor((group / batches) * LOTS_PER_STAPLE);
      writeBatch(rows, { group, number, at: placed, isOpen, turn, first: at }, runs);
    }
    const state = waits ? "paid" : isOpen ? "in-making" : endOf(at, count);
    writeOrder(rows, { at, placed, state, batchId: waits ? null : `batch-${group}` });
  }
}

const REFUNDED_EVERY = 97;
const HELD_EVERY = 5_000;

function endOf(at: number, count: number): string {
  if (at % HELD_EVERY === 17) return "held";
  if (at % REFUNDED_EVERY === 5) return "cancelled";
  if (at % REFUNDED_EVERY === 6) return "expired";
  return at >= count - WAITING - UNSENT ? "made" : "sent";
}

function statements(db: SQLite.Database) {
  return {
    quote: db.prepare(
      `insert into quotes (id, shop_id, product_id, version, snapshot, price_lines, issued_at, expires_at)
       values (?, '${SHOP}', 'everyday', 1, ?, '{"lines":[{"what":"material","subject":"shea-butter","minor":410}],"costMinor":500,"taxMinor":100,"jarMinor":1490}', ?, ?)`,
    ),
    order: db.prepare(
      `insert into orders (id, shop_id, reference, quote_id, state, snapshot, total_minor, currency, till_kind,
         till_key, batch_id, batch_run, placed_at, paid_at, customer_name, customer_email, refunded_minor, held_because)
       values (?, '${SHOP}', ?, ?, ?, ?, 1490, 'GBP', 'practice', ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ),
    event: db.prepare("insert into order_events (order_id, at, who, what) values (?, ?, ?, ?)"),
    batch: db.prepare(
      `insert into batches (id, shop_id, number, state, work_order, issued_at, closed_at, closing)
       values (?, '${SHOP}', ?, ?, ?, ?, ?, ?)`,
    ),
    used: db.prepare(
      "insert into batch_lots (batch_id, run, ingredient_id, lot_id, used_mg) values (?, ?, ?, ?, ?)",
    ),
    moved: db.prepare(
      `insert into stock_movements (lot_id, at, delta_mg, why, batch_id, note) values (?, ?, 0, 'batch', ?, '')`,
    ),
  };
}

interface WrittenOrder {
  readonly at: number;
  readonly placed: number;
  readonly state: string;
  readonly batchId: string | null;
}

function writeOrder(rows: ReturnType<typeof statements>, order: WrittenOrder): void {
  const { at, placed, state, batchId } = order;
  const text = JSON.stringify(snapshot(`quote-${at}`, placed, at));
  rows.quote.run(`quote-${at}`, text, placed, placed + 3600);
  const who = [`Customer ${at % 30_000}`, `customer${at % 30_000}@example.org`];
  const isOut = state === "held" || state === "cancelled" || state === "expired";
  const standing = isOut || batchId === null ? [null, null] : [batchId, runOf(at)];
  const paidAt = state === "expired" ? null : placed + 60;
  const end = [state === "cancelled" ? 1490 : 0, state === "held" ? "Wants another jar." : null];
  const keys = [referenceOf(at), `quote-${at}`, state, text, `key-${at}`, ...standing];
  rows.order.run(`order-${at}`, ...keys, placed, paidAt, ...who, ...end);
  rows.event.run(`order-${at}`, placed, "customer", "placed");
  if (paidAt !== null) rows.event.run(`order-${at}`, paidAt, "till", "paid");
  if (standing[0] !== null) rows.event.run(`order-${at}`, placed + 600, "maker", "in a batch");
  if (state === "sent") rows.event.run(`order-${at}`, placed + DAY_S, "maker", "sent");
}

interface WrittenBatch {
  readonly group: number;
  readonly number: string;
  readonly at: number;
  readonly isOpen: boolean;
  /** Which lot of each staple is being used. */
  readonly turn: number;
  /** Its first order. */
  readonly first: number;
}

function writeBatch(
  rows: ReturnType<typeof statements>,
  { group, number, at, isOpen, turn, first }: WrittenBatch,
  sheets: readonly Sheet[],
): void {
  const id = `batch-${group}`;
  const lotOf = (index: number) => `staple-${index}-${turn}`;
  const runs = sheets.map(({ text }, run) =>
    text
      .replaceAll("NUMBER", number)
      .replace(/REFERENCE(\d)/g, (_, nth: string) =>
        referenceOf(first + run * ORDERS_PER_RUN + Number(nth)),
      ),
  );
  const closing = {
    runs: sheets.map(({ lines }) => ({
      lines: lines.map((line, index) => ({
        ...line,
        portions: [{ lotId: lotOf(index), code: lotOf(index), usedMg: line.targetMg }],
        why: "",
      })),
      ...{ jarsFilled: 8, leftMg: 2000, texture: "soft", celsius: 21, cup: null },
    })),
    ...{ shortOrders: [], note: "", added: [] },
  };
  const end = isOpen ? [null, null] : [at + DAY_S, JSON.stringify(closing)];
  const sheetsText = `{"runs":[${runs.join(",")}]}`;
  rows.batch.run(id, number, isOpen ? "open" : "made", sheetsText, at, ...end);
  if (isOpen) return;
  sheets.forEach(({ lines }, run) =>
    lines.forEach(({ ingredient, targetMg }, index) => {
      rows.used.run(id, run, ingredient, lotOf(index), targetMg);
      if (run === 0) rows.moved.run(lotOf(index), at + DAY_S, id);
    }),
  );
}

/** A run's sheet as the service writes it, with words in it where number and references go. */
function sheetOf(db: SQLite.Database, first: number) {
  const { particulars } = db.prepare("select particulars from shops").get() as {
    particulars: string;
  };
  const bench = {
    ...{ shopId: SHOP, owner: {} as never, now: 0, today: "2026-01-05" },
    particulars: ShopParticularsShape.parse(JSON.parse(particulars)),
  };
  const orders = [0, 1, 2, 3].map((nth) => ({
    ...{ reference: `REFERENCE${nth}`, jarName: "Middle jar", fillG: 120 },
    quantity: quantityOf(first + nth),
  }));
  const parts = partsOf(first).map(({ ingredient, share }) => ({
    ...{ ingredient: ingredientById(ingredient)!, share },
  }));
  const run = writeRun(bench, {
    ...{ batchNumber: "NUMBER", productName: "Everyday butter", baseName: "Soft shea" },
    ...{
      blend: { parts },
      orders,
      lossShare: 300,
      airFraction: 0.35,
      useCelsius: 21,
      law: undefined,
    },
  });
  const lines = run.workOrder.weighList
    .flatMap((list) => list.lines)
    .map(({ ingredient, name, targetMg }) => ({ ingredient, name, targetMg }))
    .sort((a, b) => STAPLES.indexOf(a.ingredient) - STAPLES.indexOf(b.ingredient));
  return { text: JSON.stringify(run), lines };
}

/** Soft shea as the demo sells it, its shares a little moved so that some blends are alike and most are not. */
function partsOf(at: number) {
  const moved = (Math.floor(at / ORDERS_PER_RUN) % 40) * 10;
  const shares = [6000 - moved, 1000, 1500 + moved, 1450, 50];
  return STAPLES.map((ingredient, index) => ({ ingredient, share: shares[index]! }));
}

function snapshot(id: string, issuedAt: number, at: number) {
  const parts = partsOf(at);
  const [glide, care] = parts.slice(2, 4);
  return {
    id,
    product: { id: "everyday", name: "Everyday butter", version: 1 },
    base: { id: "soft-shea", name: "Soft shea" },
    choice: {
      base: "soft-shea",
      butters: parts.slice(0, 2),
      oils: [
        { place: "glide", ...glide },
        { place: "care", ...care },
      ],
    },
    parts: parts.map((part) => ({ ...part, name: part.ingredient, inci: "Invented" })),
    jar: { id: "jar-120", name: "Middle jar", fillG: 120 },
    quantity: quantityOf(at),
    currency: { code: "GBP", exponent: 2 },
    ...{ jarMinor: 1490, per100gMinor: 1242, totalMinor: 1490, taxMinor: 248 },
    ...{ firmness: "soft", softensAboveCelsius: 31.5, issuedAt, expiresAt: issuedAt + 3600 },
  };
}

const quantityOf = (at: number) => 1 + (at % 3);
const runOf = (at: number) => Math.floor((at % ORDERS_PER_BATCH) / ORDERS_PER_RUN);

/** Six characters that jump about, each order's its own (the factor is odd). */
export function referenceOf(at: number): string {
  let [left, text] = [(at * 387_420_489) % 2 ** 30, ""];
  for (let place = 0; place < 6; place++) {
    text = LETTERS[left % 32]! + text;
    left = Math.floor(left / 32);
  }
  return text;
}

function iso(seconds: number): string {
  return new Date(seconds * 1000).toISOString().slice(0, 10);
}
