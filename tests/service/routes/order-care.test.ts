/**
 * What a customer may ask of an order: a receipt, to cancel, all that is held, and to be forgotten while the books
 * stay.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { OrderAnswer } from "#core/wire.ts";
import * as schema from "#data/schema.ts";
import type { OrderState } from "#core/order/states.ts";
import { payOrder } from "../../helpers/shop-acts.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeEach(async () => {
  shop = await openTestShop();
});
afterEach(() => shop.close());

const NAME = "Wren Ashdown";
const EMAIL = "wren@customer.example";
const ours = { "sec-fetch-site": "same-origin" };

/** An order that NAME has paid, from EMAIL. */
const aPaidOrder = () => payOrder(shop, {}, NAME);

const get = (path: string) => shop.request(path, { headers: { accept: "text/html" } });
const post = (path: string, headers: Record<string, string> = ours) =>
  shop.request(path, { method: "POST", headers });
const textOf = async (answer: Response) =>
  (await answer.text()).replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");
const rowOf = async (id: string) => (await shop.shop.orders.byId(id))!;
const logOf = async (id: string) =>
  (await shop.shop.orders.events(id)).map(({ who, what }) => `${who}: ${what}`);

async function move(id: string, ...states: OrderState[]) {
  for (const to of states) {
    const at = shop.shop.clock.seconds();
    await shop.shop.orders.move({ orderId: id, to, at, who: "maker", what: to });
  }
}

describe("a receipt", () => {
  it("says who sold what, when, for how much and with what tax, once it is paid", async () => {
    const { path, quote, reference } = await aPaidOrder();
    const answer = await get(`${path}/receipt`);
    expect([answer.status, answer.headers.get("cache-control")]).toEqual([200, "no-store"]);
    const text = await textOf(answer);
    for (const each of [reference, "Quillfen", NAME, quote.product.name, "Practice."]) {
      expect(text).toContain(each);
    }
    expect(text).toContain(`Total £${(quote.totalMinor / 100).toFixed(2)}`);
    expect(text).toContain(`Tax in the price of the jars £${(quote.taxMinor / 100).toFixed(2)}`);
  });

  it("is not to be had before the payment, or without the whole link", async () => {
    const { token } = await shop.quote();
    const placed = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
    const path = new URL(placed.orderUrl).pathname;
    expect((await get(`${path}/receipt`)).status).toBe(409);
    for (const part of ["receipt", "data.json", "erase"]) {
      expect((await get(`${path.slice(0, -1)}/${part}`)).status).toBe(404);
    }
    expect((await post(`${path.slice(0, -1)}/erase`)).status).toBe(404);
  });
});

describe("a wish to cancel", () => {
  it("is asked once, shown to both, and answered by the maker", async () => {
    const { path, id, reference } = await aPaidOrder();
    expect((await post(`${path}/cancel`)).status).toBe(303);
    expect((await post(`${path}/cancel`)).status).toBe(303);
    expect((await logOf(id)).filter((line) => line === "customer: asked to cancel")).toHaveLength(
      1,
    );
    expect(await textOf(await get(path))).toContain("You asked to cancel on");

    const cookie = await shop.signIn();
    const bench = await shop.request("/maker", { headers: { cookie } });
    const onBench = await bench.text();
    expect(onBench).toContain("Asked to be cancelled");
    expect(onBench).not.toContain(`value="${id}" checked`);
    const order = await shop.request(`/maker/orders/${reference}`, { headers: { cookie } });
    expect(await textOf(order)).toContain("The customer asked to cancel on");
    const keepOn = (why: string) =>
      shop.request(`/maker/orders/${reference}/keep-on`, {
        method: "POST",
        headers: { ...ours, cookie },
        body: new URLSearchParams({ why }),
      });
    expect((await keepOn(" ")).status).toBe(422);
    expect((await keepOn("the butters are weighed already")).status).toBe(303);
    expect((await keepOn("again")).status).toBe(409);
    expect((await rowOf(id)).cancelAskedAt).toBeNull();
    expect(await textOf(await get(path))).toContain("the butters are weighed already");
  });

  it("comes too late once making has started, and says so", async () => {
    const { path, id } = await aPaidOrder();
    await move(id, "in-making");
    const answer = await shop.request(`${path}/cancel`, {
      method: "POST",
      headers: { ...ours, accept: "text/html" },
    });
    expect(answer.status).toBe(409);
    expect(await textOf(answer)).toContain("just started on your order");
    expect((await rowOf(id)).cancelAskedAt).toBeNull();
    expect(await textOf(await get(path))).not.toContain("Ask to cancel");
  });

  it("can only be sent from our own pages", async () => {
    const { path, id } = await aPaidOrder();
    for (const step of ["cancel", "erase"]) {
      const foreign = await post(`${path}/${step}`, { "sec-fetch-site": "cross-site" });
      expect(foreign.status).toBe(403);
    }
    expect((await rowOf(id)).cancelAskedAt).toBeNull();
  });
});

