import { describe, expect, it } from "vitest";
import { taxInsideMinor, taxOnTopMinor, taxOnTopOf } from "#core/price/tax.ts";
import { A_POLICY } from "./a-policy.ts";

describe("tax on top of a price", () => {
  it("is what the policy says when the price holds none of it", () => {
    const policy = { taxShare: 2_000, taxIncluded: false };
    expect(taxOnTopOf(policy)).toEqual({ share: 2_000, stepMinor: 1 });
    expect(taxOnTopOf(policy, 100)).toEqual({ share: 2_000, stepMinor: 100 });
  });

  it("is none when the price holds it, as it does unless said otherwise, or none is charged", () => {
    expect(taxOnTopOf({ taxShare: 2_000 })).toBeUndefined();
    expect(taxOnTopOf({ taxShare: 2_000, taxIncluded: true })).toBeUndefined();
    expect(taxOnTopOf({ taxShare: 0, taxIncluded: false })).toBeUndefined();
  });

  it.each([
    [1_000, 2_000, 1, 200],
    [1_237, 2_000, 1, 247], // 247.4
    [1_238, 2_000, 1, 248], // 247.6
    [25, 1_000, 1, 3], // 2.5: half rounds up
    [0, 2_000, 1, 0],
    // A till that charges whole hundreds only:
    [1_240, 2_000, 100, 200], // 248
    [1_250, 2_000, 100, 300], // 250: half rounds up
  ])("of %d at %d hundredths of a percent in steps of %d is %d", (goods, share, stepMinor, tax) => {
    expect(taxOnTopMinor(goods, { share, stepMinor })).toBe(tax);
  });

  it("is nothing where none comes on top", () => {
    expect(taxOnTopMinor(1_000, undefined)).toBe(0);
  });
});

describe("tax inside a price", () => {
  it.each([
    [1_200, 2_000, 200],
    [100, 2_000, 17], // 16.67
    [104, 2_000, 17], // 17.33
    [3, 2_000, 1], // 0.5: half rounds up
    [0, 2_000, 0],
    [1_200, 0, 0],
  ])("of %d at %d hundredths of a percent is %d", (total, taxShare, tax) => {
    expect(taxInsideMinor(total, { ...A_POLICY, taxShare })).toBe(tax);
  });

  it("is none where it comes on top", () => {
    expect(taxInsideMinor(1_200, { ...A_POLICY, taxIncluded: false })).toBe(0);
  });
});
