/**
 * Ordering without a script: form, quote page, order; every refusal a sentence on a page, and nothing ordered twice.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { orders, products, productVersions, shops } from "#data/schema.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeEach(async () => {
  shop = await openTestShop();
});
afterEach(() => shop.close());

const HTML = { accept: "text/html" };
const look = async (path: string) => {
  const answer = await shop.request(path, { headers: HTML });
  return { answer, text: await answer.text() };
};
const send = async (path: string, fields: Record<string, string> = {}) => {
  const body = new URLSearchParams(fields);
  const answer = await shop.request(path, { method: "POST", headers: HTML, body });
  return { answer, text: await answer.text(), location: answer.headers.get("location") };
};

const aForm = (change: Record<string, string> = {}) => ({
  ...{ base: "soft-shea", jar: "jar-120", quantity: "2" },
  ...change,
});
const askQuote = (change: Record<string, string> = {}, product = "everyday") =>
  send(`/shop/${product}/quote`, aForm(change));
const countOrders = async () => (await shop.db.q.select().from(orders)).length;

/** Change what the published version of the product says. */
async function changeProduct(id: string, change: (product: Record<string, unknown>) => object) {
  const [row] = await shop.db.q
    .select()
    .from(productVersions)
    .where(eq(productVersions.productId, id));
  const product = JSON.stringify(change(JSON.parse(row!.product)));
  await shop.db.q.update(productVersions).set({ product }).where(eq(productVersions.productId, id));
}

describe("the form on the shop page", () => {
  it("offers each base with its price, the jars and a number", async () => {
    const { text } = await look("/shop/everyday");
    expect(text).toContain('action="/shop/everyday/quote"');
    expect(text).toMatch(/value="soft-shea" required checked/);
    for (const words of ["£11.50", "per 100 g", 'value="jar-60"', 'max="24"', "14 days"]) {
      expect(text).toContain(words);
    }
  });

  it("asks where the parcel goes only where that decides what can be ordered", async () => {
    expect((await look("/shop/featherlight")).text).not.toContain('name="zone"');
    await changeProduct("everyday", (product) => ({ ...product, parcelMarginCelsius: 1 }));
    const { text } = await look("/shop/everyday");
    expect(text).toMatch(/<select id="plain-zone" name="zone"><option value="near">/);
  });
});

