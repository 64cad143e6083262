/**
 * What is asked of the till when an order is placed, and what is refused before it.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Problem } from "#core/wire.ts";
import { orders, productVersions } from "#data/schema.ts";
import { type PaidShop, WAYS, openPaidShop } from "../../helpers/paid-shop.ts";

let shop: PaidShop;
afterEach(() => shop.end());

describe("an order with carriage", () => {
  beforeEach(async () => {
    shop = await openPaidShop(WAYS);
  });

  it("asks for an address and offers the ways that were quoted", async () => {
    const { quote } = await shop.quote();
    expect(quote.carriage?.ways.map(({ name, minor }) => [name, minor])).toEqual([
      ["Post", 395],
      ["Courier", 795],
    ]);
    await shop.place();
    expect(shop.stripe.seen.at(-1)!.form).toMatchObject({
      shipping_address_collection: { allowed_countries: ["GB", "IE"] },
      shipping_options: [
        { shipping_rate_data: { display_name: "Post", fixed_amount: { amount: "395" } } },
        { shipping_rate_data: { display_name: "Courier", fixed_amount: { amount: "795" } } },
      ],
      automatic_tax: { enabled: "false" },
      adaptive_pricing: { enabled: "false" },
      allowed_payment_method_types: ["card"],
    });
  });

  it("is paid with the way that was chosen, and knows where it goes", async () => {
    const { session } = await shop.place();
    shop.stripe.markPaid(session, "wren@customer.example", { way: 1 });
    await shop.hear(shop.happen("checkout.session.completed", shop.sessionOf(session)));
    const { totalMinor, ...order } = await shop.order();
    expect(order).toMatchObject({
      state: "paid",
      carriageMinor: 795,
      carriageName: "Courier",
      capturedMinor: totalMinor + 795,
      customerEmail: "wren@customer.example",
    });
    expect(JSON.parse(order.deliverTo!)).toEqual({
      ...{ name: "Wren Fenner", lines: ["7 Fen Lane"], city: "Ely" },
      ...{ region: "", postcode: "CB7 4AA", country: "GB" },
    });
  });

  it.each([
    ["at another price", { amount_total: 1 }],
    ["by a way nobody offered", { shipping_rate: { display_name: "Pigeon" } }],
  ])("and paid %s is held", async (_, cost) => {
    const { session } = await shop.place();
    shop.stripe.markPaid(session);
    const { shipping_cost: was } = shop.sessionOf(session) as { shipping_cost?: object };
    shop.stripe.patch(session, { shipping_cost: { ...was, ...cost } });
    await shop.hear(shop.happen("checkout.session.completed", shop.sessionOf(session)));
    expect(await shop.order()).toMatchObject({ state: "held" });
  });

  it("keeps what was quoted when the maker changes carriage meanwhile", async () => {
    const { token } = await shop.quote();
    shop.stripe.failNext("drop-after", "drop-after", "drop-after");
    expect((await shop.post("/v1/orders", { quote: token })).status).toBe(503);
    const [row] = [await shop.shop.shops.first()];
    const dearer = {
      ...(JSON.parse(row!.particulars) as object),
      carriage: [{ ...WAYS.carriage![0], minor: 999 }],
    };
    await shop.shop.shopSettings.save(row!.id, row!.revision, {
      ...row!,
      particulars: JSON.stringify(dearer),
    });
    expect((await shop.post("/v1/orders", { quote: token })).status).toBe(200);
    expect(shop.stripe.sessions.size).toBe(1);
  });
});

describe("opening the till", () => {
  beforeEach(async () => {
    shop = await openPaidShop();
  });

  it("asks for no address where nothing is sent", async () => {
    await shop.place();
    const { form } = shop.stripe.seen.at(-1)!;
    expect(Object.keys(form).filter((name) => name.startsWith("shipping"))).toEqual([]);
  });

  it("uses another key only after looking for a session under the one whose failure is kept", async () => {
    const { token } = await shop.quote();
    shop.stripe.failNext("500-kept");
    expect((await shop.post("/v1/orders", { quote: token })).status).toBe(503);
    const before = (await shop.order()).tillKey;
    expect((await shop.post("/v1/orders", { quote: token })).status).toBe(200);
    const asked = shop.stripe.seen
      .slice(1)
      .map(({ method, path }) => `${method} ${path.split("?")[0]}`);
    expect(asked).toEqual([
      "POST /v1/checkout/sessions",
      "GET /v1/checkout/sessions",
      "POST /v1/checkout/sessions",
    ]);
    expect(before).toMatch(/-1$/);
    expect((await shop.order()).tillKey).toBe(before.replace(/1$/, "2"));
    expect(shop.stripe.sessions.size).toBe(1);
  });

  it("takes one session for two buttons pressed at once, also of two tabs", async () => {
    const { token } = await shop.quote();
    const answers = await Promise.all(
      [1, 2, 3].map(() => shop.post("/v1/orders", { quote: token })),
    );
    const urls = await Promise.all(
      answers.map(async (each) => ((await each.json()) as { payUrl: string }).payUrl),
    );
    expect(new Set(urls).size).toBe(1);
    expect(shop.stripe.sessions.size).toBe(1);
  });

  it("leaves no order behind when the price is below what a payment can be", async () => {
    const [version] = await shop.db.q.select().from(productVersions);
    const policy = JSON.parse(version!.pricePolicy) as Record<string, unknown>;
    const cheap = {
      ...policy,
      ...{ labourPerJarMinor: 0, labourPerBatchMinor: 0, labelMinor: 0, lossShare: 0, taxShare: 0 },
      ...{ profit: { kind: "markup", share: 0 }, roundUpToMinor: 1, overheadPerJarMinor: 0 },
      jarMinor: Object.fromEntries(Object.keys(policy["jarMinor"] as object).map((id) => [id, 0])),
    };
    delete (cheap as { leastMinor?: unknown }).leastMinor;
    await shop.db.q.update(productVersions).set({ pricePolicy: JSON.stringify(cheap) });
    await shop.db.q.run("update ingredients set pack_minor = 1 where pack_minor is not null");
    const { token, quote } = await shop.quote({ quantity: 1 });
    expect(quote.totalMinor).toBeLessThan(30);
    const answer = await shop.post("/v1/orders", { quote: token });
    expect(answer.status).toBe(422);
    const problem = (await answer.json()) as Problem;
    expect(problem.code).toBe("payment.charge.invalid");
    expect(problem.detail).toContain("the least charge in GBP is 30 minor units");
    expect(await shop.db.q.select().from(orders)).toEqual([]);
    expect(shop.stripe.seen).toEqual([]);
  });
});
