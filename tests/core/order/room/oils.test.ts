import type { Product } from "#core/compose/product.ts";
import type { Rules } from "#core/judge/verdict.ts";
import { openRoom } from "#core/order/room/room.ts";
import { describe, expect, it } from "vitest";
import { GROUND, ROOM_PRODUCT, bound, verdictOf, withBase } from "./a-space.ts";

function oilsOf(product: Product, draws = 400) {
  const work = openRoom(product, GROUND, { draws });
  while (!work.step(5000));
  return work.result().bases[0]!.oils;
}

const oilIn = (product: Product, ingredient: string, draws?: number) =>
  oilsOf(product, draws).find((oil) => oil.ingredient === ingredient)!;

const withPlace = (allowed: string[], rules: Rules): Product => ({
  ...ROOM_PRODUCT,
  rules,
  places: [{ id: "light", name: "", allowed }, ROOM_PRODUCT.places[1]!],
});

describe("oils that can never be chosen", () => {
  it("calls every oil orderable where every oil is", () => {
    const oils = oilsOf(ROOM_PRODUCT);
    expect(oils).toHaveLength(5);
    for (const { state, room } of oils) {
      expect(state).toBe("orderable");
      expect(room!.share).toBeGreaterThan(0);
    }
  });

  it("proves an oil dead that the pore ceiling shuts out at every share", () => {
    const rules = { poreRatingMost: 4 };
    const product = withPlace(["sunflower-oil", "coconut-oil"], { poreRatingMost: 3 });
    const easy = { ...product, bases: withBase({ butters: withoutCocoa() }).bases };
    expect(oilIn(easy, "coconut-oil")).toMatchObject({
      state: "dead",
      because: "pore-rating-above",
    });
    expect(oilIn(easy, "sunflower-oil").state).toBe("orderable");
    expect(oilIn(withPlace(["coconut-oil"], rules), "coconut-oil").state).toBe("orderable");
  });

  it("finds an oil that passes only as a trace, and shows how", () => {
    const rules = { poreRatingMost: 3, poreTraceBelowShare: 12 };
    const oils = [
      { place: "light", ingredient: "sunflower-oil", share: 1500, ...bound(0, 3000) },
      { place: "rich", ingredient: "olive-oil", share: 1450, ...bound(500, 3000) },
    ];
    const product = {
      ...withPlace(["sunflower-oil", "coconut-oil"], rules),
      bases: withBase({ butters: withoutCocoa(), oils }).bases,
    };
    const oil = oilIn(product, "coconut-oil", 40);
    expect(oil.state).toBe("rare");
    const part = oil.example!.oils.find(({ place }) => place === "light")!;
    expect(part).toMatchObject({ ingredient: "coconut-oil" });
    expect(part.share).toBeGreaterThan(0);
    expect(part.share).toBeLessThan(12);
    expect(verdictOf(product, oil.example!).verdict).toBe("orderable");
  });

  it("proves an oil dead that makes every jar too soft", () => {
    // Without cocoa butter and with the least shea, nothing holds to 31 C, whatever the oil.
    const product = withBase(
      { butters: withoutCocoa(4000, 5000) },
      { softensAboveLeastCelsius: 33 },
    );
    for (const oil of oilsOf(product, 60)) {
      expect(oil).toMatchObject({ state: "dead", because: "softens-too-low" });
    }
  });

  it("says only that nothing was found where no proof is known", () => {
    const allowed = ["coconut-oil", "sunflower-oil"];
    const rules: Rules = { softensAboveLeastCelsius: 33 };
    const product = {
      ...withPlace(allowed, rules),
      bases: withBase({ butters: withoutCocoa(4000, 5000) }).bases,
    };
    expect(oilIn(product, "coconut-oil", 60).state).toBe("not-found");
  });

  it("proves an oil dead whose place is locked at nothing", () => {
    const oils = [
      { place: "light", ingredient: "sunflower-oil", share: 0, ...bound(0, 0) },
      { place: "rich", ingredient: "olive-oil", share: 2950, ...bound(500, 4000) },
    ];
    expect(oilIn(withBase({ oils }), "jojoba-oil", 60)).toMatchObject({
      state: "dead",
      because: "bounds",
    });
  });

  it("finds a rare oil that the sample missed", () => {
    // Only the firmest corner holds to this, and 12 draws do not meet it.
    const product = withBase({}, { softensAboveLeastCelsius: 30.35 });
    const oils = oilsOf(product, 12);
    expect(oils.some(({ state }) => state === "rare")).toBe(true);
    for (const { state, example } of oils) {
      if (state !== "rare") continue;
      expect(verdictOf(product, example!).verdict).toBe("orderable");
    }
  });
});

function withoutCocoa(least = 4000, greatest = 9000) {
  return [{ ingredient: "shea-butter", share: 7000, least, greatest }];
}