describe("from the form to the till", () => {
  it("shows all there is to know, orders, and opens the order's page with the way to pay", async () => {
    const { answer, location } = await askQuote();
    expect(answer.status).toBe(303);
    const review = await look(location!);
    expect(review.answer.headers.get("cache-control")).toBe("no-store");
    for (const words of [
      "£23.00",
      "Butyrospermum Parkii",
      "If one of these troubles you",
      "14 days",
    ]) {
      expect(review.text).toContain(words);
    }
    expect(await countOrders()).toBe(0);
    const ordered = await send(`${location}/order`);
    expect(ordered.answer.status).toBe(303);
    const order = await look(new URL(ordered.location!).pathname);
    expect(order.text).toMatch(/<a class="act" href="http:\/\/shop.test\/till\//);
    expect(order.text).toContain("14 days");
  });

  it("names fragrance allergens with the most the jar may hold of each", async () => {
    const { location } = await askQuote({ base: "dusk" }, "evening");
    const { text } = await look(location!);
    expect(text).toContain('<th scope="row">Linalool</th><td class="figure">0.14\u00a0%</td>'); // 0.3 % of 45 %, two digits
    expect(text).not.toContain("Coumarin"); // 0.0003 %
    expect(text).toContain("Lavandula Angustifolia Oil, Lavandula Oil/Extract, Linalyl Acetate");
    expect(text).toContain("not for children under three");
  });

  it("orders once however often the button is pressed, and says so", async () => {
    const { location } = await askQuote();
    const [one, two] = await Promise.all([send(`${location}/order`), send(`${location}/order`)]);
    expect(one.location).toBe(two.location);
    expect(await countOrders()).toBe(1);
    const again = await look(location!);
    expect(again.text).toContain("Nothing was ordered twice.");
    expect(again.text).not.toContain("Order, and go on to payment");
  });
});

describe("what cannot be ordered", () => {
  it.each([
    ["no base", { base: "" }, "choose one of the bases"],
    ["a base that is not there", { base: "none" }, "choose one of the bases"],
    ["a jar that is not there", { jar: "bucket" }, "There is no jar size bucket"],
    ["no number", { quantity: "" }, "whole number from 1 to 24"],
    ["half a jar", { quantity: "1.5" }, "whole number from 1 to 24"],
    ["too many", { quantity: "25" }, "whole number from 1 to 24"],
    ["a place no parcel goes to", { zone: "moon" }, "No parcels go to that place."],
  ])("%s: the page again, with a sentence and what was chosen", async (_, change, words) => {
    const { answer, text } = await askQuote({ ...change });
    expect(answer.status).toBe(422);
    expect(text).toContain(words);
    expect(text).toContain("Nothing was ordered.");
    if (!("jar" in change)) expect(text).toMatch(/value="jar-120" selected/);
    expect(await countOrders()).toBe(0);
  });

  it("a form that is none: a page, not a failure", async () => {
    const answer = await shop.request("/shop/everyday/quote", {
      method: "POST",
      headers: { ...HTML, "content-type": "multipart/form-data; boundary=x" },
      body: "nothing of the kind",
    });
    expect(answer.status).toBe(400);
    expect(await answer.text()).toContain("send it once more");
  });

  it("a product nobody knows, and one that was taken down meanwhile", async () => {
    expect((await look("/shop/unknown")).answer.status).toBe(404);
    expect((await askQuote({}, "unknown")).answer.status).toBe(404);
    const { location } = await askQuote();
    await shop.db.q
      .update(products)
      .set({ publishedVersion: null })
      .where(eq(products.id, "everyday"));
    shop.pass(2);
    for (const { answer, text } of [await look(location!), await send(`${location}/order`)]) {
      expect(answer.status).toBe(404);
      expect(text).toContain("for sale here");
    }
    expect(await countOrders()).toBe(0);
  });

  it("a price that is over: the sentence, the jar kept, the way to a new price", async () => {
    const { location } = await askQuote();
    shop.pass(3601);
    const { answer, text } = await send(`${location}/order`);
    expect(answer.status).toBe(410);
    expect(text).toContain("This price is over.");
    expect(text).toMatch(/<a class="act" href="\/shop\/everyday">Ask for a new price/);
    expect(text).not.toContain("Order, and go on to payment");
  });

  it("an address that nothing was quoted at", async () => {
    const { location } = await askQuote();
    const other = location!.replace("everyday", "featherlight");
    expect((await look(other)).answer.status).toBe(404);
    expect((await look("/shop/everyday/quote/none")).answer.status).toBe(404);
  });

  it("a base that does not pass now: said beside it, and not to be chosen", async () => {
    await changeProduct("everyday", (product) => ({
      ...product,
      rules: { firmness: ["hard"], strictness: "central" },
    }));
    const { text } = await look("/shop/everyday");
    expect(text).toMatch(/value="soft-shea" required disabled/);
    expect(text).toContain("It cannot be ordered just now. It may not set: too soft");
    expect(text).toMatch(/<button class="act" disabled>/);
    const { answer } = await askQuote();
    expect(answer.status).toBe(422);
  });
});

describe("an oil that the maker no longer offers", () => {
  const withoutJojoba = (product: Record<string, unknown>) => ({
    ...product,
    places: (product["places"] as { allowed: string[] }[]).map((place) => ({
      ...place,
      allowed: place.allowed.filter((id) => id !== "jojoba-oil"),
    })),
  });
  const publishWithout = async () => {
    const [row] = await shop.db.q
      .select()
      .from(productVersions)
      .where(eq(productVersions.productId, "everyday"));
    const product = JSON.stringify(withoutJojoba(JSON.parse(row!.product)));
    await shop.db.q.insert(productVersions).values({ ...row!, product, version: row!.version + 1 });
    await shop.db.q
      .update(products)
      .set({ publishedVersion: row!.version + 1 })
      .where(eq(products.id, "everyday"));
    shop.pass(2);
  };

  it("is refused by its name, and the base that holds it is not sold", async () => {
    await publishWithout();
    const answer = await shop.post("/v1/quotes", aQuoteRequest());
    expect(answer.status).toBe(422);
    expect(await answer.json()).toMatchObject({
      findings: [{ code: "compose.oil.not-allowed", subject: "jojoba-oil", mend: "customer" }],
    });
    const { text } = await look("/shop/everyday");
    expect(text).toContain("Jojoba oil is not one of the oils offered here.");
    expect(text).toMatch(/value="soft-shea" required disabled/);
  });

  it("is still made for whoever holds a price from before", async () => {
    const { location } = await askQuote();
    await publishWithout();
    expect((await send(`${location}/order`)).answer.status).toBe(303);
  });
});

describe("the product for search engines", () => {
  const dataOf = (text: string) =>
    JSON.parse(/<script type="application\/ld\+json">(.+?)<\/script>/.exec(text)![1]!);

  it("has the least price of a jar of the maker's own bases, and is not for sale while payment is practised", async () => {
    const { quote } = await shop.quote({ jar: "jar-60" });
    const data = dataOf((await look("/shop/everyday")).text);
    expect(data).toMatchObject({
      ...{ "@type": "Product", name: "Everyday butter", url: "http://shop.test/shop/everyday" },
      offers: {
        ...{ price: (quote.jarMinor / 100).toFixed(2), priceCurrency: "GBP" },
        availability: "https://schema.org/OutOfStock",
        priceSpecification: { valueAddedTaxIncluded: true },
      },
    });
  });

  it("cannot be broken out of", async () => {
    const hostile = `</script><script>alert(1)</script><!--`;
    await shop.db.q.update(shops).set({ name: hostile });
    await changeProduct("everyday", (product) => ({ ...product, words: hostile }));
    const { text } = await look("/shop/everyday");
    expect(text).not.toContain("<script>alert");
    expect(dataOf(text).description).toBe(hostile);
  });
});
