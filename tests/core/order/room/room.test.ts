import { openRoom } from "#core/order/room/room.ts";
import { refereeOf } from "#core/order/room/referee.ts";
import { combine, pointIn } from "#core/order/room/space.ts";
import type { Product } from "#core/compose/product.ts";
import { describe, expect, it } from "vitest";
import {
  GROUND,
  ROOM_PRODUCT,
  bound,
  judgingOf,
  spaceFor,
  withBase,
  withRules,
} from "./a-space.ts";
import { verdictOf } from "./a-space.ts";

/** Few enough choices to judge every one: steps of a whole percent do not exist, so the bounds are narrow. */
const TINY: Product = withBase(
  {
    butters: [{ ingredient: "shea-butter", share: 5000, ...bound(4970, 5030) }],
    oils: [
      { place: "light", ingredient: "sunflower-oil", share: 2500, ...bound(2450, 2550) },
      { place: "rich", ingredient: "olive-oil", share: 2450, ...bound(2400, 2500) },
    ],
  },
  { softensAboveLeastCelsius: 23.6 },
);

function truth(product: Product): number {
  const space = spaceFor(product);
  const { judge } = refereeOf(space, judgingOf(product));
  const point = pointIn(space);
  const [shea, light, rich] = space.slots;
  let passed = 0;
  let all = 0;
  for (let combination = 0; combination < space.combinations; combination++) {
    combine(space, combination, point);
    for (let a = light!.least; a <= light!.greatest; a++) {
      for (let b = rich!.least; b <= rich!.greatest; b++) {
        const rest = space.total - a - b;
        if (rest < shea!.least || rest > shea!.greatest) continue;
        point.shares.set([rest, a, b]);
        all++;
        if (judge(point).against === 0) passed++;
      }
    }
  }
  return passed / all;
}

function measured(product: Product, options: Parameters<typeof openRoom>[2] = {}) {
  const work = openRoom(product, GROUND, options);
  while (!work.step(5000));
  return work.result();
}

describe("the orderable room", () => {
  it(
    "holds the share counted one by one in its interval, seed after seed",
    { timeout: 120_000 },
    () => {
      const exact = truth(TINY);
      expect(exact).toBeGreaterThan(0.1);
      expect(exact).toBeLessThan(0.9);
      const seeds = 60;
      let held = 0;
      for (let seed = 1; seed <= seeds; seed++) {
        const { low, high, known } = measured(TINY, { seed, draws: 240 }).bases[0]!.room;
        expect(known).toBe("sampled");
        if (low <= exact && exact <= high) held++;
      }
      expect(held / seeds).toBeGreaterThanOrEqual(0.95);
    },
  );

  it("tells the same for the same seed, in whatever slices it is driven", () => {
    const inOne = measured(ROOM_PRODUCT, { seed: 8, draws: 600 });
    const work = openRoom(ROOM_PRODUCT, GROUND, { seed: 8, draws: 600 });
    let steps = 0;
    while (!work.step(37)) {
      steps++;
      const { judged, planned } = work.progress();
      expect(judged).toBe(37 * steps);
      expect(planned).toBeGreaterThan(judged);
    }
    expect(steps).toBeGreaterThan(10);
    expect(work.result()).toEqual(inOne);
    expect(measured(ROOM_PRODUCT, { seed: 9, draws: 600 })).not.toEqual(inOne);
  });

  it("gives no result before it is done", () => {
    const work = openRoom(ROOM_PRODUCT, GROUND, { draws: 100 });
    work.step(5);
    expect(() => work.result()).toThrow("not done");
  });

  it("splits every draw into passing, refused and undecided, and says what each rule does", () => {
    const rules = { firmness: ["soft"], softensAboveLeastCelsius: 26, poreRatingMost: 4 } as const;
    const [base] = measured(withRules(rules), { draws: 1200 }).bases;
    const alone = base!.rules.reduce((sum, cut) => sum + cut.alone.share, 0);
    expect(alone).toBeLessThanOrEqual(1 - base!.room.share + 1e-12);
    expect(base!.rules.map(({ reason }) => reason)).toContain("softens-too-low");
    const without = measured(withRules({ firmness: ["soft"], poreRatingMost: 4 }), { draws: 1200 });
    const cut = base!.rules.find(({ reason }) => reason === "softens-too-low")!;
    // The same draws without the rule: what it alone refuses is what passes more.
    expect(without.bases[0]!.room.share).toBeCloseTo(base!.room.share + cut.alone.share, 9);
  });

  it("finds beyond a bound what a wider product has", () => {
    const [base] = measured(ROOM_PRODUCT, { draws: 6000 }).bases;
    const cut = base!.bounds.find(
      ({ subject, end }) => subject === "cocoa-butter" && end === "least",
    )!;
    const [shea, cocoa] = ROOM_PRODUCT.bases[0]!.butters;
    const wide = measured(withBase({ butters: [shea!, { ...cocoa!, least: 0 }] }), { draws: 6000 });
    const orderable = ({ shareSets, room }: (typeof wide.bases)[0]) => shareSets * room.share;
    const grown = orderable(wide.bases[0]!) / orderable(base!);
    expect(1 + cut.opens!).toBeCloseTo(grown, 1);
    expect(wide.bases[0]!.shareSets / base!.shareSets).toBeCloseTo(1 + cut.size, 9);
  });

  it("knows an empty set of bounds from a set of refused blends", () => {
    const butters = [{ ingredient: "shea-butter", share: 5000, ...bound(5000, 5000) }];
    const [base] = measured(withBase({ butters, oils: [] })).bases;
    expect(base).toMatchObject({ because: "bounds", isOpen: false, shareSets: 0 });
    expect(base!.room).toMatchObject({ share: 0, known: "counted" });
  });

  it("gives an orderable example, the maker's own where it passes", () => {
    const { bases, isOpen } = measured(ROOM_PRODUCT, { draws: 200 });
    expect(isOpen).toBe(true);
    expect(bases[0]!.ownPasses).toBe(true);
    expect(verdictOf(ROOM_PRODUCT, bases[0]!.example!).verdict).toBe("orderable");
  });

  it("finds an example where hardly anything passes", () => {
    const rules = { softensAboveLeastCelsius: 30.3 };
    const { bases, isOpen } = measured(withRules(rules), { draws: 60 });
    expect(isOpen).toBe(true);
    expect(bases[0]!.room.share).toBeLessThan(0.05);
    expect(verdictOf(withRules(rules), bases[0]!.example!).verdict).toBe("orderable");
  });
});
