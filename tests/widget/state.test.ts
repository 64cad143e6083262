import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { composeBlend } from "#core/compose/compose.ts";
import { WHOLE } from "#core/blend.ts";
import { sayReasons } from "#widget/sayings.ts";
import { readScene } from "#widget/scene.ts";
import { inEnglish } from "../helpers/language.ts";
import {
  type Act,
  type ComposerState,
  act,
  isMakersBase,
  openComposer,
  rowsOf,
} from "#widget/state.ts";
import { anOffer, PRODUCT } from "../helpers/offer.ts";

const offer = anOffer();
const opened = () => openComposer(offer);
const sharesOf = (state: ComposerState) => rowsOf(state).map(({ share }) => share);
const doAll = (state: ComposerState, ...acts: Act[]) => acts.reduce(act, state);
const COCOA = 1;

describe("choosing", () => {
  it("starts from the maker's first base, untouched, with one of the first jar", () => {
    const state = opened();
    expect(state.choice.base).toBe("soft-shea");
    expect(isMakersBase(state)).toBe(true);
    expect([state.jar, state.quantity]).toEqual(["small", 1]);
  });

  it("moves a share and lets the others make room, so that the whole stays whole", () => {
    const state = act(opened(), { kind: "move-share", row: COCOA, share: 1500 });
    expect(rowsOf(state)[COCOA]!.share).toBe(1500);
    expect(sharesOf(state).reduce((sum, share) => sum + share, 0)).toBe(WHOLE);
  });

  it("holds a share at the maker's bound when more is wanted", () => {
    const state = act(opened(), { kind: "move-share", row: COCOA, share: 9000 });
    expect(rowsOf(state)[COCOA]!.share).toBe(4500);
  });

  it("leaves a locked share and the additives where they are", () => {
    const dense = act(opened(), { kind: "choose-base", base: "mango-and-cocoa" });
    const locked = rowsOf(dense).findIndex(({ ingredient }) => ingredient === "shea-butter");
    expect(rowsOf(dense)[locked]!.locked).toBe(true);
    expect(act(dense, { kind: "move-share", row: locked, share: 2000 })).toBe(dense);
    const starch = rowsOf(dense).findIndex(({ ingredient }) => ingredient === "tapioca-starch");
    expect(act(dense, { kind: "move-share", row: starch, share: 0 })).toBe(dense);
    const moved = act(dense, { kind: "move-share", row: 0, share: 5500 });
    expect(rowsOf(moved)[locked]!.share).toBe(1000);
    expect(rowsOf(moved)[starch]!.share).toBe(400);
  });

  it("comes back to where it was when a share goes up and down again in one run", () => {
    const start = opened();
    const there = [1730, 2210, 4500, 900].map((share): Act => ({
      kind: "move-share",
      row: COCOA,
      share,
    }));
    const back = doAll(start, ...there, { kind: "move-share", row: COCOA, share: 1000 });
    expect(back.choice).toEqual(start.choice);
  });

  it("says a row is stuck when the others have no room left", () => {
    const tight = anOffer({
      bases: [
        {
          ...PRODUCT.bases[0]!,
          butters: PRODUCT.bases[0]!.butters.map((butter, at) =>
            at === COCOA ? butter : { ...butter, least: butter.share, greatest: butter.share },
          ),
          oils: PRODUCT.bases[0]!.oils.map((oil) => ({ ...oil, least: oil.share })),
        },
      ],
    });
    const state = act(openComposer(tight), { kind: "move-share", row: COCOA, share: 1100 });
    expect(state.stuckRow).toBe(COCOA);
    expect(act(state, { kind: "choose-jar", jar: "large" }).stuckRow).toBeUndefined();
  });

  it("swaps an oil the place allows, and no other", () => {
    const swapped = act(opened(), {
      kind: "swap-oil",
      place: "first-oil",
      ingredient: "grapeseed-oil",
    });
    expect(swapped.choice.oils[0]).toMatchObject({ ingredient: "grapeseed-oil", share: 1800 });
    const foreign: Act = { kind: "swap-oil", place: "second-oil", ingredient: "grapeseed-oil" };
    expect(act(swapped, foreign)).toBe(swapped);
  });

  it("takes a whole number of jars from one to the most, and no other", () => {
    const state = act(opened(), { kind: "set-quantity", quantity: 12 });
    expect(state.quantity).toBe(12);
    for (const quantity of [0, 13, 1.5, Number.NaN]) {
      expect(act(state, { kind: "set-quantity", quantity })).toBe(state);
    }
  });
});

