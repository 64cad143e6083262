/** Laws of shares: nothing is lost or invented, whatever is split, mixed or moved. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { apportion } from "#core/apportion.ts";
import { WHOLE, makeBlend, shareFromPercent } from "#core/blend.ts";
import { type Adjustable, rebalance } from "#core/compose/rebalance.ts";
import * as ingredients from "../helpers/ingredients.ts";

const POOL = [
  ...[ingredients.COCOA_BUTTER, ingredients.SHEA_BUTTER, ingredients.MANGO_BUTTER],
  ...[ingredients.COCONUT_OIL, ingredients.SUNFLOWER_OIL, ingredients.JOJOBA_OIL],
];

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, next) => total + next, 0);
}

describe("splitting a whole", () => {
  const claims = fc
    .array(fc.integer({ min: 0, max: 1_000_000 }), { minLength: 1, maxLength: 40 })
    .filter((each) => sum(each) > 0);
  const whole = fc.integer({ min: 0, max: 1_000_000_000 });

  it("keeps the sum", () => {
    fc.assert(
      fc.property(whole, claims, (amount, each) => {
        expect(sum(apportion(amount, each))).toBe(amount);
      }),
    );
  });

  it("gives each part its exact claim to within one unit, and nothing to a claim of nothing", () => {
    fc.assert(
      fc.property(whole, claims, (amount, each) => {
        const total = sum(each);
        apportion(amount, each).forEach((part, at) => {
          // |part - amount x claim / total| < 1, in whole numbers
          const off = BigInt(part) * BigInt(total) - BigInt(amount) * BigInt(each[at]!);
          expect(off < BigInt(total) && -off < BigInt(total)).toBe(true);
          if (each[at] === 0) expect(part).toBe(0);
        });
      }),
    );
  });

  it("gives a larger claim no less than a smaller one", () => {
    fc.assert(
      fc.property(whole, claims, (amount, each) => {
        const parts = apportion(amount, each);
        const order = each.map((_, at) => at).sort((one, other) => each[one]! - each[other]!);
        for (let at = 1; at < order.length; at++) {
          const [less, more] = [order[at - 1]!, order[at]!];
          if (each[less]! < each[more]!) expect(parts[less]!).toBeLessThanOrEqual(parts[more]!);
        }
      }),
    );
  });

  it("returns exact claims untouched", () => {
    fc.assert(
      fc.property(claims, (each) => {
        expect(apportion(sum(each), each)).toEqual(each);
      }),
    );
  });
});

describe("a blend", () => {
  const parts = fc
    .array(fc.tuple(fc.constantFrom(...POOL), fc.integer({ min: 0, max: 1_000 })), {
      minLength: 1,
      maxLength: 40,
    })
    .filter((each) => sum(each.map(([, weight]) => weight)) > 0)
    .map((each) => {
      const weights = each.map(([, weight]) => weight);
      return apportion(WHOLE, weights).map((share, at) => ({ ingredient: each[at]![0], share }));
    });

  it("holds the whole, each ingredient once, each with what its parts came to, and no empty part", () => {
    fc.assert(
      fc.property(parts, (each) => {
        const made = makeBlend(each);
        if (!("blend" in made)) throw new Error("refused");
        const shares = made.blend.parts.map(({ share }) => share);
        const ids = made.blend.parts.map(({ ingredient }) => ingredient.id);
        expect(sum(shares)).toBe(WHOLE);
        expect(Math.min(...shares)).toBeGreaterThan(0);
        expect(new Set(ids).size).toBe(ids.length);
        for (const { ingredient, share } of made.blend.parts) {
          const given = each.filter((part) => part.ingredient === ingredient);
          expect(share).toBe(sum(given.map((part) => part.share)));
        }
      }),
    );
  });

  it("is never made of shares that miss the whole by even one step", () => {
    fc.assert(
      fc.property(parts, fc.constantFrom(-1, 1), (each, step) => {
        const at = each.findIndex(({ share }) => share + step >= 0 && share + step <= WHOLE);
        fc.pre(at >= 0);
        const off = each.map((part, i) =>
          i === at ? { ...part, share: part.share + step } : part,
        );
        expect(makeBlend(off)).toHaveProperty("findings");
      }),
    );
  });

  it("reads every share back from its percent", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: WHOLE }), (share) => {
        expect(shareFromPercent(share / 100)).toBe(share);
      }),
    );
  });
});

describe("moving one share", () => {
  const share = fc.integer({ min: 0, max: WHOLE });
  const part = fc
    .record({ ends: fc.tuple(share, share, share), locked: fc.boolean() })
    .map(({ ends, locked }): Adjustable => {
      const [least, middle, greatest] = ends.sort((one, other) => one - other);
      return locked
        ? { least: middle!, share: middle!, greatest: middle! }
        : { least: least!, share: middle!, greatest: greatest! };
    });
  const moves = fc
    .array(part, { minLength: 1, maxLength: 12 })
    .chain((parts) =>
      fc.tuple(
        fc.constant(parts),
        fc.nat(parts.length - 1),
        fc.integer({ min: -WHOLE, max: 2 * WHOLE }),
      ),
    );
  const RUNS = { numRuns: 500 };

  it("keeps the sum, every bound, and every locked part", () => {
    fc.assert(
      fc.property(moves, ([parts, at, wanted]) => {
        const shares = rebalance(parts, at, wanted);
        expect(sum(shares)).toBe(sum(parts.map(({ share }) => share)));
        shares.forEach((share, i) => {
          const { least, greatest } = parts[i]!;
          expect(Number.isInteger(share)).toBe(true);
          expect(share).toBeGreaterThanOrEqual(least);
          expect(share).toBeLessThanOrEqual(greatest);
          if (least === greatest) expect(share).toBe(parts[i]!.share);
        });
      }),
      RUNS,
    );
  });

  it("takes the moved part as near to the wish as its bound and the others' room allow, never further", () => {
    fc.assert(
      fc.property(moves, ([parts, at, wanted]) => {
        const { least, greatest, share } = parts[at]!;
        const aim = Math.min(greatest, Math.max(least, wanted));
        const others = parts.filter((_, i) => i !== at);
        const room =
          aim > share
            ? sum(others.map((each) => each.share - each.least))
            : sum(others.map((each) => each.greatest - each.share));
        const reached = rebalance(parts, at, wanted)[at]!;
        expect(Math.abs(reached - share)).toBe(Math.min(Math.abs(aim - share), room));
        expect(Math.sign(reached - share) * Math.sign(aim - share)).toBeGreaterThanOrEqual(0);
      }),
      RUNS,
    );
  });

  it("moves every other part the opposite way or not at all", () => {
    fc.assert(
      fc.property(moves, ([parts, at, wanted]) => {
        const shares = rebalance(parts, at, wanted);
        const went = Math.sign(shares[at]! - parts[at]!.share);
        shares.forEach((share, i) => {
          if (i !== at) expect((share - parts[i]!.share) * went).toBeLessThanOrEqual(0);
        });
      }),
      RUNS,
    );
  });

  it("can be taken back: the moved part returns to where it was, and with one other part so does all", () => {
    fc.assert(
      fc.property(moves, ([parts, at, wanted]) => {
        const there = rebalance(parts, at, wanted);
        const moved = parts.map((each, i) => ({ ...each, share: there[i]! }));
        const back = rebalance(moved, at, parts[at]!.share);
        expect(back[at]).toBe(parts[at]!.share);
        if (parts.length === 2) expect(back).toEqual(parts.map(({ share }) => share));
      }),
      RUNS,
    );
  });
});
