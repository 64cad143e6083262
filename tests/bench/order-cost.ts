/**
 * `node --import tsx tests/bench/order-cost.ts`: what one visitor and one order ask of a D1, counted by D1 itself in
 * workerd on this machine: calls that read and lists that write, rows read and written (an index counts as a row). And
 * by how much an order lets a database grow, in SQLite, whose pages D1's are.
 */
import { sql } from "drizzle-orm";
import { Miniflare } from "miniflare";
import type { OrderAnswer, QuoteAnswer } from "#core/wire.ts";
import { makeKeys } from "#service/seals.ts";
import { type D1Binding, openD1Database } from "#service/storage/d1-database.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { createWorker } from "#service/worker.ts";
import { COMPATIBILITY_DATE, migrate } from "../edge/local-d1.ts";
import { aQuoteRequest, openTestShop } from "../helpers/shop.ts";

/** Enough that pages half filled make no difference. */
const ORDERS = 300;
const HOST = "https://shop.test";

interface Meta {
  readonly rows_read: number;
  readonly rows_written: number;
}
interface Statement {
  bind(...values: unknown[]): Statement;
  all(): Promise<{ meta: Meta }>;
  run(): Promise<{ meta: Meta }>;
  raw(options?: object): Promise<unknown>;
}

const counted = { reads: 0, lists: 0, read: 0, written: 0 };
function note(metas: readonly Meta[]): void {
  for (const { rows_read: read, rows_written: written } of metas) {
    counted.read += read;
    counted.written += written;
  }
}

/** The binding as it is, with what each call cost noted down. */
function counting(raw: {
  prepare(sql: string): Statement;
  batch(list: unknown[]): Promise<{ meta: Meta }[]>;
}) {
  const inner = new WeakMap<object, Statement>();
  const wrap = (statement: Statement): Statement => {
    const once = async (kind: "all" | "run") => {
      counted.reads += 1;
      const found = await statement[kind]();
      note([found.meta]);
      return found;
    };
    const wrapped: Statement = {
      bind: (...values) => wrap(statement.bind(...values)),
      all: () => once("all"),
      run: () => once("run"),
      raw: async (options) => {
        counted.reads += 1;
        const rows = await statement.raw(options);
        note([(await statement.all()).meta]); // raw rows come without a count, and reading again changes nothing
        return rows;
      },
    };
    inner.set(wrapped, statement);
    return wrapped;
  };
  return {
    prepare: (sql: string) => wrap(raw.prepare(sql)),
    batch: async (list: object[]) => {
      counted.lists += 1;
      const found = await raw.batch(list.map((each) => inner.get(each)));
      note(found.map(({ meta }) => meta));
      return found;
    },
  };
}

const runtime = new Miniflare({
  modules: true,
  script: "export default { fetch: () => new Response() };",
  compatibilityDate: COMPATIBILITY_DATE,
  d1Databases: ["DB"],
});
const raw = await runtime.getD1Database("DB");
await migrate(raw);
await seedDemo(openD1Database(raw as D1Binding), Math.floor(Date.now() / 1000));
const env = {
  DB: counting(raw as never) as unknown as D1Binding,
  ASSETS: { fetch: async () => new Response("none", { status: 404 }) },
  SOFTSET_KEYS: await makeKeys(),
  SOFTSET_URL: HOST,
};
const worker = createWorker();

const ask = async (path: string, init: RequestInit = {}): Promise<Response> => {
  const after: Promise<unknown>[] = [];
  const context = { waitUntil: (work: Promise<unknown>) => void after.push(work) };
  const answer = await worker.fetch(new Request(`${HOST}${path}`, init), env, context);
  await Promise.all(after);
  if (answer.status >= 400) throw new Error(`${path}: ${await answer.text()}`);
  return answer;
};
const json = (body: object): RequestInit => ({
  method: "POST",
  headers: { "content-type": "application/json" },
  body: JSON.stringify(body),
});

function line(what: string, ...cells: readonly (string | number)[]): void {
  console.log([what.padEnd(34), ...cells.map((cell) => String(cell).padStart(14))].join(""));
}

/** Do something, and say what it cost. */
async function costOf<Found>(what: string, act: () => Promise<Found>): Promise<Found> {
  const before = { ...counted };
  const found = await act();
  const of = (name: keyof typeof counted) => counted[name] - before[name];
  line(what, of("reads"), of("lists"), of("read"), of("written"));
  return found;
}

type Asking = (path: string, init?: RequestInit) => Promise<Response>;

const quoted = async (asking: Asking) =>
  (await (await asking("/v1/quotes", json(aQuoteRequest()))).json()) as QuoteAnswer;
const placed = async (asking: Asking, { token }: QuoteAnswer) =>
  (await (await asking("/v1/orders", json({ quote: token }))).json()) as OrderAnswer;
async function pay(asking: Asking, { payUrl }: OrderAnswer): Promise<void> {
  const who = { name: "Linde Moss", email: "linde@customer.example", way: "0" };
  const headers = { "sec-fetch-site": "same-origin" };
  const body = new URLSearchParams(who);
  await asking(`${new URL(payUrl!).pathname}/pay`, { method: "POST", headers, body });
}

line("", "calls", "lists", "rows read", "rows written");
await ask("/shop/everyday");
await new Promise((resolve) => setTimeout(resolve, 1000 - (Date.now() % 1000)));
await costOf("product page, first in a second", () => ask("/shop/everyday"));
await costOf("product page, in the same second", () => ask("/shop/everyday"));
await costOf("round of a quiet minute", () => worker.scheduled(undefined, env));
await placed(ask, await quoted(ask));
const quote = await costOf("quote", () => quoted(ask));
const order = await costOf("order of it", () => placed(ask, quote));
await costOf("payment, practice till", () => pay(ask, order));
await costOf("order page", () => ask(new URL(order.orderUrl).pathname));
await runtime.dispose();

const shop = await openTestShop();
const pages = async () => (await shop.db.q.all<{ page_count: number }>(sql`pragma page_count`))[0]!;
const before = await pages();
for (let n = 0; n < ORDERS; n++) {
  await pay(shop.request, await placed(shop.request, await quoted(shop.request)));
}
const bytes = (((await pages()).page_count - before.page_count) * 4096) / ORDERS;
console.log(`bytes an order, quote, log and mails included: ${bytes.toFixed(0)}`);
console.log(`orders in 10 GB: ${(10e9 / bytes / 1e6).toFixed(1)} million`);
shop.close();
