import { describe, expect, it } from "vitest";
import { apportion } from "#core/apportion.ts";

describe("splitting a whole by largest remainder", () => {
  it("gives the units left over to the largest remainders", () => {
    expect(apportion(100, [1, 1, 1])).toEqual([34, 33, 33]);
    expect(apportion(10, [15, 26, 59])).toEqual([1, 3, 6]); // 1.5, 2.6, 5.9: one unit each to .9 and .6
  });

  it("goes by the remainder, however small the claim and wherever it stands", () => {
    expect(apportion(10, [19, 81])).toEqual([2, 8]); // 1.9, 8.1
    expect(apportion(10, [81, 19])).toEqual([8, 2]);
    expect(apportion(10, [27, 19, 54])).toEqual([3, 2, 5]); // 2.7, 1.9, 5.4
  });

  it("prefers the earlier part on a tie", () => {
    expect(apportion(3, [1, 1])).toEqual([2, 1]);
    expect(apportion(5, [1, 1, 1])).toEqual([2, 2, 1]);
    expect(
      apportion(
        15,
        Array.from({ length: 12 }, () => 7),
      ),
    ).toEqual([...[2, 2, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1]]);
  });

  it("splits nothing into nothing, also among parts that claim nothing", () => {
    expect(apportion(0, [0, 0])).toEqual([0, 0]);
    expect(apportion(0, [])).toEqual([]);
  });

  it("refuses to split something among parts that claim nothing", () => {
    expect(() => apportion(1, [0, 0])).toThrow("nothing claims a part of the whole");
    expect(() => apportion(1, [])).toThrow(RangeError);
  });

  it.each([
    [-1, [1]],
    [1.5, [1]],
    [Number.NaN, [1]],
    [2 ** 53, [1]],
    [1, [-1, 2]],
    [1, [0.5]],
  ])("refuses %d among %j: not whole, negative or too large", (whole, claims) => {
    expect(() => apportion(whole, claims)).toThrow("non-negative whole numbers");
  });

  it("keeps the largest safe whole exact", () => {
    expect(apportion(Number.MAX_SAFE_INTEGER, [1, 1])).toEqual([2 ** 52, 2 ** 52 - 1]);
  });
});
