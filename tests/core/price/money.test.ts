import { describe, expect, it } from "vitest";
import { divideHalfUp, divideUp } from "#core/price/money.ts";

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
