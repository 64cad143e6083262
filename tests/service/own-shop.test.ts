/**
 * A new shop as it is named: what is found from what was said, what is told, and what is never guessed.
 */
import { describe, expect, it } from "vitest";
import { type OwnShopWords, readOwnShop, sayOwnShop, shopIdOf } from "#service/own-shop.ts";

const read = (words: OwnShopWords) => readOwnShop(words, "Europe/London");
const shopOf = (words: OwnShopWords) => {
  const found = read(words);
  if ("faults" in found) throw new Error(JSON.stringify(found.faults));
  return found.shop;
};
const faultsOf = (words: OwnShopWords) => {
  const found = read(words);
  return "faults" in found ? found.faults.map(({ field }) => field) : [];
};

const NAMED = { name: "Thistle & Wick", currency: "EUR" };

describe("a shop of one's own", () => {
  it("needs a name and a currency, and finds the rest", () => {
    expect(shopOf({ name: "  Thistle   & Wick ", currency: "gbp" })).toEqual({
      ...{ id: "thistle-wick", name: "Thistle & Wick", currency: "GBP", currencyExponent: 2 },
      locale: "en-GB",
      particulars: {
        ...{ maker: "Thistle & Wick", country: "GB", timeZone: "Europe/London" },
        scaleStepMg: 1000,
      },
    });
  });

  it("knows currencies without a minor unit and with three decimals", () => {
    expect(shopOf({ ...NAMED, currency: "JPY" }).currencyExponent).toBe(0);
    expect(shopOf({ ...NAMED, currency: "KWD" }).currencyExponent).toBe(3);
  });

  it.each([
    [{ locale: "de-AT" }, "de-AT", "AT"],
    [{ locale: "fr" }, "fr", "FR"],
    [{ country: "ie" }, "en-IE", "IE"],
    [{ locale: "pt-br", country: "PT" }, "pt-BR", "PT"],
  ])("takes language and country from each other: %j", (words, locale, country) => {
    const shop = shopOf({ ...NAMED, ...words });
    expect([shop.locale, shop.particulars.country]).toEqual([locale, country]);
  });

  it("never guesses money", () => {
    expect(faultsOf({ name: "Thistle" })).toEqual(["currency"]);
    expect(faultsOf({ ...NAMED, currency: "XXX" })).toEqual(["currency"]);
  });

  it("tells every fault at once, in sentences", () => {
    const words = { name: " \u202e ", currency: "", locale: "nowhere at all", country: "ZZ" };
    const found = read({ ...words, timeZone: "Mars/Base" });
    if (!("faults" in found)) throw new Error("it was read");
    expect(found.faults.map(({ field }) => field)).toEqual([
      ...["name", "currency", "locale", "country", "timeZone"],
    ]);
    for (const { sentence } of found.faults) expect(sentence).toMatch(/such as|give/);
  });

  it("has an id for a name of any script", () => {
    expect([shopIdOf("Žofie's Balm"), shopIdOf("花の店"), shopIdOf("🌿")]).toEqual([
      ...["zofie-s-balm", "shop", "shop"],
    ]);
    expect(shopIdOf("a".repeat(90)).length).toBeLessThanOrEqual(40);
  });

  it("is said in one line", () => {
    expect(sayOwnShop(shopOf({ ...NAMED, locale: "de-AT" }))).toBe(
      "EUR, Austria, Europe/London, figures and dates as in de-AT",
    );
  });
});
