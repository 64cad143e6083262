/** A choice of an earlier version in today's product. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { carryOver } from "#core/compose/carry-over.ts";
import { composeBlend } from "#core/compose/compose.ts";
import { type Choice, type Product, startingChoice } from "#core/compose/product.ts";
import { INGREDIENTS, PRODUCT } from "../../helpers/offer.ts";

const ingredientOf = (id: string) => INGREDIENTS.find((each) => each.id === id);
const [soft, dense] = PRODUCT.bases;
const own = startingChoice(soft!);

/** Today's product: the soft base with other parts. */
function today(change: Partial<typeof soft>, more: Partial<Product> = {}): Product {
  return { ...PRODUCT, bases: [{ ...soft!, ...change }, dense!], ...more };
}

function shareIn(choice: Choice, id: string): number | undefined {
  return [...choice.butters, ...choice.oils].find(({ ingredient }) => ingredient === id)?.share;
}

describe("a choice carried over", () => {
  it("stays as it is where all of it still fits", () => {
    expect(carryOver(PRODUCT, own)).toEqual({ choice: own, lost: [], isChanged: false });
  });

  it("stays as it is when the maker only lists the parts in another order", () => {
    const product = today({ butters: [...soft!.butters].reverse() });
    expect(carryOver(product, own)).toMatchObject({ lost: [], isChanged: false });
  });

  it("moves to the nearest end of a narrower bound, and the others make up for it by their room", () => {
    const butters = soft!.butters.map((each) =>
      each.ingredient === "cocoa-butter" ? { ...each, least: 1500, share: 1500 } : each,
    );
    const carried = carryOver(today({ butters }), own)!;
    expect(carried.isChanged).toBe(true);
    expect(carried.lost).toEqual([]);
    expect(shareIn(carried.choice, "cocoa-butter")).toBe(1500);
    // 5 % too much; room down: shea 22, cocoa none, first oil 13, second oil 5 points of 40.
    expect(shareIn(carried.choice, "shea-butter")).toBe(5700 - 275);
    expect(composeBlend(today({ butters }), carried.choice, ingredientOf)).toHaveProperty("blend");
  });

  it("names an oil that is no longer offered and puts the maker's own in its place", () => {
    const chosen = {
      ...own,
      oils: own.oils.map((each, at) =>
        at === 0 ? { ...each, ingredient: "grapeseed-oil" } : each,
      ),
    };
    const places = PRODUCT.places.map((place) => ({
      ...place,
      allowed: place.allowed.filter((id) => id !== "grapeseed-oil"),
    }));
    const carried = carryOver(today({}, { places }), chosen)!;
    expect(carried.lost).toEqual(["grapeseed-oil"]);
    expect(carried.choice).toEqual(own);
  });

  it("names a butter and an oil whose place is gone", () => {
    const product = today({
      butters: [soft!.butters[0]!],
      oils: [{ ...soft!.oils[0]!, greatest: 6000 }],
    });
    const carried = carryOver(product, own)!;
    expect(carried.lost).toEqual(["cocoa-butter", "jojoba-oil"]);
    expect(composeBlend(product, carried.choice, ingredientOf)).toHaveProperty("blend");
  });

  it("is none when its base is gone, or the bounds do not let the shares add up", () => {
    expect(carryOver({ ...PRODUCT, bases: [dense!] }, own)).toBeUndefined();
    const butters = soft!.butters.map((each) => ({ ...each, greatest: each.least }));
    expect(carryOver(today({ butters }), own)).toBeUndefined();
  });

  it("always composes, whatever the shares were", () => {
    const share = fc.integer({ min: 0, max: 10_000 });
    const shares = fc.tuple(share, share, share, share);
    fc.assert(
      fc.property(shares, ([shea, cocoa, first, second]) => {
        const choice: Choice = {
          base: own.base,
          butters: [
            { ingredient: "shea-butter", share: shea },
            { ingredient: "cocoa-butter", share: cocoa },
          ],
          oils: [
            { place: "first-oil", ingredient: "almond-oil-of-old", share: first },
            { place: "second-oil", ingredient: "jojoba-oil", share: second },
          ],
        };
        const carried = carryOver(PRODUCT, choice)!;
        expect(composeBlend(PRODUCT, carried.choice, ingredientOf)).toHaveProperty("blend");
        expect(carried.lost).toEqual(first > 0 ? ["almond-oil-of-old"] : []);
      }),
    );
  });
});
