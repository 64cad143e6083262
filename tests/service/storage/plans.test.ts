/**
 * How SQLite answers what the maker's pages ask: over an index, never by walking through a table that grows with the
 * years. Statements are collected while every page is asked for, and explained afterwards.
 */
import SQLite from "better-sqlite3";
import { afterAll, beforeAll, expect, it, vi } from "vitest";
import { fillBigShop } from "../../bench/big-shop.ts";
import { pathsOf } from "../../bench/maker-pages.ts";
import { freshFile, openTestShop } from "../../helpers/shop.ts";

const ORDERS = 2000;
const GROWING = ["orders", "quotes", "order_events", "lots", "stock_movements", "batches"].concat(
  "batch_lots",
);
const WALKS = new RegExp(`^SCAN (${GROWING.join("|")})\\b`);
/** All of a shop's orders or batches, which is nearly the whole table; a page of them ends at its limit. */
const WALKS_A_SHOP = /^SEARCH (orders|batches) USING (COVERING )?INDEX \w+ \(shop_id=\?\)$/;

let db: SQLite.Database;
let asked: Set<string>;
let statuses: Map<string, number>;

beforeAll(async () => {
  const file = freshFile();
  (await openTestShop({}, file)).close();
  fillBigShop(file, Math.floor(Date.now() / 1000), ORDERS);
  const prepare = vi.spyOn(SQLite.prototype as unknown as SQLite.Database, "prepare");
  const shop = await openTestShop({}, file);
  const cookie = await shop.signIn();
  const paths = await pathsOf(shop, ORDERS);
  prepare.mockClear();
  statuses = new Map();
  for (const path of paths) {
    const answer = await shop.request(path, { headers: { cookie, accept: "text/html" } });
    await answer.text();
    statuses.set(path, answer.status);
  }
  asked = new Set(prepare.mock.calls.map(([sql]) => sql));
  prepare.mockRestore();
  shop.close();
  db = new SQLite(file);
}, 120_000);
afterAll(() => db?.close());

function planOf(sql: string): string[] {
  const values = Array.from(sql.matchAll(/\?/g), () => null);
  const plan = db.prepare(`explain query plan ${sql}`).all(...values) as { detail: string }[];
  return plan.map(({ detail }) => detail);
}

function walksOf(sql: string): string[] {
  return planOf(sql).filter(
    (detail) => WALKS.test(detail) || (WALKS_A_SHOP.test(detail) && !/ limit /i.test(sql)),
  );
}

it("asks every page of the maker's side, and each answers", () => {
  const failed = [...statuses].filter(([, status]) => status !== 200 && status !== 303);
  expect(failed).toEqual([]);
  expect(asked.size).toBeGreaterThan(60);
});

it("walks through no table that grows", () => {
  const walks = [...asked].flatMap((sql) =>
    /^\s*(select|with)/i.test(sql) ? walksOf(sql).map((walk) => ({ walk, sql })) : [],
  );
  expect(walks).toEqual([]);
});

it("finds refunded orders by their own index, which holds no others", () => {
  const refunded = [...asked].filter((sql) => /refunded_minor" > 0/.test(sql));
  expect(refunded.length).toBeGreaterThanOrEqual(2); // a count and a page
  for (const sql of refunded)
    expect(planOf(sql)).toContainEqual(expect.stringContaining("INDEX orders_refunded"));
});

it("would notice a walk", () => {
  expect(walksOf("select * from orders where customer_name like ?")).toHaveLength(1);
  const unending = "select * from orders where shop_id = ? order by placed_at";
  expect([walksOf(unending).length, walksOf(`${unending} limit 50`).length]).toEqual([1, 0]);
});
