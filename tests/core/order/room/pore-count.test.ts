import type { Rules } from "#core/judge/verdict.ts";
import { countPorePassing } from "#core/order/room/pore-count.ts";
import { BIT, refereeOf } from "#core/order/room/referee.ts";
import { combine, pointIn } from "#core/order/room/space.ts";
import { describe, expect, it } from "vitest";
import { bound, judgingOf, spaceFor, withBase } from "./a-space.ts";

const oils = (light: ReturnType<typeof bound>, rich: ReturnType<typeof bound>) => [
  { place: "light", ingredient: "sunflower-oil", share: light.least, ...light },
  { place: "rich", ingredient: "olive-oil", share: rich.least, ...rich },
];
const butters = (shea: ReturnType<typeof bound>) => [
  { ingredient: "shea-butter", share: shea.least, ...shea },
];

/** Every choice of a small space, one by one. */
function countOneByOne(product: Parameters<typeof spaceFor>[0]): number {
  const space = spaceFor(product);
  const referee = refereeOf(space, judgingOf(product));
  const point = pointIn(space);
  const pores = BIT["pore-rating-above"] | BIT["pore-rating-unrated"];
  const [shea, light, rich] = space.slots;
  let met = 0;
  let all = 0;
  for (let combination = 0; combination < space.combinations; combination++) {
    combine(space, combination, point);
    for (let a = light!.least; a <= light!.greatest; a++) {
      for (let b = rich!.least; b <= rich!.greatest; b++) {
        const rest = space.total - a - b;
        if (rest < shea!.least || rest > shea!.greatest) continue;
        point.shares.set([rest, a, b]);
        all++;
        if ((referee.judge(point).against & pores) === 0) met++;
      }
    }
  }
  return met / all;
}

describe("how much meets the pore rule", () => {
  it.each<[string, Rules]>([
    ["a ceiling", { poreRatingMost: 1 }],
    ["a ceiling over the butter", { poreRatingMost: 2 }],
    ["traces let pass", { poreRatingMost: 1, poreTraceBelowShare: 8 }],
    ["unrated only told of", { poreRatingMost: 1, unrated: "tell" }],
    ["no ceiling", {}],
  ])("is counted as one by one with %s", (_, rules) => {
    const shea = butters(bound(9900, 9950));
    const product = withBase({ butters: shea, oils: oils(bound(0, 20), bound(0, 25)) }, rules);
    expect(countPorePassing(spaceFor(product), rules)).toBeCloseTo(countOneByOne(product), 12);
  });

  it("is not counted where two places can reach the trace threshold with one oil", () => {
    const rules = { poreRatingMost: 0, poreTraceBelowShare: 100 };
    const product = {
      ...withBase({}, rules),
      places: [
        { id: "light", name: "", allowed: ["olive-oil"] },
        { id: "rich", name: "", allowed: ["olive-oil"] },
      ],
    };
    expect(countPorePassing(spaceFor(product), rules)).toBeUndefined();
  });
});