describe("the way back", () => {
  it("undoes a whole run at once, and a swap by itself", () => {
    const swapped = act(opened(), {
      kind: "swap-oil",
      place: "first-oil",
      ingredient: "jojoba-oil",
    });
    const moved = doAll(
      swapped,
      { kind: "move-share", row: COCOA, share: 1100 },
      { kind: "move-share", row: COCOA, share: 1200 },
      { kind: "undo" },
    );
    expect(moved.choice).toEqual(swapped.choice);
    expect(act(moved, { kind: "undo" }).choice).toEqual(opened().choice);
  });

  it("starts a new run when the slider was let go", () => {
    const state = doAll(
      opened(),
      { kind: "move-share", row: COCOA, share: 1100 },
      { kind: "settle" },
      { kind: "move-share", row: COCOA, share: 1200 },
    );
    expect(state.past).toHaveLength(2);
  });

  it("goes back to the maker's base, and that can be undone too", () => {
    const moved = act(opened(), { kind: "move-share", row: 0, share: 4000 });
    const back = act(moved, { kind: "back-to-base" });
    expect(isMakersBase(back)).toBe(true);
    expect(act(back, { kind: "undo" }).choice).toEqual(moved.choice);
  });

  it("keeps what was begun in one base while the customer looks at another", () => {
    const moved = act(opened(), { kind: "move-share", row: 0, share: 4000 });
    const away = act(moved, { kind: "choose-base", base: "mango-and-cocoa" });
    expect(act(away, { kind: "choose-base", base: "soft-shea" }).choice).toEqual(moved.choice);
  });

  it("makes again what was undone, until another move is made", () => {
    const moved = doAll(
      opened(),
      { kind: "move-share", row: COCOA, share: 1500 },
      { kind: "swap-oil", place: "first-oil", ingredient: "grapeseed-oil" },
    );
    const back = doAll(moved, { kind: "undo" }, { kind: "undo" });
    expect(doAll(back, { kind: "redo" }, { kind: "redo" }).choice).toEqual(moved.choice);
    const other = act(back, { kind: "move-share", row: COCOA, share: 1200 });
    expect(act(other, { kind: "redo" })).toBe(other);
  });

  it("takes an offered blend as one move that can be undone", () => {
    const refused = act(opened(), { kind: "move-share", row: COCOA, share: 4500 });
    const taken = act(refused, { kind: "take-offer", choice: opened().choice });
    expect(taken.choice).toEqual(opened().choice);
    expect(act(taken, { kind: "undo" }).choice).toEqual(refused.choice);
  });

  it("remembers the last hundred moves and no more", () => {
    let state = opened();
    for (let move = 0; move < 250; move += 1) {
      const ingredient = move % 2 === 0 ? "grapeseed-oil" : "sunflower-oil";
      state = act(state, { kind: "swap-oil", place: "first-oil", ingredient });
    }
    expect(state.past).toHaveLength(100);
  });

  it("undoes nothing when nothing was done", () => {
    const state = opened();
    expect(act(state, { kind: "undo" })).toBe(state);
  });
});

describe("law: whatever a customer does", () => {
  const anAct: fc.Arbitrary<Act> = fc.oneof(
    fc.record({
      kind: fc.constant("move-share" as const),
      row: fc.integer({ min: -1, max: 8 }),
      share: fc.integer({ min: -500, max: 12_000 }),
    }),
    fc.record({
      kind: fc.constant("swap-oil" as const),
      place: fc.constantFrom("first-oil", "second-oil", "no-place"),
      ingredient: fc.constantFrom("sunflower-oil", "jojoba-oil", "grapeseed-oil", "cocoa-butter"),
    }),
    fc.record({
      kind: fc.constant("choose-base" as const),
      base: fc.constantFrom("soft-shea", "mango-and-cocoa", "no-base"),
    }),
    fc.constantFrom<Act>(
      { kind: "settle" },
      { kind: "undo" },
      { kind: "redo" },
      { kind: "back-to-base" },
    ),
  );

  it("the choice keeps to every bound and makes a whole blend", () => {
    fc.assert(
      fc.property(fc.array(anAct, { maxLength: 40 }), (acts) => {
        const { choice } = doAll(opened(), ...acts);
        const composed = composeBlend(offer.product, choice, (id) =>
          offer.ingredients.find((each) => each.id === id),
        );
        expect(composed).toHaveProperty("blend");
      }),
    );
  });

  it("undoing everything leads back to the first base", () => {
    fc.assert(
      fc.property(fc.array(anAct, { maxLength: 20 }), (acts) => {
        let state = doAll(opened(), ...acts);
        for (let left = state.past.length; left > 0; left -= 1)
          state = act(state, { kind: "undo" });
        expect(state.choice).toEqual(opened().choice);
      }),
    );
  });
});

describe("what the page shows", () => {
  it("lets the maker's bases through, with a price", () => {
    for (const { id } of offer.product.bases) {
      const scene = readScene(act(opened(), { kind: "choose-base", base: id }));
      expect(scene).toMatchObject({ verdict: "orderable", reasons: [] });
      expect(scene.price!.jarMinor).toBeGreaterThan(0);
    }
  });

  it("totals the jars", () => {
    const scene = readScene(act(opened(), { kind: "set-quantity", quantity: 3 }));
    expect(scene.price!.totalMinor).toBe(3 * scene.price!.jarMinor);
  });

  it("refuses a blend too hard for the window, in a sentence", () => {
    const scene = readScene(act(opened(), { kind: "move-share", row: COCOA, share: 4500 }));
    expect(scene.verdict).toBe("refused");
    expect(sayReasons(scene, inEnglish())[0]).toMatch(/too hard at 21 °C/);
  });

  it("cannot judge an oil without figures, and names it", () => {
    const scene = readScene(
      act(opened(), { kind: "swap-oil", place: "first-oil", ingredient: "village-oil" }),
    );
    expect(scene.verdict).toBe("cannot-judge");
    expect(sayReasons(scene, inEnglish())[0]).toContain("Village press oil");
    expect(scene.judgement!.solidFat).toEqual([]);
  });

  it("has no price where a cost is missing, and says whose", () => {
    const { tariffs } = offer;
    const { "jojoba-oil": _, ...rateNano } = tariffs["small"]!.rateNano;
    const dear = { ...offer, tariffs: { ...tariffs, small: { ...tariffs["small"]!, rateNano } } };
    const scene = readScene(openComposer(dear));
    expect(scene.verdict).toBe("cannot-judge");
    expect(scene.price).toBeUndefined();
    expect(sayReasons(scene, inEnglish())[0]).toContain("Jojoba oil");
  });
});
