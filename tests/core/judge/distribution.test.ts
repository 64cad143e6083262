import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type FatFamily,
  distribute,
  familyOf,
  meanTagMolarMass,
  molesOfFattyAcids,
} from "#core/judge/distribution.ts";
import { fattyAcidByCode } from "#core/judge/fatty-acid.ts";

function molePercent(tags: ReturnType<typeof distribute>): Record<string, number> {
  return Object.fromEntries(tags.map(({ tag, moles }) => [tag.name, 100 * moles]));
}

/** Mole fraction of each acid in the species. */
function acidsOf(tags: ReturnType<typeof distribute>): Map<string, number> {
  const acids = new Map<string, number>();
  for (const { tag, moles } of tags) {
    for (const { code } of [tag.outer[0], tag.middle, tag.outer[1]]) {
      acids.set(code, (acids.get(code) ?? 0) + moles / 3);
    }
  }
  return acids;
}

describe("distributing fatty acids over glycerol", () => {
  it("makes one species of one acid", () => {
    expect(molePercent(distribute({ "18:1": 100 }, "seed"))).toEqual({ OOO: 100 });
    expect(molePercent(distribute({ "16:0": 100 }, "seed"))).toEqual({ PPP: 100 });
  });

  it("follows a positional analysis exactly: all oleic in the middle gives SOS and no SSO", () => {
    const two = { "18:0": (2 * 284.48) / 3, "18:1": 282.47 / 3 }; // two stearic to one oleic
    const species = molePercent(distribute(two, "seed", { "18:1": 100 }));
    expect(species["SOS"]).toBeGreaterThan(99.9);
    expect(species["SSO"]).toBeUndefined();
  });

  it("draws the outer places alike: half stearic, half oleic there gives a quarter SOS, half SOO", () => {
    const four = { "18:0": 284.48, "18:1": 2 * 282.47 };
    const species = molePercent(distribute(four, "seed", { "18:1": 100 }));
    expect(species["SOS"]).toBeCloseTo(25, 1);
    expect(species["SOO"]).toBeCloseTo(50, 1);
    expect(species["OOO"]).toBeCloseTo(25, 1);
  });

  it("keeps saturated acids of seed fats off the middle, and puts them there in palm", () => {
    const percent = { "16:0": 44, "18:0": 5, "18:1": 40, "18:2": 11 };
    const middleSaturates = (family: FatFamily) =>
      distribute(percent, family)
        .filter(({ tag }) => tag.middle.doubleBonds === 0)
        .reduce((sum, { moles }) => sum + moles, 0);
    expect(middleSaturates("seed")).toBeLessThan(0.06);
    expect(middleSaturates("palm")).toBeGreaterThan(0.13);
  });

  it("finds shea's main species near the measured mean of 36 butters: SOS 34 (31.2), SOO 28 (27.7)", () => {
    const shea = { "16:0": 4, "18:0": 43.7, "18:1": 44.2, "18:2": 6.3, "18:3": 0.2, "20:0": 1.6 };
    const species = molePercent(distribute(shea, "seed"));
    expect(Math.abs(species["SOS"]! - 31.2)).toBeLessThan(3.2);
    expect(Math.abs(species["SOO"]! - 27.7)).toBeLessThan(3);
  });

  it("names the commonest species first, and all of them sum to one", () => {
    const tags = distribute({ "16:0": 26, "18:0": 35, "18:1": 35, "18:2": 4 }, "seed");
    expect(tags.reduce((sum, { moles }) => sum + moles, 0)).toBeCloseTo(1, 12);
    const order = tags.map(({ moles }) => moles);
    expect(order).toEqual([...order].sort((one, other) => other - one));
  });

  it("keeps the acids of the analysis, however lopsided, to a point (rare species are dropped)", () => {
    const codes = ["16:0", "18:0", "18:1", "18:2"];
    const percents = fc
      .array(fc.integer({ min: 0, max: 100 }), { minLength: 4, maxLength: 4 })
      .filter((each) => each.some((percent) => percent > 0))
      .map((each) => Object.fromEntries(codes.map((code, at) => [code, each[at]!])));
    const families = fc.constantFrom<FatFamily>("seed", "palm");
    fc.assert(
      fc.property(percents, families, (percent, family) => {
        const species = acidsOf(distribute(percent, family));
        for (const [acid, fraction] of molesOfFattyAcids(percent)) {
          expect(Math.abs((species.get(acid.code) ?? 0) - fraction)).toBeLessThan(0.01);
        }
      }),
      { numRuns: 500 },
    );
  });

  it("keeps the acids of a fat with little oleic, which cannot fill the middle", () => {
    const species = acidsOf(distribute({ "18:0": 80, "18:1": 20 }, "seed"));
    expect(species.get("18:1")).toBeCloseTo(0.2, 2);
  });
});

describe("the family nobody named", () => {
  it("is lauric from a fifth of short saturated acids, and seed just below", () => {
    expect(familyOf({ "12:0": 20, "18:1": 80 })).toBe("lauric");
    expect(familyOf({ "8:0": 5, "10:0": 5, "12:0": 9.9, "18:1": 80.1 })).toBe("seed");
    expect(familyOf({})).toBe("seed");
  });
});

describe("moles from percent by mass", () => {
  it("divides by molar mass and brings the sum to one", () => {
    const moles = molesOfFattyAcids({ "12:0": 200.32, "18:0": 284.48 });
    expect(moles.get(fattyAcidByCode("12:0")!)).toBeCloseTo(0.5, 4);
    expect(moles.get(fattyAcidByCode("18:0")!)).toBeCloseTo(0.5, 4);
  });

  it("gives the molar mass of the mean triacylglycerol: 885.4 g/mol for triolein", () => {
    expect(meanTagMolarMass(molesOfFattyAcids({ "18:1": 100 }))).toBeCloseTo(885.45, 1);
  });
});
