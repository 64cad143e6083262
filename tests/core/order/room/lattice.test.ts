import type { Bound } from "#core/compose/product.ts";
import { latticeOf } from "#core/order/room/lattice.ts";
import { chanceFrom, evenPoints } from "#core/order/room/sequence.ts";
import { describe, expect, it } from "vitest";
import { bound } from "./a-space.ts";

/** Whole numbers in a box with a fixed sum, by inclusion and exclusion (textbook stars and bars with upper bounds). */
function countByFormula(bounds: readonly Bound[], total: number): bigint {
  const slack = bounds.reduce((rest, { least }) => rest - least, total);
  let count = 0n;
  for (let set = 0; set < 2 ** bounds.length; set++) {
    let rest = slack;
    let sign = 1n;
    for (const [at, { least, greatest }] of bounds.entries()) {
      if (!(set & (1 << at))) continue;
      rest -= greatest - least + 1;
      sign = -sign;
    }
    if (rest >= 0) count += sign * choose(BigInt(rest + bounds.length - 1), bounds.length - 1);
  }
  return count;
}

function choose(n: bigint, k: number): bigint {
  let product = 1n;
  for (let i = 1n; i <= BigInt(k); i++) product = (product * (n - BigInt(k) + i)) / i;
  return product;
}

function allPoints(bounds: readonly Bound[], total: number): string[] {
  const [first, ...others] = bounds;
  if (!first) return total === 0 ? [""] : [];
  const points: string[] = [];
  for (let share = first.least; share <= first.greatest; share++) {
    for (const rest of allPoints(others, total - share)) points.push(`${share} ${rest}`);
  }
  return points;
}

const SMALL: [Bound[], number][] = [
  [[bound(0, 6), bound(2, 5), bound(0, 9)], 12],
  [[bound(1, 4), bound(1, 4), bound(3, 3), bound(0, 20)], 14],
  [[bound(0, 10), bound(0, 10)], 20],
];

describe("the lattice of bounds", () => {
  it.each(SMALL)("counts the points of a small box %#", (bounds, total) => {
    const count = allPoints(bounds, total).length;
    expect(latticeOf(bounds, total).count).toBe(count);
    expect(countByFormula(bounds, total)).toBe(BigInt(count));
  });

  it("counts a recipe's points as the formula does, exactly below 2^53", () => {
    const four = [bound(4000, 7000), bound(500, 3000), bound(500, 3000), bound(500, 3000)];
    expect(latticeOf(four, 9950).count).toBe(Number(countByFormula(four, 9950)));
    const eight = Array.from({ length: 8 }, () => bound(0, 4000));
    const exact = Number(countByFormula(eight, 10_000));
    expect(Math.abs(latticeOf(eight, 10_000).count / exact - 1)).toBeLessThan(1e-12);
  });

  it("comes to the volume of a simplex when nothing bounds it", () => {
    // total^(n-1)/(n-1)!, of which the lattice has 6/total more: (t+1)(t+2)(t+3)/6 = t^3/6 (1 + 6/t + ...).
    const free = Array.from({ length: 4 }, () => bound(0, 10_000));
    const volume = 10_000 ** 3 / 6;
    expect(latticeOf(free, 10_000).count / volume).toBeCloseTo(1 + 6 / 10_000, 6);
  });

  it.each([
    ["least shares over the whole", [bound(6000, 7000), bound(5000, 6000)], 10_000],
    ["greatest shares short of it", [bound(0, 4000), bound(0, 5000)], 10_000],
    ["no parts", [], 10_000],
  ])("is empty with %s", (_, bounds, total) => {
    const lattice = latticeOf(bounds, total);
    expect(lattice.count).toBe(0);
    expect(() => lattice.draw([0.5], new Int32Array(2))).toThrow(RangeError);
  });

  it.each(SMALL)("draws every point as often as the next: chi-square %#", (bounds, total) => {
    const lattice = latticeOf(bounds, total);
    const points = allPoints(bounds, total);
    const tally = new Map(points.map((point) => [point.trim(), 0]));
    const chance = chanceFrom(20_261_125);
    const shares = new Int32Array(bounds.length);
    const draws = 1000 * points.length;
    for (let i = 0; i < draws; i++) {
      lattice.draw(Array.from({ length: lattice.dimensions }, chance), shares);
      const key = shares.join(" ");
      tally.set(key, tally.get(key)! + 1); // NaN, and the sum fails, when a point lies outside
    }
    const square = [...tally.values()].reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
    const freedom = points.length - 1;
    // Within 4 standard deviations of chi-square, both ways: too even would be as wrong.
    expect(Math.abs(square - freedom)).toBeLessThanOrEqual(4 * Math.sqrt(2 * freedom));
  });

  it("keeps a recipe's draws to the bounds and the whole", () => {
    const bounds = [bound(4500, 7500), bound(0, 3000), bound(500, 3000), bound(1450, 1450)];
    const lattice = latticeOf(bounds, 9950);
    const next = evenPoints(lattice.dimensions, chanceFrom(7));
    const at = new Float64Array(lattice.dimensions);
    const shares = new Int32Array(4);
    for (let i = 0; i < 5000; i++) {
      next(at);
      lattice.draw(at, shares);
      expect(shares.reduce((sum, share) => sum + share, 0)).toBe(9950);
      for (const [k, { least, greatest }] of bounds.entries()) {
        expect(shares[k]).toBeGreaterThanOrEqual(least);
        expect(shares[k]).toBeLessThanOrEqual(greatest);
      }
    }
  });

  it("reaches both ends of every share", () => {
    const lattice = latticeOf([bound(0, 3), bound(0, 3)], 3);
    const shares = new Int32Array(2);
    const first = [0, 0.999_999].map((at) => {
      lattice.draw([at], shares);
      return shares[0]!;
    });
    expect(first.sort()).toEqual([0, 3]);
  });
});
