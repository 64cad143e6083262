/**
 * A shop with its products' pages, for tests: forms sent as a browser sends them.
 */
import { expect } from "vitest";
import type { ProductDraft } from "#service/products/draft-shape.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

export const HERE = "/maker/products";
export type Fields = Record<string, string | readonly string[]>;

export interface ProductShop {
  readonly shop: TestShop;
  readonly cookie: string;
  send(path: string, fields?: Fields, headers?: Record<string, string>): Promise<Response>;
  /** A page that must be there. */
  page(path: string): Promise<string>;
  draft(id: string): Promise<{ document: ProductDraft; revision: number }>;
}

export async function openProductShop(): Promise<ProductShop> {
  const shop = await openTestShop();
  const cookie = await shop.signIn();
  return {
    shop,
    cookie,
    send(path, fields = {}, headers = {}) {
      const pairs = Object.entries(fields).flatMap(([name, value]) =>
        [value].flat().map((each) => [name, each]),
      );
      const type = { "content-type": "application/x-www-form-urlencoded", accept: "text/html" };
      const ours = { "sec-fetch-site": "same-origin", cookie, ...type, ...headers };
      const body = new URLSearchParams(pairs);
      return shop.request(`${HERE}${path}`, { method: "POST", headers: ours, body });
    },
    async page(path) {
      const headers = { cookie, accept: "text/html" };
      const answer = await shop.request(`${HERE}${path}`, { headers });
      const text = await answer.text();
      expect(answer.status, text.slice(0, 2000)).toBe(200);
      return text;
    },
    draft: async (id) => (await shop.shop.drafts.read("quillfen", id))!,
  };
}

/** The base "Soft shea" as the demo shop has it, as typed on its sheet. */
export const soft = (change: Fields = {}): Fields => ({
  name: "Soft shea",
  words: "Scoops easily.",
  butter: ["shea-butter", "cocoa-butter", "", ""],
  butterShare: ["60", "10", "", ""],
  butterLeast: ["45", "0", "", ""],
  butterGreatest: ["75", "30", "", ""],
  place: ["glide", "care"],
  oil: ["jojoba-oil", "sunflower-oil"],
  oilShare: ["15", "14,5"],
  oilLeast: ["5", "5"],
  oilGreatest: ["30", "30"],
  ...change,
});
