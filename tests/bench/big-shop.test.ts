/** The made-up shop that speeds are measured in holds together as one that the service has written. */
import SQLite from "better-sqlite3";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { freshFile, openTestShop } from "../helpers/shop.ts";
import { customersOf, referenceOf } from "./big-orders.ts";
import { fillBigShop } from "./big-shop.ts";

const ORDERS = 1000;
let file: string;
let db: SQLite.Database;

beforeAll(async () => {
  file = freshFile();
  (await openTestShop({}, file)).close();
  fillBigShop(file, Math.floor(Date.now() / 1000), ORDERS, 10);
  db = new SQLite(file, { readonly: true });
});
afterAll(() => db?.close());

const all = <Row>(sql: string) => db.prepare<[], Row>(sql).all();

describe("the made-up shop", () => {
  it("has as many orders as were asked for, each under the reference of its place", () => {
    const rows = all<{ id: string; reference: string }>("select id, reference from orders");
    expect(rows).toHaveLength(ORDERS);
    for (const { id, reference } of rows) {
      expect(reference).toBe(referenceOf(Number(id.slice("order-".length))));
    }
    const [people] = all<{ n: number }>("select count(distinct customer_email) as n from orders");
    expect(people!.n).toBe(customersOf(ORDERS));
  });

  it("has orders in every state that comes after payment, the latest waiting", () => {
    const states = all<{ state: string }>("select distinct state from orders").map(
      (it) => it.state,
    );
    expect(states.sort()).toEqual(
      ["cancelled", "expired", "held", "in-making", "made", "paid", "sent"].sort(),
    );
    const [last] = all<{ state: string }>(
      "select state from orders order by placed_at desc limit 1",
    );
    expect(last!.state).toBe("paid");
  });

  it("names on the sheets of a batch the orders that are in it, and in a closing its own lots", () => {
    const batches = all<{ id: string; number: string; work_order: string; closing: string | null }>(
      "select * from batches",
    );
    expect(batches.length).toBeGreaterThan(20);
    expect(new Set(batches.map(({ number }) => number)).size).toBe(batches.length);
    const ofBatch = db.prepare<[string], string>("select reference from orders where batch_id = ?");
    const lotsOf = db.prepare<[string], string>("select lot_id from batch_lots where batch_id = ?");
    for (const { id, number, work_order: sheets, closing } of batches) {
      expect(sheets).not.toMatch(/NUMBER|REFERENCE/);
      expect(sheets).toContain(number);
      for (const reference of ofBatch.pluck().all(id)) expect(sheets).toContain(`"${reference}"`);
      if (closing === null) continue;
      for (const lot of lotsOf.pluck().all(id)) expect(closing).toContain(`"${lot}"`);
      expect(() => JSON.parse(sheets + "") as unknown).not.toThrow();
      expect(closing).not.toContain("LOT-TURN");
    }
  });

  it("shows an order to its customer and a work order to its maker", async () => {
    const shop = await openTestShop({}, file);
    const cookie = await shop.signIn();
    const token = await shop.shop.seals.orderToken("order-100");
    const page = await shop.request(`/orders/order-100/${token}`);
    expect(await page.text()).toContain(referenceOf(100));
    const number = all<{ number: string }>("select number from batches limit 1")[0]!.number;
    const sheets = await shop.request(`/maker/batches/${number}/sheets`, { headers: { cookie } });
    expect(await sheets.text()).toContain(referenceOf(0));
    shop.close();
  });
});
