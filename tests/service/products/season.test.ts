/**
 * The season of a parcel, and the offer that follows it.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { ProductOffer, QuoteAnswer } from "#core/wire.ts";
import { productVersions, shops } from "#data/schema.ts";
import { DEMO_SHOP } from "#data/seeds/demo.ts";
import { rulesAt, shipDayAt } from "#service/products/season.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

const months = (winter: number, summer: number) =>
  Array.from({ length: 12 }, (_, at) => (at >= 5 && at <= 7 ? summer : winter));
const ZONES = [
  { id: "home", name: "Home", monthsCelsius: months(12, 26) },
  { id: "south", name: "South", monthsCelsius: months(16, 34) },
];
const SHOP = { timeZone: "Europe/London", zones: ZONES };
const PRODUCT = { rules: { softensAboveLeastCelsius: 26 }, parcelMarginCelsius: 2 };

describe("rules of a season", () => {
  it("takes the warmest zone, or the one that is named", () => {
    expect(rulesAt(PRODUCT, SHOP, "2026-07-01").softensAboveLeastCelsius).toBe(36);
    expect(rulesAt(PRODUCT, SHOP, "2026-07-01", "home").softensAboveLeastCelsius).toBe(28);
  });

  it("never goes below the product's own limit, and leaves its other rules alone", () => {
    const product = { ...PRODUCT, rules: { ...PRODUCT.rules, poreRatingMost: 2 } };
    expect(rulesAt(product, SHOP, "2026-01-31")).toEqual(product.rules);
    expect(rulesAt(product, SHOP, "2026-06-01").poreRatingMost).toBe(2);
  });

  it("is no season without a margin or without zones", () => {
    expect(rulesAt({ rules: {} }, SHOP, "2026-07-01")).toEqual({});
    expect(rulesAt(PRODUCT, { timeZone: "UTC" }, "2026-07-01")).toEqual(PRODUCT.rules);
    expect(rulesAt({ rules: {}, parcelMarginCelsius: 0 }, SHOP, "2026-07-01", "home")).toEqual({
      softensAboveLeastCelsius: 26,
    });
  });

  it("refuses a zone that the shop does not send to", () => {
    expect(() => rulesAt(PRODUCT, SHOP, "2026-07-01", "moon")).toThrow(/moon/);
  });

  it("reckons the day a parcel leaves at the bench, over the ends of months and years", () => {
    const at = (iso: string) => Date.parse(iso) / 1000;
    const day = (timeZone: string, leadDays: number, iso: string) =>
      shipDayAt({ timeZone, leadDays }, at(iso));
    expect(day("Europe/London", 0, "2026-06-30T22:59:59Z")).toBe("2026-06-30");
    expect(day("Europe/London", 0, "2026-06-30T23:00:00Z")).toBe("2026-07-01");
    expect(day("Pacific/Kiritimati", 3, "2026-12-29T11:00:00Z")).toBe("2027-01-02");
    expect(day("America/Los_Angeles", 1, "2028-02-29T07:00:00Z")).toBe("2028-02-29");
  });
});

describe("an offer in its season", () => {
  let shop: TestShop;
  beforeEach(async () => {
    shop = await openTestShop();
    const { q } = shop.db;
    const [row] = await q
      .select()
      .from(productVersions)
      .where(eq(productVersions.productId, "everyday"));
    const product = { ...JSON.parse(row!.product), parcelMarginCelsius: 2 };
    const of = eq(productVersions.productId, "everyday");
    await q
      .update(productVersions)
      .set({ product: JSON.stringify(product) })
      .where(of);
  });
  afterEach(() => shop.close());

  async function sendTo(zones: typeof ZONES, revision: number): Promise<void> {
    const particulars = JSON.stringify({ ...DEMO_SHOP.particulars, leadDays: 3, zones });
    await shop.db.q.update(shops).set({ particulars, revision });
    shop.pass(1);
  }
  const everyMonth = (home: number, south: number) =>
    ZONES.map((zone, at) => ({
      ...zone,
      monthsCelsius: months(1, 1).map(() => (at ? south : home)),
    }));
  const offer = async (zone = "") =>
    (await (await shop.request(`/v1/products/everyday${zone}`)).json()) as ProductOffer;

  it("shows the effective rule and what it comes from, and follows the shop's settings", async () => {
    expect(await offer()).not.toHaveProperty("parcel");
    await sendTo(everyMonth(20, 27), 2);
    expect(await offer()).toMatchObject({
      product: { rules: { softensAboveLeastCelsius: 29 } },
      parcel: { zone: { id: "south" }, celsius: 27, leastCelsius: 29 },
    });
    expect((await offer("?zone=home")).product.rules.softensAboveLeastCelsius).toBe(26);
    expect((await shop.request("/v1/products/everyday?zone=moon")).status).toBe(422);
    await sendTo(everyMonth(20, 20), 3);
    expect((await offer()).product.rules.softensAboveLeastCelsius).toBe(26);
  });

  it("refuses in the heat what it sells to a cooler zone", async () => {
    await sendTo(everyMonth(20, 40), 2);
    const hot = await shop.post("/v1/quotes", aQuoteRequest());
    expect(hot.status).toBe(422);
    expect(await hot.text()).toContain("judge.softens-above.too-low");
    expect((await shop.post("/v1/quotes", aQuoteRequest({ zone: "home" }))).status).toBe(201);
    expect((await shop.post("/v1/quotes", aQuoteRequest({ zone: "moon" }))).status).toBe(422);
  });

  it("judges an order by the season of its quote, whatever came after", async () => {
    await sendTo(everyMonth(20, 24.5), 2);
    const answer = await shop.post("/v1/quotes", aQuoteRequest());
    const { quote, token } = (await answer.json()) as QuoteAnswer;
    expect(quote.parcel).toMatchObject({ zone: { id: "south" }, leastCelsius: 26.5 });
    await sendTo(everyMonth(20, 45), 3);
    expect((await shop.post("/v1/quotes", aQuoteRequest())).status).toBe(422);
    expect((await shop.post("/v1/orders", { quote: token })).status).toBe(201);
  });
});
