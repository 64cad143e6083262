/** What a kept text is, what a code brings to today's product, and what two blends are compared by. */
import { describe, expect, it } from "vitest";
import wishesEnglish from "#core/words/wishes.en.json";
import { type Product, startingChoice } from "#core/compose/product.ts";
import type { BlendOpened, ProductOffer } from "#core/wire.ts";
import { arrivalOf, sayTrouble } from "#widget/more/arrival.ts";
import { compareLines } from "#widget/more/compare-lines.ts";
import type { MoreGround } from "#widget/more/ground.ts";
import { readKept } from "#widget/more/kept-text.ts";
import type { MoreWords } from "#widget/more/words.ts";
import { readScene } from "#widget/scene.ts";
import { openComposer } from "#widget/state.ts";
import { noAnswer, refused } from "#widget/troubles.ts";
import * as english from "#widget/words/more.en.json";
import { inEnglish } from "../helpers/language.ts";
import { PRODUCT, anOffer } from "../helpers/offer.ts";

function groundOf(offer: ProductOffer): MoreGround {
  return {
    ...{ offer, readScene, service: "https://shop.example", doAct: () => undefined },
    language: inEnglish(),
    words: english as unknown as MoreWords,
    wishes: wishesEnglish,
  };
}

const CODE = "AQhldmVyeWRheQEBAOguwAcC3AsAqgv7eQx9eZ1mXlq0bQ-_Fu5HkA";

describe("a kept text", () => {
  it.each([
    ["a code", CODE, { kind: "code", code: CODE }],
    ["a code broken over lines", ` ${CODE.slice(0, 20)}\n ${CODE.slice(20)} `, { code: CODE }],
    ["a link", `https://shop.example/shop/everyday?a=1&blend=${CODE}#x`, { code: CODE }],
    [
      "an order's page",
      "https://shop.example/orders/0b9d2c4e-1/tok_en-2?paid=x",
      { kind: "order", order: "0b9d2c4e-1", token: "tok_en-2" },
    ],
    ["an order's number", "7KQ2MX", { kind: "reference" }],
    ["an order's number as it is said", "Order 7kq 2mx", { kind: "reference" }],
    ["nothing", "  ", { kind: "empty" }],
    ["a link without a code", "https://shop.example/shop/everyday", { kind: "unlike" }],
    ["a link whose code is cut", "https://shop.example/?blend=AQh", { kind: "unlike" }],
    ["anything else", "the soft one with shea", { kind: "unlike" }],
  ])("is read: %s", (_, text, kept) => {
    expect(readKept(text)).toMatchObject(kept);
  });
});

