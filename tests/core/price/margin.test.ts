import { describe, expect, it } from "vitest";
import { marginShareAsked, marginShareOf } from "#core/price/margin.ts";
import { COCOA_BUTTER, SHEA_BUTTER, SUNFLOWER_OIL, aBlend } from "../../helpers/ingredients.ts";
import { A_JAR, A_POLICY, COSTS } from "./a-policy.ts";

const BLEND = aBlend([SHEA_BUTTER, 60], [COCOA_BUTTER, 10], [SUNFLOWER_OIL, 30]);

const margin = (jarMinor: number, change: Partial<typeof A_POLICY> = {}, costs = COSTS) =>
  marginShareOf(jarMinor, BLEND, { ...A_POLICY, ...change }, A_JAR, costs);

describe("the margin of a jar", () => {
  it("is what is left of the price before tax, in hundredths of a percent, rounded down", () => {
    expect(margin(840)).toBe(3_360); // 700 before tax, 464.75 of cost: 33.607 %
    expect(margin(840, { taxIncluded: false })).toBe(4_467); // 44.672 %
  });

  it("is nothing at cost and below nothing when the jar is sold at a loss", () => {
    expect(margin(465, { taxShare: 0 })).toBe(5);
    expect(margin(464, { taxShare: 0 })).toBe(-17);
  });

  it("falls when a lot came dearer than the price reckons with", () => {
    const dearer = { ...COSTS, "shea-butter": { packMinor: 2_000, packMg: 1_000_000 } };
    expect(margin(840, {}, dearer)).toBe(2_460); // 527.75 of cost
  });

  it("cannot be told of a jar that is given away", () => {
    expect(margin(0)).toBeUndefined();
  });

  it("is not made up when a cost is missing", () => {
    expect(() => margin(840, {}, {})).toThrow("no cost for shea-butter");
  });
});

describe("the margin that a policy asks for", () => {
  it.each([
    ["margin", 3_000, 3_000],
    ["markup", 5_000, 3_333],
    ["markup", 10_000, 5_000],
    ["markup", 0, 0],
  ] as const)("of a %s of %d is %d", (kind, share, asked) => {
    expect(marginShareAsked({ profit: { kind, share } })).toBe(asked);
  });
});
