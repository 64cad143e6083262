/**
 * What is written into the outbox, and that it is written with the change it tells of or not at all.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { eq } from "drizzle-orm";
import { orders } from "#data/schema.ts";
import { TELLINGS } from "#service/messages/tellings.ts";
import { orderMailWords } from "#service/messages/mail-words.ts";
import { Conflict } from "#service/storage/database.ts";
import { englishLeft } from "../../helpers/english-left.ts";
import { CUSTOMER, openToldShop } from "./a-told-shop.ts";

type Told = Awaited<ReturnType<typeof openToldShop>>;
let test: Told;
beforeAll(async () => {
  test = await openToldShop();
  await test.listen("http://127.0.0.1:9/one", "host-1");
  await test.listen("http://127.0.0.1:9/two", "host-2");
  await test.listen("http://127.0.0.1:9/off", "host-off");
  await test.shop.eventEndpoints.switchOff("quillfen", "host-off");
});
afterAll(() => test.close());

async function toldOf(orderId: string): Promise<string[]> {
  const rows = (await test.told()).filter((row) => row.orderId === orderId);
  return rows.map(({ purpose, toWhom, endpointId }) => `${purpose} ${toWhom ?? endpointId}`).sort();
}

describe("the outbox", () => {
  it("holds an event for each address in use when an order is placed, and no mail", async () => {
    const id = await test.place();
    expect(await toldOf(id)).toEqual(["order.placed host-1", "order.placed host-2"]);
  });

  it("holds the confirmation and the work when it is paid", async () => {
    const id = await test.place();
    await test.pay(id);
    expect((await toldOf(id)).filter((each) => each.startsWith("order.paid"))).toEqual([
      "order.paid customer",
      "order.paid host-1",
      "order.paid host-2",
      "order.paid maker",
    ]);
  });

  it("tells nobody of a move that was refused", async () => {
    const id = await test.place();
    await test.pay(id);
    const before = await toldOf(id);
    await expect(test.pay(id)).rejects.toThrow(Conflict);
    expect(await toldOf(id)).toEqual(before);
  });

  it("confirms once, however often an order comes back to paid; a host shop hears of each time", async () => {
    const id = await test.place();
    await test.pay(id);
    for (const to of ["held", "paid", "held", "paid"] as const) {
      await test.shop.orders.move({ orderId: id, to, at: 1, who: "maker", what: to });
    }
    const told = await toldOf(id);
    const times = (what: string) => told.filter((each) => each === what).length;
    expect(times("order.paid customer")).toBe(1);
    expect(times("order.paid maker")).toBe(1);
    expect(times("order.paid host-1")).toBe(3);
    expect(times("order.held maker")).toBe(2);
  });

  it("holds nothing personal: neither name nor address, in no column", async () => {
    const id = await test.place();
    await test.pay(id);
    const all = JSON.stringify((await test.told()).filter(({ orderId }) => orderId === id));
    expect(all).not.toContain(CUSTOMER);
    expect(all).not.toContain("Linde");
    const { body } = (await test.told()).find(
      ({ orderId, purpose, kind }) =>
        orderId === id && purpose === "order.paid" && kind === "event",
    )!;
    const order = (await test.shop.orders.byId(id))!;
    expect(JSON.parse(body!)).toEqual({
      type: "order.paid",
      timestamp: new Date(order.paidAt! * 1000).toISOString(),
      data: {
        ...{ id, reference: order.reference, hostReference: null, state: "paid", dispute: null },
        ...{ totalMinor: order.totalMinor, refundedMinor: 0, currency: order.currency },
      },
    });
  });

  it("writes no mail to a customer without an address, nor to one of a host shop", async () => {
    const [unknown, hosted] = [await test.place(), await test.place()];
    await test.db.q.update(orders).set({ tillKind: "host" }).where(eq(orders.id, hosted));
    await test.pay(unknown, null);
    await test.pay(hosted);
    for (const id of [unknown, hosted]) {
      expect(await toldOf(id)).not.toContain("order.paid customer");
      expect(await toldOf(id)).toContain("order.paid maker");
    }
  });

  it("says nothing to a customer whose order ran out, unless a payment was on its way", async () => {
    const [silent, pending] = [await test.place(), await test.place()];
    const move = { to: "expired", at: 1, who: "till", what: "expired" } as const;
    await test.shop.orders.move({ ...move, orderId: silent });
    const slow = { pendingSince: 1, customerEmail: CUSTOMER };
    await test.shop.orders.move({ ...move, orderId: pending, with: slow });
    expect(await toldOf(silent)).not.toContain("order.expired customer");
    expect(await toldOf(pending)).toContain("order.expired customer");
  });

  it("knows the words of every mail of the table, to customers in each language", async () => {
    const id = await test.place();
    const order = (await test.shop.orders.byId(id))!;
    const shop = (await test.shop.shops.byId("quillfen"))!;
    const quote = JSON.parse(order.snapshot) as never;
    const ground = {
      shop,
      order,
      quote,
      orderUrl: "https://a.example/",
      makerUrl: "https://b.example/",
    };
    for (const locale of ["de-DE", "fr-FR", "es-ES"]) {
      for (const { type, mails } of Object.values(TELLINGS)) {
        if (!mails.some(({ to }) => to === "customer")) continue;
        const paid = { ...order, paidAt: 1, refundedMinor: 1, carriageMinor: 100 };
        const inWords = { ...ground, shop: { ...shop, locale }, order: paid };
        const words = orderMailWords(type, "customer", inWords);
        expect([words.locale, englishLeft(JSON.stringify(words))]).toEqual([locale, []]);
      }
    }
    for (const { type, mails } of Object.values(TELLINGS)) {
      expect(type).toMatch(/^[a-z_]+(\.[a-z_]+)*$/);
      for (const { to } of mails) {
        const words = orderMailWords(type, to, ground);
        expect(words.subject).toContain(order.reference);
        expect(words.link?.href).toBe(to === "customer" ? ground.orderUrl : ground.makerUrl);
      }
    }
  });
});