describe("a code's blend on today's page", () => {
  const own = startingChoice(PRODUCT.bases[0]!);
  const grape: BlendOpened = {
    product: { id: PRODUCT.id, name: PRODUCT.name },
    version: anOffer().version,
    choice: {
      ...own,
      oils: own.oils.map((oil, at) => (at === 0 ? { ...oil, ingredient: "grapeseed-oil" } : oil)),
    },
    jar: "large",
  };
  const arrive = (change: Partial<Product>, opened: Partial<BlendOpened> = {}) =>
    arrivalOf(groundOf(anOffer(change)), { ...grape, ...opened });

  it("is shown with its jar, and said to be judged anew", () => {
    const { choice, jar, sentence } = arrive({});
    expect({ choice, jar }).toEqual({ choice: grape.choice, jar: "large" });
    expect(sentence).toMatch(/judged and priced anew\.$/);
  });

  it("of an earlier version is said to be so, where it still fits", () => {
    const { choice, sentence } = arrive({}, { version: 2 });
    expect(choice).toEqual(grape.choice);
    expect(sentence).toMatch(/^The maker has changed this butter since\. The blend still fits/);
  });

  it("names an oil that is no longer offered, and shows the nearest", () => {
    const places = PRODUCT.places.map((place) => ({
      ...place,
      allowed: place.allowed.filter((id) => id !== "grapeseed-oil"),
    }));
    const { choice, sentence } = arrive({ places }, { version: 2 });
    expect(choice).toEqual(own);
    expect(sentence).toMatch(/^No longer offered here: grapeseed.oil\. Here is the nearest/);
  });

  it("whose shares no longer fit is shown as the nearest that does", () => {
    const bases = PRODUCT.bases.map((base) => ({
      ...base,
      butters: base.butters.map((butter) =>
        butter.ingredient === "cocoa-butter" ? { ...butter, greatest: 800, share: 800 } : butter,
      ),
    }));
    const { choice, sentence } = arrive({ bases }, { version: 2 });
    expect(choice!.butters[1]).toEqual({ ingredient: "cocoa-butter", share: 800 });
    expect(sentence).toContain("not all shares fit any more");
  });

  it("changes nothing when its base is gone, or it is another product's", () => {
    const gone = arrive({ bases: [PRODUCT.bases[1]!] });
    expect(gone).toEqual({ sentence: expect.stringContaining("is no longer made") });
    const other = arrive({}, { product: { id: "x", name: "Morning balm" } });
    expect(other).toEqual({ sentence: expect.stringContaining("another butter, Morning balm") });
  });

  it("says when its jar is gone, and leaves the jar alone", () => {
    const arrival = arrive({ jars: [PRODUCT.jars[0]!] });
    expect(arrival).not.toHaveProperty("jar");
    expect(arrival.sentence).toMatch(/jar size is no longer offered/);
  });

  it("that cannot be opened is told by what stands in the way", () => {
    const ground = groundOf(anOffer());
    const problem = (code: string) =>
      refused("link", 400, { type: "", title: "", status: 400, detail: "As it was said.", code });
    expect(sayTrouble(ground, problem("compose.code.altered"))).toMatch(/^This code is not whole/);
    expect(sayTrouble(ground, problem("compose.code.outdated"))).toMatch(/too old to be read/);
    expect(sayTrouble(ground, problem("compose.product.unknown"))).toMatch(/no longer for sale/);
    expect(sayTrouble(ground, problem("else.where"))).toMatch(
      /^As it was said\. Your blend is kept/,
    );
    expect(sayTrouble(ground, noAnswer("link", "offline"))).toMatch(/offline\. Your blend is kept/);
  });
});

describe("two blends side by side", () => {
  const offer = anOffer();
  const state = openComposer(offer);
  const [soft, dense] = offer.product.bases.map((base) =>
    readScene({ ...state, choice: startingChoice(base) }),
  );
  const lines = compareLines(groundOf(offer), soft!, dense!);
  const line = (what: RegExp) => lines.find((each) => what.test(each.what));

  it("have a line for every ingredient that is in either", () => {
    expect(line(/^Shea butter/)).toMatchObject({ now: "57%", other: "10%" });
    expect(line(/^Mango butter/)).toMatchObject({ now: "–", other: "40%" });
    expect(line(/^Sunflower oil/)).toMatchObject({ now: "18%", other: "–" });
  });

  it("are told by feel, warmth, rating, oil, families, price and verdict", () => {
    expect(line(/^Firmness at 21/)).toBeDefined();
    expect(line(/^Holds its body to/)!.now).toMatch(/about \d+.°C/);
    expect(line(/^Pore rating/)).toMatchObject({ now: "4", other: "4" });
    expect(line(/^Oil on the skin/)!.now).toMatch(/thin|between|thick/);
    expect(line(/^Allergen families/)).toMatchObject({ now: "none known", other: "tree nuts" });
    expect(line(/^A jar/)!.now).toMatch(/^£\d/);
    expect(line(/^Verdict/)!.now).toBe("Can be made");
  });

  it("say what is not known instead of leaving it out", () => {
    const oils = soft!.state.choice.oils.map((oil, at) =>
      at === 0 ? { ...oil, ingredient: "village-oil" } : oil,
    );
    const unknown = readScene({ ...state, choice: { ...soft!.state.choice, oils } });
    const told = compareLines(groundOf(offer), unknown, soft!);
    const firmness = told.find(({ what }) => what.startsWith("Firmness"));
    expect(firmness!.now).toBe("not known");
  });
});