describe("all that is held", () => {
  it("comes as a file, with the customer's own data and none of the maker's costs", async () => {
    const { path, quote } = await aPaidOrder();
    const answer = await shop.request(`${path}/data.json`);
    expect(answer.headers.get("content-disposition")).toMatch(
      /^attachment; filename="order-\w+\.json"$/,
    );
    const data = (await answer.json()) as Record<string, unknown>;
    expect(data).toMatchObject({ customer: { name: NAME, email: EMAIL }, quote: { id: quote.id } });
    expect(JSON.stringify(data)).not.toMatch(/priceLines|profit|labour|tillKey/);
    expect(data["log"]).toHaveLength(2);
  });

  it("is every column of the order, but what is the shop's own plumbing", async () => {
    const { path, id } = await aPaidOrder();
    const { order, customer } = (await (await shop.request(`${path}/data.json`)).json()) as {
      order: object;
      customer: object;
    };
    const own = [
      "id",
      "shopId",
      "quoteId",
      "snapshot",
      "tillKey",
      "tillUrl",
      "batchId",
      "batchRun",
    ];
    const renamed = { customerName: "name", customerEmail: "email", tillKind: "till" };
    const told = new Set([...Object.keys(order), ...Object.keys(customer)]);
    const missing = Object.keys(await rowOf(id)).filter((column) => {
      const name = (renamed as Record<string, string>)[column] ?? column.replace(/Id$/, "");
      return !own.includes(column) && !told.has(name) && !told.has(column);
    });
    expect(missing).toEqual(["pendingSince", "apiKeyId"]);
  });
});

describe("erasure", () => {
  it.each([
    [["paid"], "still to be made"],
    [["in-making"], "being made or posted"],
    [["in-making", "made"], "being made or posted"],
  ] as const)("is refused while the order is %s, and nothing is lost", async (states, words) => {
    const { path, id } = await aPaidOrder();
    await move(id, ...states.filter((state) => state !== "paid"));
    const page = await get(`${path}/erase`);
    expect(await textOf(page)).toContain(words);
    const answer = await post(`${path}/erase`);
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain('role="alert"');
    expect((await rowOf(id)).customerEmail).toBe(EMAIL);
  });

  it("takes out every trace of who it was, and keeps the books", async () => {
    const { path, id } = await aPaidOrder();
    const { q } = shop.db;
    const deliverTo = { name: NAME, lines: ["1 Long Lane"], city: "Quill", country: "GB" };
    await q
      .update(schema.orders)
      .set({ deliverTo: JSON.stringify(deliverTo) })
      .where(eq(schema.orders.id, id));
    const at = shop.shop.clock.seconds();
    const who = "maker" as const;
    await shop.shop.orders.move({
      ...{ orderId: id, to: "held", at, who, what: `held: ${NAME} rang` },
      with: { heldBecause: `${NAME} rang` },
    });
    await shop.db.atomic([
      q.insert(schema.refunds).values({
        ...{ id: "r", orderId: id, amountMinor: 1, why: `for ${NAME}`, askedAt: at },
        ...{ tillKey: "k", state: "done", changedAt: at },
      }),
      q.update(schema.messages).set({ lastFault: `550 <${EMAIL}>`, state: "failed" }),
    ]);
    await move(id, "cancelled");
    const before = await rowOf(id);
    const page = await textOf(await get(`${path}/erase`));
    expect(page).toContain("could no longer reach you");
    expect((await post(`${path}/erase`)).status).toBe(303);
    expect((await post(`${path}/erase`)).status).toBe(303);

    const after = await rowOf(id);
    expect(after).toEqual({
      ...before,
      ...{ customerName: null, customerEmail: null, heldBecause: null },
      deliverTo: '{"country":"GB"}',
      erasedAt: at,
    });
    const log = await logOf(id);
    expect(log).toContain("maker: held: (words taken out)");
    expect(log.filter((line) => line === "customer: personal particulars erased")).toHaveLength(1);
    expect(shop.logged.map((line) => JSON.stringify(line)).join()).not.toContain(EMAIL);

    // Every table of the database is looked through, so that a new place for a name is found here.
    const tables = (
      await q.all<{ name: string }>(
        "select name from sqlite_master where type = 'table' and name not like 'sqlite%'",
      )
    ).map(({ name }) => name);
    const held: string[] = [];
    for (const table of tables) {
      const rows = JSON.stringify(await q.all(`select * from "${table}"`));
      if ([NAME, EMAIL, "Long Lane"].some((trace) => rows.includes(trace))) held.push(table);
    }
    expect(held).toEqual([]);
    expect(await textOf(await get(path))).toContain("Your name and address were erased on");
    expect((await get(`${path}/receipt`)).status).toBe(200);
  });

  it("waits while money is still on its way back", async () => {
    const { path, id } = await aPaidOrder();
    await move(id, "cancelled");
    const at = shop.shop.clock.seconds();
    const refund = { id: "r", orderId: id, amountMinor: 1, why: "sent back", askedAt: at };
    await shop.db.atomic([
      shop.db.q
        .insert(schema.refunds)
        .values({ ...refund, tillKey: "k", state: "pending", changedAt: at }),
    ]);
    expect((await post(`${path}/erase`)).status).toBe(409);
    expect((await rowOf(id)).customerEmail).toBe(EMAIL);
  });

  it("can be done by the maker, who also hands out the file", async () => {
    const { id, reference } = await aPaidOrder();
    await move(id, "in-making", "made", "sent");
    const cookie = await shop.signIn();
    const file = await shop.request(`/maker/orders/${reference}/data.json`, {
      headers: { cookie },
    });
    expect(await file.json()).toMatchObject({ customer: { email: EMAIL } });
    const erased = await post(`/maker/orders/${reference}/erase`, { ...ours, cookie });
    expect(erased.status).toBe(303);
    expect((await rowOf(id)).customerEmail).toBeNull();
    expect(await logOf(id)).toContain("maker: personal particulars erased");
  });
});
