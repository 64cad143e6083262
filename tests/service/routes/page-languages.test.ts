/**
 * The customer's pages in the languages of shops: their words, their numbers, their names of ingredients.
 */
import { sql } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer, ProductOffer } from "#core/wire.ts";
import { shops } from "#data/schema.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let order: OrderAnswer;
beforeAll(async () => {
  shop = await openTestShop();
  const { token } = await shop.quote();
  order = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
});
afterAll(() => shop.close());

const page = async (path: string) => {
  const { pathname } = new URL(path, "http://shop.test");
  return (await shop.request(pathname, { headers: { accept: "text/html" } })).text();
};

/** As the maker would save it: offers are made anew. */
const speak = (locale: string) => {
  shop.pass(2);
  return shop.db.q.update(shops).set({ locale, revision: sql`${shops.revision} + 1` });
};

describe.each([
  {
    locale: "fr-FR",
    home: "Beurre corporel fouetté",
    butter: "Beurre de karité",
    state: "En attente de paiement",
    till: "Faire semblant de payer",
  },
  {
    locale: "de-DE",
    home: "Geschlagene Körperbutter",
    butter: "Sheabutter",
    state: "Wartet auf Zahlung",
    till: "So tun, als würden Sie zahlen",
  },
  {
    locale: "es-ES",
    home: "Manteca corporal batida",
    butter: "Manteca de karité",
    state: "A la espera del pago",
    till: "Hacer como que pagas",
  },
])("in a shop of $locale", ({ locale, home, butter, state, till }) => {
  beforeAll(async () => {
    await speak(locale);
  });

  it("the shop, a product, an order and the practice till speak its language", async () => {
    const share = new Intl.NumberFormat(locale, { style: "percent" }).format(0.6);
    const said: [string, string[]][] = [
      ["/", [home]],
      ["/shop/everyday", [`${butter}, ${share}`]],
      [order.orderUrl, [state, butter, share]],
      [order.payUrl!, [till]],
    ];
    for (const [path, words] of said) {
      const text = await page(path);
      expect(text).toContain(`<html lang="${locale}">`);
      for (const each of words) expect(text).toContain(each);
    }
  });
});

describe("the offer", () => {
  const nameOf = async (query: string) => {
    const answer = await shop.request(`/v1/products/everyday${query}`);
    const { ingredients } = (await answer.json()) as ProductOffer;
    return ingredients.find(({ id }) => id === "shea-butter")?.name;
  };

  it("names ingredients in the language of the shop, or in the one that is asked for", async () => {
    await speak("es-ES");
    expect(await nameOf("")).toBe("Manteca de karité");
    expect(await nameOf("?language=de-CH")).toBe("Sheabutter");
    expect(await nameOf("?language=it")).toBe("Shea butter");
    expect(await nameOf("?language=%25%25")).toBe("Shea butter");
  });
});

it("a shop whose language has no words is told in English, and says that it is", async () => {
  await speak("it-IT");
  expect(await page("/")).toContain('<html lang="en">');
});
