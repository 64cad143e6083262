/**
 * Limits on skin where blends are searched: the referee of the room, the proofs and the nearest blend say what the
 * verdict says.
 */
import { describe, expect, it } from "vitest";
import { type Choice, type Product, startingChoice } from "#core/compose/product.ts";
import { composeBlend } from "#core/compose/compose.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { nearestOrderable } from "#core/order/nearest/nearest.ts";
import { proveRoom } from "#core/order/room/proof.ts";
import { BIT, refereeOf } from "#core/order/room/referee.ts";
import { choiceOf, spaceOf } from "#core/order/room/space.ts";
import { drawPoints } from "#core/order/room/survey.ts";
import { ingredientById } from "#data/library.ts";
import { dice } from "./nearest/choices.ts";

const LEMON = "lemon-essential-oil";
const GERANIUM = "geranium-essential-oil";

const bound = (ingredient: string, share: number, least: number, greatest: number) => ({
  ...{ ingredient, share, least, greatest },
});

/** Lemon up to 4 % and geranium up to 6 %, which is more than skin may meet of either, and of both together. */
const SCENTED: Product = {
  ...{ id: "scented", name: "Scented", words: "", jars: [], quantityMost: 1, useCelsius: 21 },
  places: [
    { id: "care", name: "Care", allowed: ["sunflower-oil", "jojoba-oil"] },
    { id: "one", name: "Scent", allowed: [LEMON] },
    { id: "other", name: "Scent", allowed: [GERANIUM] },
  ],
  bases: [
    {
      ...{ id: "plain", name: "Plain", words: "" },
      butters: [bound("shea-butter", 6000, 4000, 8000), bound("cocoa-butter", 1000, 0, 2000)],
      oils: [
        { place: "care", ...bound("sunflower-oil", 2750, 500, 4000) },
        { place: "one", ...bound(LEMON, 100, 0, 400) },
        { place: "other", ...bound(GERANIUM, 100, 0, 600) },
      ],
    },
  ],
  additives: [{ ingredient: "tocopherol", share: 50 }],
  airFraction: 0.35,
  rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 24 },
};

const GROUND = { ingredientOf: ingredientById };
const JUDGING = { useCelsius: 21, airFraction: 0.35, rules: SCENTED.rules };
const spaceFor = (product: Product) => spaceOf(product, product.bases[0]!, ingredientById);

const scentedChoice = (lemon: number, geranium: number): Choice => {
  const { base, butters, oils } = startingChoice(SCENTED.bases[0]!);
  const shares = [2950 - lemon - geranium, lemon, geranium];
  return { base, butters, oils: oils.map((oil, at) => ({ ...oil, share: shares[at]! })) };
};

const verdictOf = (choice: Choice) => {
  const composed = composeBlend(SCENTED, choice, ingredientById);
  if ("findings" in composed) throw new Error(composed.findings[0]!.code);
  return judgeBlend(composed.blend, { celsius: [], ...JUDGING });
};

describe("the referee of the room", () => {
  it("rules as the verdict does, drawn choice by drawn choice", () => {
    const space = spaceFor(SCENTED);
    const referee = refereeOf(space, JUDGING);
    const kinds = new Set<boolean>();
    const { roll } = dice(7);
    for (const point of drawPoints(space, 300, roll)) {
      const { against } = referee.judge(point);
      const { findings } = verdictOf(choiceOf(space, point));
      const isAbove = findings.some(({ code }) => code.startsWith("judge.dermal."));
      expect((against & BIT["skin-limit"]) !== 0).toBe(isAbove);
      kinds.add(isAbove);
    }
    expect(kinds.size).toBe(2);
  });
});

describe("proofs", () => {
  const own = SCENTED.bases[0]!;
  const withLemon = (least: number) => {
    const oils = own.oils.map((each) => (each.ingredient === LEMON ? { ...each, least } : each));
    return spaceFor({ ...SCENTED, bases: [{ ...own, oils }] });
  };

  it("call a room empty when the least of an oil is already too much, and not one step below", () => {
    const start = [6000, 1000, 2749, 201, 0];
    expect(proveRoom(withLemon(201), JUDGING, start)).toEqual({
      ...{ proven: "none", because: "skin-limit" },
    });
    expect(proveRoom(withLemon(200), JUDGING, start)).toBeUndefined();
  });
});

describe("the nearest blend", () => {
  const nearestOf = (choice: Choice, product = SCENTED) => {
    const nearest = nearestOrderable(product, choice, GROUND);
    if (nearest.kind !== "found") throw new Error(nearest.kind);
    return nearest;
  };
  const shareOf = ({ oils }: Choice, id: string) =>
    oils.find(({ ingredient }) => ingredient === id)!.share;

  it("takes one oil down to its limit and no further", () => {
    const { choice, moved } = nearestOf(scentedChoice(350, 0));
    expect([shareOf(choice, LEMON), moved]).toEqual([200, 150]);
  });

  it("takes two oils down together where they bring one substance", () => {
    expect(verdictOf(scentedChoice(180, 460)).verdict).toBe("refused");
    const { choice } = nearestOf(scentedChoice(180, 460));
    expect(verdictOf(choice).verdict).toBe("orderable");
    // Citral at most 0.15 %: lemon brings up to 3.8 % of it and geranium up to 2 %.
    const citral = shareOf(choice, LEMON) * 3.8 + shareOf(choice, GERANIUM) * 2;
    expect(citral).toBeLessThanOrEqual(1500);
    expect(citral).toBeGreaterThan(1450);
  });

  it("passes for any choice, which the verdict checks", () => {
    const { below } = dice(3);
    for (let i = 0; i < 25; i++) {
      const { choice } = nearestOf(scentedChoice(below(400), below(600)));
      expect(verdictOf(choice).verdict).toBe("orderable");
    }
  });

  it("says what stands in the way when every jar holds too much", () => {
    const additives = [{ ingredient: LEMON, share: 250 }];
    expect(nearestOrderable({ ...SCENTED, additives }, scentedChoice(0, 0), GROUND)).toMatchObject({
      kind: "cannot-judge",
      findings: [{ code: "judge.dermal.sun-above-most", measured: 125 }],
    });
  });
});
