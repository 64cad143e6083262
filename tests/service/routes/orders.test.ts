/**
 * The owner's orders by their pages: lists, search, sums, and sending, which is the bench's work too.
 */
import { eq } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer } from "#core/wire.ts";
import { orders } from "#data/schema.ts";
import { benchHand } from "../../helpers/shop-acts.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let owner: string;
beforeAll(async () => {
  shop = await openTestShop();
  owner = await shop.signIn();
});
afterAll(() => shop.close());

const look = async (path: string, cookie = owner) => {
  const answer = await shop.request(path, { headers: { cookie, accept: "text/html" } });
  const page = (await answer.text()).replaceAll("&#x3D;", "=").replaceAll("&amp;", "&");
  return { status: answer.status, page };
};

function send(path: string, cookie: string, fields: Record<string, string> = {}) {
  const headers = { "sec-fetch-site": "same-origin", cookie, accept: "application/json" };
  return shop.request(path, { method: "POST", headers, body: new URLSearchParams(fields) });
}

async function placed(change: Partial<typeof orders.$inferInsert> = {}) {
  const { token } = await shop.quote();
  const order = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
  const id = new URL(order.orderUrl).pathname.split("/")[2]!;
  await set(id, change);
  return { id, reference: order.reference };
}

async function set(id: string, change: Partial<typeof orders.$inferInsert>) {
  if (Object.keys(change).length === 0) return;
  await shop.db.atomic([shop.db.q.update(orders).set(change).where(eq(orders.id, id))]);
}

const stateOf = async (id: string) => (await shop.shop.orders.byId(id))!.state;

describe("the search", () => {
  it("finds by beginnings, says so, and looks inside when asked to", async () => {
    const { reference } = await placed({
      ...{ customerName: "Wren Ashdown", customerEmail: "wren@customer.example" },
    });
    const here = `/maker/orders/${reference}`;
    const search = async (q: string, more = "") =>
      (await look(`/maker/orders?q=${encodeURIComponent(q)}${more}`)).page;
    for (const q of [reference.toLowerCase(), "wren", "WREN@CUST"]) {
      expect([q, (await search(q)).includes(here)]).toEqual([q, true]);
    }
    const missed = await search("ashdown");
    expect(missed).toContain("Nothing begins with");
    expect(missed).toContain("Looked for from the beginning");
    expect(missed).toContain("q=ashdown&before=now");
    const inside = await search("ashdown", "&before=now");
    expect([inside.includes(here), inside.includes("All orders were looked through")]).toEqual([
      ...[true, true],
    ]);
    expect(await search("nobody", "&before=now")).toContain("in these 5,000 orders");
  });

  it("goes on where a page ended, and takes an address that was tampered with as none", async () => {
    for (let nth = 0; nth < 51; nth++) await placed({ customerName: `Many ${nth + 10}` });
    const first = (await look("/maker/orders?q=many")).page;
    expect([first.includes("Many 10"), first.includes("Many 60")]).toEqual([true, false]);
    const next = /href="(\/maker\/orders\?q=many&from=[^"]*)"/.exec(first)![1]!;
    const second = (await look(next)).page;
    expect([second.includes("Many 10"), second.includes("Many 60")]).toEqual([false, true]);
    for (const junk of ["from=junk", "from=99.1.x", "before=junk", "from=1.1.%00"]) {
      expect([junk, (await look(`/maker/orders?q=many&${junk}`)).status]).toEqual([junk, 200]);
    }
  });
});

describe("refunded orders", () => {
  it("have a list of their own, in whatever state they are", async () => {
    const sent = await placed({ state: "sent", refundedMinor: 100 });
    const cancelled = await placed({ state: "cancelled" });
    const { page } = await look("/maker/orders?state=refunded");
    expect(page).toContain(sent.reference);
    expect(page).toContain('data-what="State">sent<');
    expect(page).not.toContain(cancelled.reference);
    expect((await look("/maker/orders?state=cancelled")).page).toContain(cancelled.reference);
  });
});

describe("the sum of an order", () => {
  it("tells tax on top apart from the jars, and tax inside by name", async () => {
    const inside = await placed();
    const { page } = await look(`/maker/orders/${inside.reference}`);
    expect(page).toMatch(/with £[\d.]+ tax in it/);
    expect(page).not.toContain("Tax, on top");
    const onTop = await placed();
    const row = (await shop.shop.orders.byId(onTop.id))!;
    const quote = { ...(JSON.parse(row.snapshot) as object), jarMinor: 1000, quantity: 2 };
    const snapshot = { ...quote, taxMinor: 400, totalMinor: 2400, taxOnTop: true };
    await set(onTop.id, { snapshot: JSON.stringify(snapshot), totalMinor: 2400 });
    const sums = (await look(`/maker/orders/${onTop.reference}`)).page;
    for (const words of ["Tax, on top", "£20.00", "£4.00", "£24.00"]) expect(sums).toContain(words);
    expect(sums).not.toContain("tax in it");
  });
});

describe("an order that was made", () => {
  it("is marked as sent by the bench, which sees no money; once, and only when it is made", async () => {
    const hand = await benchHand(shop);
    const made = await placed({ state: "made" });
    const paid = await placed({ state: "paid" });
    const bench = (await look("/maker", hand)).page;
    expect(bench).toContain(`action="/maker/sent/${made.reference}"`);
    expect(bench).not.toMatch(/£\s?\d|\/maker\/orders/);
    const sent = await send(`/maker/sent/${made.reference}`, hand, { back: "/maker/batches" });
    expect([sent.status, sent.headers.get("location")]).toEqual([303, "/maker/batches"]);
    expect(await stateOf(made.id)).toBe("sent");
    const log = await shop.shop.orders.events(made.id);
    expect(log.at(-1)!.what).toBe("sent, by Hand");
    for (const { reference } of [made, paid]) {
      expect((await send(`/maker/sent/${reference}`, hand)).status).toBe(409);
    }
    expect(await stateOf(paid.id)).toBe("paid");
    expect((await send("/maker/sent/NOSUCH", hand)).status).toBe(404);
    const away = { back: "https://elsewhere.example/" };
    const other = await placed({ state: "made" });
    const answer = await send(`/maker/sent/${other.reference}`, hand, away);
    expect(answer.headers.get("location")).toBe("/maker");
  });
});
