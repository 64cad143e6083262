/**
 * The nearest orderable blend: what it keeps, what it swaps, what it says when there is none.
 */
import type { Choice, Product } from "#core/compose/product.ts";
import { startingChoice } from "#core/compose/product.ts";
import { type NearestChoice, nearestOrderable } from "#core/order/nearest/nearest.ts";
import { sayChanges, sayConflict } from "#core/order/nearest-words.ts";
import { ingredientById } from "#data/library.ts";
import { DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { describe, expect, it } from "vitest";
import { demoProduct, dice, drawnChoice } from "./choices.ts";

const ground = { ingredientOf: ingredientById };
const EVERYDAY = DEMO_PRODUCTS[0]!.product;
const nameOf = (id: string) => ingredientById(id)?.name ?? id;

const choiceOf = (shea: number, cocoa: number, glide: number, care: number): Choice => ({
  base: "soft-shea",
  butters: [
    { ingredient: "shea-butter", share: shea },
    { ingredient: "cocoa-butter", share: cocoa },
  ],
  oils: [
    { place: "glide", ingredient: "jojoba-oil", share: glide },
    { place: "care", ingredient: "sunflower-oil", share: care },
  ],
});

function found(product: Product, choice: Choice): NearestChoice {
  const nearest = nearestOrderable(product, choice, ground);
  if (nearest.kind !== "found") throw new Error(nearest.kind);
  return nearest;
}

describe("the nearest orderable blend", () => {
  it("of an orderable choice is the choice itself", () => {
    const choice = startingChoice(EVERYDAY.bases[0]!);
    expect(found(EVERYDAY, choice)).toMatchObject({ choice, moved: 0, changes: [] });
  });

  it("of a choice outside the bounds lies inside them, sums to the whole and passes", () => {
    const nearest = found(EVERYDAY, choiceOf(9950, 0, 0, 0));
    const shares = [...nearest.choice.butters, ...nearest.choice.oils].map(({ share }) => share);
    expect(shares.every(Number.isInteger)).toBe(true);
    expect(shares.reduce((sum, share) => sum + share, 50)).toBe(10_000);
    // 75 % shea at most, so a quarter must go whatever the rules say.
    expect(nearest.moved).toBeGreaterThanOrEqual(2450);
    expect(nearest.check.passes).toBe(true);
  });

  it("of a choice that does not sum to the whole is found all the same", () => {
    expect(found(EVERYDAY, choiceOf(6000, 1000, 1500, 0)).moved).toBe(725);
  });

  it("swaps an oil when the ceiling lets none of the chosen one in", () => {
    const rules = { ...EVERYDAY.rules, poreRatingMost: 2 };
    const product = { ...EVERYDAY, rules: { ...rules, unrated: "tell" as const } };
    const choice = choiceOf(6450, 0, 1500, 2000);
    const oils = [choice.oils[0]!, { place: "care", ingredient: "no-oil-of-ours", share: 2000 }];
    const nearest = found(product, { ...choice, oils });
    expect(nearest.moved).toBeGreaterThanOrEqual(2000);
    expect(product.places[1]!.allowed).toContain(nearest.choice.oils[1]!.ingredient);
  });

  it("keeps a locked share", () => {
    const [base] = EVERYDAY.bases;
    const lock = { least: 2000, greatest: 2000 };
    const butters = base!.butters.map((each, at) => (at === 1 ? { ...each, ...lock } : each));
    const product = { ...EVERYDAY, bases: [{ ...base!, butters }] };
    const nearest = found(product, choiceOf(7450, 2000, 250, 250));
    expect(nearest.choice.butters[1]!.share).toBe(2000);
  });

  it("says which rules and bounds conflict and by how much the one would have to give", () => {
    const rules = { firmness: ["soft"], softensAboveLeastCelsius: 31 } as const;
    const product = { ...EVERYDAY, rules };
    const choice = startingChoice(EVERYDAY.bases[1]!);
    const nearest = nearestOrderable(product, choice, ground);
    if (nearest.kind !== "none") throw new Error(nearest.kind);
    const conflicts = nearest.conflicts();
    const softens = conflicts.find(({ gives }) => gives === "softens-above")!;
    // What is named lets one through, and a tenth of a degree more does not.
    const at = (celsius: number) =>
      nearestOrderable(
        { ...product, rules: { ...rules, softensAboveLeastCelsius: celsius } },
        choice,
        ground,
      ).kind;
    expect(at(Number(softens.needed))).toBe("found");
    expect(at(Number(softens.needed) + 0.1)).toBe("none");
    expect(sayConflict(softens, nameOf)).toMatch(/^It must keep its body to 31 °C/);
  });

  it.each([
    ["a base nobody knows", { ...choiceOf(1, 1, 1, 1), base: "x" }, "compose.base.unknown"],
    ["a share that is none", choiceOf(Number.NaN, 1, 1, 1), "compose.share.not-a-share"],
    ["half a hundredth", choiceOf(0.5, 1, 1, 1), "compose.share.not-a-share"],
    ["a share below nothing", choiceOf(-100, 1, 1, 1), "compose.share.not-a-share"],
  ])("does not begin with %s", (_, choice, code) => {
    const nearest = nearestOrderable(EVERYDAY, choice, ground);
    expect(nearest).toMatchObject({ kind: "cannot-judge", findings: [{ code }] });
  });

  it("does not begin where a figure is missing", () => {
    const unknown = (id: string) =>
      id === "shea-butter"
        ? { ...ingredientById(id)!, composition: { kind: "unknown" as const } }
        : ingredientById(id);
    const choice = choiceOf(6000, 1000, 1500, 1450);
    const codeOf = (product: Product, ingredientOf: typeof unknown) => {
      const nearest = nearestOrderable(product, choice, { ingredientOf });
      return nearest.kind === "cannot-judge" ? nearest.findings[0]!.code : nearest.kind;
    };
    expect(codeOf(EVERYDAY, unknown)).toBe("judge.solid-fat.figure-missing");
    const hot = { ...EVERYDAY, useCelsius: 99 };
    expect(codeOf(hot, ingredientById as typeof unknown)).toBe("judge.temperature.out-of-range");
  });

  it("is found in some milliseconds", () => {
    const at = dice(9);
    const times: number[] = [];
    while (times.length < 60) {
      const product = demoProduct(at, true);
      const choice = drawnChoice(at, product);
      const from = process.cpuUsage();
      const nearest = nearestOrderable(product, choice, ground);
      const time = process.cpuUsage(from).user / 1000;
      if (nearest.kind === "found" && nearest.moved > 0) times.push(time);
    }
    times.sort((one, other) => one - other);
    expect(times[30]).toBeLessThan(30); // some 1 ms by itself; others may use the machine
  });
});

describe("the words of a change", () => {
  it("tell what goes before what comes", () => {
    const changes = [
      { ingredient: "sunflower-oil", from: 1400, to: 1600 },
      { ingredient: "cocoa-butter", from: 1000, to: 800 },
    ];
    expect(sayChanges(changes, nameOf)).toBe("2 % less cocoa butter, 2 % more sunflower oil");
  });

  it("tell a swap", () => {
    const changes = [
      { ingredient: "grapeseed-oil", from: 0, to: 1450 },
      { ingredient: "sunflower-oil", from: 1450, to: 0 },
    ];
    expect(sayChanges(changes, nameOf)).toBe(
      "no sunflower oil instead of 14.5 %, 14.5 % grapeseed oil added",
    );
  });
});
