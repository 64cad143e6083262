import { describe, expect, it } from "vitest";
import { add, divideHalfUp, divideUp, isWholeFrom, times } from "#core/price/money.ts";

describe("dividing money", () => {
  it.each([
    [0n, 2n, 0n],
    [1n, 3n, 0n],
    [1n, 2n, 1n],
    [2n, 3n, 1n],
    [5n, 2n, 3n],
    [6n, 3n, 2n],
  ])("rounds %d / %d half up to %d", (numerator, denominator, result) => {
    expect(divideHalfUp(numerator, denominator)).toBe(result);
  });

  it.each([
    [0n, 2n, 0n],
    [1n, 3n, 1n],
    [3n, 3n, 1n],
    [4n, 3n, 2n],
  ])("rounds %d / %d up to %d", (numerator, denominator, result) => {
    expect(divideUp(numerator, denominator)).toBe(result);
  });

  it("keeps every digit far beyond what a double holds", () => {
    const large = 10n ** 30n + 1n;
    expect(divideUp(large, 10n ** 15n)).toBe(10n ** 15n + 1n);
    expect(divideHalfUp(large, 10n ** 15n)).toBe(10n ** 15n);
  });
});

describe("exact amounts", () => {
  it("are added over one denominator where they share it, and over the product where not", () => {
    expect(add([1n, 4n], [2n, 4n])).toEqual([3n, 4n]);
    expect(add([1n, 4n], [2n, 3n])).toEqual([11n, 12n]);
  });

  it("are multiplied by a fraction", () => {
    expect(times([3n, 4n], 5n, 7n)).toEqual([15n, 28n]);
  });
});

describe("a whole number", () => {
  it.each([
    [0, 0, true],
    [1, 1, true],
    [Number.MAX_SAFE_INTEGER, 0, true],
    [2 ** 53, 0, false],
    [0, 1, false],
    [-1, 0, false],
    [0.5, 0, false],
    [Number.NaN, 0, false],
    [Infinity, 0, false],
  ])("from %d, not below %d: %s", (value, least, is) => {
    expect(isWholeFrom(value, least)).toBe(is);
  });
});
