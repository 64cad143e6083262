/**
 * The most of an ingredient that a product may hold: the maker's own, what is usual, or what may stay on skin.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { WHOLE } from "#core/blend.ts";
import { type Desk, desksOf } from "#service/products/desk.ts";
import { boundFault, doseCapOf, doseFault } from "#service/products/doses.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

const TEA_TREE = "tea-tree-essential-oil";

let shop: TestShop;
let desk: Desk;
beforeAll(async () => {
  shop = await openTestShop();
  desk = await desksOf(shop.shop)((await shop.shop.shops.byId("quillfen"))!);
});
afterAll(() => shop.close());

/** The desk with an own greatest share for an oil that stands on its shelf. */
function withOwn(id: string, doseMostShare: number | null): Desk {
  const row = { ...desk.shelf.get("lavender-essential-oil")!, id, libraryId: id, doseMostShare };
  return { ...desk, shelf: new Map([...desk.shelf, [id, row]]) };
}

describe("an essential oil", () => {
  it("is capped by what is usual, where skin would bear more", () => {
    expect(doseCapOf(desk, "geranium-essential-oil").mostShare).toBe(100);
    expect(doseFault(desk, "geranium-essential-oil", 100)).toBe("");
    expect(doseFault(desk, "geranium-essential-oil", 101)).toMatch(
      /is at 1\.01.%; 1.% is the most/,
    );
  });

  it("whose limit nobody has on record asks for a figure of the maker's", () => {
    for (const say of [doseFault, boundFault]) {
      expect(say(desk, TEA_TREE, 10)).toMatch(/is not on record.+safety assessor.+on your shelf/);
      expect(say(withOwn(TEA_TREE, null), TEA_TREE, 10)).toMatch(/is not on record/);
      expect(say(withOwn(TEA_TREE, 10), TEA_TREE, 10)).toBe("");
      expect(say(desk, TEA_TREE, 0)).toBe("");
    }
  });

  it("may be held to less than is usual by the maker, never to more", () => {
    const lavender = "lavender-essential-oil";
    expect(doseCapOf(withOwn(lavender, 50), lavender).mostShare).toBe(50);
    expect(doseCapOf(withOwn(lavender, 500), lavender).mostShare).toBe(100);
  });
});

describe("what is no essential oil", () => {
  it("goes by the maker's own share, up or down", () => {
    for (const own of [50, 9000]) {
      expect(doseCapOf(withOwn("cocoa-butter", own), "cocoa-butter").mostShare).toBe(own);
    }
  });

  it("has no cap where nobody knows it", () => {
    expect(doseCapOf(desk, "unheard-of")).toEqual({ mostShare: WHOLE, because: "" });
  });
});
