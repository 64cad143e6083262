import { composeBlend } from "#core/compose/compose.ts";
import { weightOf } from "#core/finding.ts";
import { withCertificate } from "#core/judge/certificate.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { BIT, type Reason, refereeOf } from "#core/order/room/referee.ts";
import { chanceFrom } from "#core/order/room/sequence.ts";
import { choiceOf, spaceOf } from "#core/order/room/space.ts";
import { drawPoints } from "#core/order/room/survey.ts";
import { ingredientById } from "#data/library.ts";
import { DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { describe, expect, it } from "vitest";
import { ROOM_PRODUCT, judgingOf } from "./a-space.ts";

const REASON_OF: Readonly<Record<string, Reason>> = {
  "judge.firmness.too-soft": "too-soft",
  "judge.firmness.too-hard": "too-hard",
  "judge.softens-above.too-low": "softens-too-low",
  "judge.pore-rating.above-limit": "pore-rating-above",
  "judge.pore-rating.unrated": "pore-rating-unrated",
};

const WAXY = {
  ...ROOM_PRODUCT,
  additives: [{ ingredient: "beeswax", share: 300 }],
  places: [
    { id: "light", name: "", allowed: ["sunflower-oil", "coconut-oil", "jojoba-oil"] },
    { id: "rich", name: "", allowed: ["sunflower-oil", "castor-oil"] },
  ],
};

const PRODUCTS = [
  ...DEMO_PRODUCTS.map(({ product }) => product),
  { ...WAXY, rules: { ...WAXY.rules, poreRatingMost: 2, poreTraceBelowShare: 900 } },
  { ...WAXY, rules: { ...WAXY.rules, strictness: "central", poreReading: "high" } as const },
  { ...WAXY, rules: { softensAboveLeastCelsius: 27.35, firmness: ["firm"] } as const },
];

describe("the referee", () => {
  it.each(PRODUCTS)("rules as the shop's own verdict does, reason by reason: %#", (product) => {
    for (const base of product.bases) {
      const space = spaceOf(product, base, ingredientById);
      const referee = refereeOf(space, judgingOf(product));
      for (const point of drawPoints(space, 400, chanceFrom(4))) {
        const { against } = referee.judge(point);
        const made = composeBlend(product, choiceOf(space, point), ingredientById);
        if ("findings" in made) throw new Error("a drawn choice keeps to the bounds");
        const { findings, firmness } = judgeBlend(made.blend, {
          ...judgingOf(product),
          celsius: [],
        });
        const bits = findings
          .filter((found) => weightOf(found) !== "tells")
          .reduce((all, { code }) => all | BIT[REASON_OF[code] ?? "cannot-judge"], 0);
        expect(against).toBe(bits);
        expect(referee.firmness()!.yieldPa / firmness!.yieldPa).toBeCloseTo(1, 7);
      }
    }
  });

  it("rules on a measured lot as the shop does", () => {
    const solidFatCurve = [10, 20, 25, 30, 35].map((celsius, at) => ({
      celsius,
      percent: [58, 42, 33, 14, 1][at]!,
    }));
    const { ingredient: lot } = withCertificate(ingredientById("shea-butter")!, { solidFatCurve });
    const ingredientOf = (id: string) => (id === "shea-butter" ? lot : ingredientById(id));
    const space = spaceOf(ROOM_PRODUCT, ROOM_PRODUCT.bases[0]!, ingredientOf);
    const referee = refereeOf(space, judgingOf(ROOM_PRODUCT));
    for (const point of drawPoints(space, 60, chanceFrom(4))) {
      const { against } = referee.judge(point);
      const made = composeBlend(ROOM_PRODUCT, choiceOf(space, point), ingredientOf);
      const { verdict } = judgeBlend("blend" in made ? made.blend : { parts: [] }, {
        ...judgingOf(ROOM_PRODUCT),
        celsius: [],
      });
      expect(against === 0).toBe(verdict === "orderable");
    }
  });

  it.each([
    ["an ingredient nobody knows", (id: string) => (id === "olive-oil" ? undefined : id), {}],
    ["a temperature outside the model", (id: string) => id, { useCelsius: 90 }],
  ])("cannot judge %s", (_, known, change) => {
    const product = { ...ROOM_PRODUCT, ...change };
    const space = spaceOf(product, product.bases[0]!, (id) => {
      const found = known(id);
      return found === undefined ? undefined : ingredientById(found);
    });
    const referee = refereeOf(space, judgingOf(product));
    const point = [...drawPoints(space, 1, chanceFrom(1))][0]!;
    point.options.fill(0);
    expect(referee.judge(point).against & BIT["cannot-judge"]).not.toBe(0);
    expect(referee.firmness()).toBeUndefined();
  });
});
