import { meltOf } from "#core/judge/melt.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import type { Rules } from "#core/judge/verdict.ts";
import { composeBlend } from "#core/compose/compose.ts";
import { leastOf } from "#core/order/room/corners.ts";
import { proveRoom } from "#core/order/room/proof.ts";
import { refereeOf } from "#core/order/room/referee.ts";
import { chanceFrom } from "#core/order/room/sequence.ts";
import { solidsRanges } from "#core/order/room/solids-range.ts";
import { type Space, choiceOf } from "#core/order/room/space.ts";
import { drawPoints } from "#core/order/room/survey.ts";
import { ingredientById } from "#data/library.ts";
import { DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { describe, expect, it } from "vitest";
import { ROOM_BASE, ROOM_PRODUCT, judgingOf, spaceFor, withBase, withRules } from "./a-space.ts";

const start = ({ slots, total }: Space) =>
  leastOf(
    slots,
    total,
    slots.map(() => 0),
  );

describe("bounds on the solids of a space", () => {
  const products = [ROOM_PRODUCT, ...DEMO_PRODUCTS.map(({ product }) => product)];
  it.each(products)("hold every drawn blend, and are not far off: %#", (product) => {
    const space = spaceFor(product);
    const at = solidsRanges(space, start(space))!;
    for (const celsius of [12, 20, 22, 27.5, 33]) {
      const { least, greatest } = at(celsius)!;
      let low = 100;
      let high = 0;
      for (const point of drawPoints(space, 400, chanceFrom(9))) {
        const made = composeBlend(product, choiceOf(space, point), ingredientById);
        const melt = meltOf("blend" in made ? made.blend : { parts: [] })!;
        const solids = solidFatPercent(melt, "settled", celsius);
        low = Math.min(low, solids);
        high = Math.max(high, solids);
      }
      expect(least).toBeLessThanOrEqual(low + 1e-6);
      expect(greatest).toBeGreaterThanOrEqual(high - 1e-6);
      expect(low - least).toBeLessThan(6);
      expect(greatest - high).toBeLessThan(12);
    }
  });

  it.each(["coconut-oil", "beeswax"])(
    "are not claimed with %s, to which they do not apply",
    (id) => {
      const places = [{ id: "light", name: "", allowed: [id] }, ROOM_PRODUCT.places[1]!];
      const space = spaceFor({ ...ROOM_PRODUCT, places });
      expect(solidsRanges(space, start(space))).toBeUndefined();
    },
  );
});

describe("a proof about a room", () => {
  const cases: [string, Rules, "none" | "all", string?][] = [
    ["a window far too hard", { firmness: ["hard"] }, "none", "too-soft"],
    ["a window far too soft", { firmness: ["fluid"] }, "none", "too-hard"],
    ["a parcel far too hot", { softensAboveLeastCelsius: 38 }, "none", "softens-too-low"],
    ["a butter above the ceiling", { poreRatingMost: 3 }, "none", "pore-rating-above"],
    ["everything allowed", { firmness: ["fluid", "soft", "firm", "hard"] }, "all"],
    ["no rules", {}, "all"],
    ["an easy parcel", { softensAboveLeastCelsius: 15 }, "all"],
    ["an easy parcel, central", { softensAboveLeastCelsius: 8, strictness: "central" }, "all"],
  ];
  it.each(cases)("is found with %s, and no draw gainsays it", (_, rules, proven, because) => {
    const product = withRules(rules);
    const space = spaceFor(product);
    const proof = proveRoom(space, judgingOf(product), start(space));
    expect(proof?.proven).toBe(proven);
    if (proof?.proven === "none") expect(proof.because).toBe(because);
    const referee = refereeOf(space, judgingOf(product));
    for (const point of drawPoints(space, 600, chanceFrom(2))) {
      expect(referee.judge(point).against === 0).toBe(proven === "all");
    }
  });

  it("is not found where some pass and some do not", () => {
    const space = spaceFor(ROOM_PRODUCT);
    expect(proveRoom(space, judgingOf(ROOM_PRODUCT), start(space))).toBeUndefined();
  });

  it("never calls a random room empty that has a passing draw, nor full that has a refused one", () => {
    const chance = chanceFrom(77);
    let proofs = 0;
    for (let i = 0; i < 120; i++) {
      const least = Math.floor(2000 + 5000 * chance());
      const butters = [{ ...ROOM_BASE.butters[0]!, share: least, least, greatest: least + 800 }];
      const rest = 9950 - least;
      const oils = ROOM_BASE.oils.map((oil) => ({ ...oil, least: (rest / 4) | 0, greatest: rest }));
      const rules: Rules = {
        firmness: chance() < 0.5 ? ["soft"] : ["firm", "hard"],
        softensAboveLeastCelsius: Math.round(15 + 15 * chance()),
        strictness: chance() < 0.5 ? "central" : "whole-band",
      };
      const product = withBase({ butters, oils }, rules);
      const space = spaceFor(product);
      if (space.lattice.count === 0) continue;
      const proof = proveRoom(space, judgingOf(product), start(space));
      if (!proof) continue;
      proofs++;
      const referee = refereeOf(space, judgingOf(product));
      for (const point of drawPoints(space, 120, chance)) {
        expect(referee.judge(point).against === 0).toBe(proof.proven === "all");
      }
    }
    expect(proofs).toBeGreaterThan(40);
  });
});
