import { describe, expect, it } from "vitest";
import { rebalance } from "#core/compose/rebalance.ts";

const part = (share: number, least: number, greatest: number) => ({ share, least, greatest });

describe("moving one share", () => {
  it("takes from the others in proportion to how far they stand above their least", () => {
    const parts = [part(5_000, 0, 10_000), part(4_000, 1_000, 9_000), part(1_000, 0, 9_000)];
    expect(rebalance(parts, 0, 5_400)).toEqual([5_400, 3_700, 900]); // rooms 3000 and 1000
  });

  it("gives to the others in proportion to how far they stand below their greatest", () => {
    const parts = [part(5_000, 0, 10_000), part(4_000, 0, 5_000), part(1_000, 0, 4_000)];
    expect(rebalance(parts, 0, 4_600)).toEqual([4_600, 4_100, 1_300]); // rooms 1000 and 3000
  });

  it("stops at the part's own bound, and one step inside it goes all the way", () => {
    const parts = [part(5_000, 4_000, 6_000), part(5_000, 0, 10_000)];
    expect(rebalance(parts, 0, 5_999)).toEqual([5_999, 4_001]);
    expect(rebalance(parts, 0, 6_000)).toEqual([6_000, 4_000]);
    expect(rebalance(parts, 0, 6_001)).toEqual([6_000, 4_000]);
    expect(rebalance(parts, 0, 3_999)).toEqual([4_000, 6_000]);
  });

  it("stops where the others have no room left", () => {
    const parts = [part(5_000, 0, 10_000), part(5_000, 4_900, 5_000)];
    expect(rebalance(parts, 0, 8_000)).toEqual([5_100, 4_900]);
  });

  it("leaves locked parts alone", () => {
    const parts = [part(5_000, 0, 10_000), part(3_000, 3_000, 3_000), part(2_000, 0, 10_000)];
    expect(rebalance(parts, 0, 6_000)).toEqual([6_000, 3_000, 1_000]);
  });

  it("changes nothing when the part is where it should be, or stands alone", () => {
    const parts = [part(5_000, 0, 10_000), part(5_000, 0, 10_000)];
    expect(rebalance(parts, 1, 5_000)).toEqual([5_000, 5_000]);
    expect(rebalance([part(10_000, 0, 10_000)], 0, 9_000)).toEqual([10_000]);
  });

  it("refuses a part that is not there and a share that is no whole number", () => {
    const parts = [part(5_000, 0, 10_000), part(5_000, 0, 10_000)];
    expect(() => rebalance(parts, 2, 1)).toThrow(RangeError);
    expect(() => rebalance(parts, 0, 0.5)).toThrow(RangeError);
    expect(() => rebalance(parts, 0, Number.NaN)).toThrow(RangeError);
  });
});
