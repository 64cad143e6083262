/**
 * The customer's pages: whole documents, strict headers, and nothing of a customer's or maker's words run as code.
 */
import { eq } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer } from "#core/wire.ts";
import { orders, shops } from "#data/schema.ts";
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
  const answer = await shop.request(path, { headers: { accept: "text/html" } });
  return { answer, text: await answer.text() };
};

describe("every page", () => {
  it.each([
    ["the shop", () => "/"],
    ["a product", () => "/shop/everyday"],
    ["an order", () => new URL(order.orderUrl).pathname],
    ["the practice till", () => new URL(order.payUrl!).pathname],
    ["a sign-in link", () => "/maker/enter/none"],
    ["an address that does not exist", () => "/nowhere"],
  ])("is a whole document with an icon and a language: %s", async (_, path) => {
    const { text } = await page(path());
    expect(text).toMatch(/^<!doctype html>\s*<html lang="en/);
    expect(text).toContain('href="/assets/icon.svg"');
    expect(text.match(/<h1/g)).toHaveLength(1);
  });

  it("lets nothing in from elsewhere and runs no inline script or style", async () => {
    const { answer, text } = await page("/shop/everyday");
    const policy = answer.headers.get("content-security-policy")!;
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|\*/);
    // A data block for search engines is no script: browsers do not run it.
    const scripts = text.replace(/<script type="application\/ld\+json">[^<]*<\/script>/, "");
    expect(scripts).not.toMatch(/<script(?![^>]* src=)|<style|style="|onclick/);
  });

  it("marks practice wherever money is spoken of", async () => {
    for (const path of ["/", "/shop/everyday", order.orderUrl, order.payUrl!]) {
      const { text } = await page(new URL(path, "http://shop.test").pathname);
      expect(text).toMatch(/Practice (shop|till)\./);
    }
  });
});

describe("the product page without JavaScript", () => {
  it("still shows each base, what is in it, and its price", async () => {
    const { text } = await page("/shop/everyday");
    for (const words of ["Soft shea", "Mild mango", "Shea butter, 60%", "£11.50", "per 100 g"]) {
      expect(text).toContain(words);
    }
  });
});

describe("hostile words", () => {
  it("are shown as words, in names of the shop and of what was ordered", async () => {
    const hostile = `"><script>alert(1)</script>{{this}}`;
    await shop.db.q.update(shops).set({ name: hostile });
    const [row] = await shop.db.q.select().from(orders);
    const snapshot = { ...JSON.parse(row!.snapshot), base: { id: "x", name: hostile } };
    await shop.db.q
      .update(orders)
      .set({ snapshot: JSON.stringify(snapshot) })
      .where(eq(orders.id, row!.id));
    for (const path of ["/", new URL(order.orderUrl).pathname]) {
      const { text } = await page(path);
      expect(text).not.toContain("<script>alert");
      expect(text).toContain("&lt;script&gt;alert(1)");
    }
  });
});
