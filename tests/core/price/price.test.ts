import { describe, expect, it } from "vitest";
import { explainPrice } from "#core/price/breakdown.ts";
import { priceJar, pricePer100g } from "#core/price/price.ts";
import { NANO, makeTariff } from "#core/price/tariff.ts";
import { COCOA_BUTTER, SHEA_BUTTER, SUNFLOWER_OIL, aBlend } from "../../helpers/ingredients.ts";
import { A_JAR, A_POLICY, COSTS } from "./a-policy.ts";

const BLEND = aBlend([SHEA_BUTTER, 60], [COCOA_BUTTER, 10], [SUNFLOWER_OIL, 30]);

function jarPrice(policy = A_POLICY): number {
  const made = makeTariff(policy, A_JAR, COSTS, Object.keys(COSTS));
  if ("findings" in made) throw new Error("no tariff");
  const price = priceJar(made.tariff, BLEND);
  if ("findings" in price) throw new Error("no price");
  return price.jarMinor;
}

describe("the price of a jar", () => {
  it("adds material, jar, label and labour, then profit and tax, and rounds up to the step", () => {
    // material 105 g x (0.6 x 1 + 0.1 x 2 + 0.3 x 0.5) = 99.75; with 365 for the rest 464.75; x 1.8 = 836.55
    expect(jarPrice()).toBe(840);
    expect(jarPrice({ ...A_POLICY, roundUpToMinor: 1 })).toBe(837);
    expect(jarPrice({ ...A_POLICY, roundUpToMinor: 50 })).toBe(850);
  });

  it("stays where it is when it already stands on the step, and takes the next step just above", () => {
    const tariff = { fixedNano: 840 * NANO, rateNano: { "shea-butter": 0 }, roundUpToMinor: 10 };
    const shea = aBlend([SHEA_BUTTER, 100]);
    expect(priceJar(tariff, shea)).toEqual({ jarMinor: 840 });
    expect(priceJar({ ...tariff, fixedNano: 840 * NANO + 1 }, shea)).toEqual({ jarMinor: 850 });
    expect(priceJar({ ...tariff, fixedNano: 830 * NANO + 1 }, shea)).toEqual({ jarMinor: 840 });
  });

  it("carries overheads: a share of what the jar costs, and an amount for each jar", () => {
    // (464.75 x 1.1 + 20) x 1.8 = 956.205
    const policy = { ...A_POLICY, overheadShare: 1_000, overheadPerJarMinor: 20 };
    expect(jarPrice({ ...policy, roundUpToMinor: 1 })).toBe(957);
  });

  it("leaves tax out when it is not part of the price", () => {
    // 464.75 x 1.5 = 697.125
    expect(jarPrice({ ...A_POLICY, taxIncluded: false, roundUpToMinor: 1 })).toBe(698);
  });

  it("keeps to the least price of its own jar, and not to another's", () => {
    expect(jarPrice({ ...A_POLICY, leastMinor: { "jar-100": 995 } })).toBe(995);
    expect(jarPrice({ ...A_POLICY, leastMinor: { "jar-100": 839 } })).toBe(840);
    expect(jarPrice({ ...A_POLICY, leastMinor: { "jar-250": 995 } })).toBe(840);
  });

  it("is refused above the greatest price, and sold at it", () => {
    const priced = (mostMinor: number) => {
      const policy = { ...A_POLICY, mostMinor: { "jar-100": mostMinor } };
      const made = makeTariff(policy, A_JAR, COSTS, Object.keys(COSTS));
      return "tariff" in made ? priceJar(made.tariff, BLEND) : made;
    };
    expect(priced(840)).toEqual({ jarMinor: 840 });
    expect(priced(839)).toMatchObject({
      findings: [
        {
          ...{ code: "price.blend.above-most", subject: "blend", mend: "customer" },
          ...{ measured: 840, limit: 839 },
        },
      ],
    });
  });

  it("is not told when the tariff does not cover an ingredient", () => {
    const tariff = { fixedNano: 0, rateNano: { "shea-butter": 1 }, roundUpToMinor: 1 };
    expect(priceJar(tariff, BLEND)).toMatchObject({
      findings: [{ code: "price.cost.unknown", subject: "cocoa-butter" }],
    });
  });
});

describe("the price per 100 g", () => {
  it.each([
    [840, 100, 840],
    [840, 250, 336],
    [1, 200, 1], // half rounds up
    [1, 201, 0],
  ])("of %d for %d g is %d", (jarMinor, fillG, per100g) => {
    expect(pricePer100g(jarMinor, fillG)).toBe(per100g);
  });
});

describe("the lines behind a price", () => {
  const breakdown = () => explainPrice(840, BLEND, A_POLICY, A_JAR, COSTS);

  it("show the maker each ingredient, jar, label, labour, profit, tax and rounding", () => {
    expect(breakdown().lines).toEqual([
      { what: "material", subject: "shea-butter", minor: 63 },
      { what: "material", subject: "cocoa-butter", minor: 21 },
      { what: "material", subject: "sunflower-oil", minor: 16 }, // 15.75
      { what: "jar", minor: 90 },
      { what: "label", minor: 25 },
      { what: "labour", minor: 250 },
      { what: "profit", minor: 232 }, // 232.375
      { what: "tax", minor: 140 }, // 840 / 6
      { what: "rounding", minor: 3 },
    ]);
  });

  it("show overheads as one line, and none when there are none", () => {
    const policy = { ...A_POLICY, overheadShare: 1_000, overheadPerJarMinor: 20 };
    const { lines, costMinor } = explainPrice(960, BLEND, policy, A_JAR, COSTS);
    expect(lines).toContainEqual({ what: "overhead", minor: 66 }); // 46.475 + 20
    expect(costMinor).toBe(532); // 531.225
    expect(breakdown().lines.some(({ what }) => what === "overhead")).toBe(false);
  });

  it("show what a least price adds without the tax on it, and leave the rounding as it was", () => {
    const policy = { ...A_POLICY, leastMinor: { "jar-100": 1_200 } };
    const { lines } = explainPrice(1_200, BLEND, policy, A_JAR, COSTS);
    expect(lines.slice(-3)).toEqual([
      { what: "tax", minor: 200 },
      { what: "least", minor: 300 }, // 1200 - 840 less the sixth that is tax
      { what: "rounding", minor: 3 },
    ]);
    expect(lines.reduce((sum, { minor }) => sum + minor, 0)).toBe(1_200);
  });

  it("show no least price where the policy asks as much, or where another price was taken", () => {
    const least = (jarMinor: number, leastMinor: number) => {
      const policy = { ...A_POLICY, leastMinor: { "jar-100": leastMinor } };
      const { lines } = explainPrice(jarMinor, BLEND, policy, A_JAR, COSTS);
      return lines.some(({ what }) => what === "least");
    };
    expect([least(840, 840), least(1_300, 1_200), least(850, 850)]).toEqual([false, false, true]);
  });

  it("show overheads of either kind alone", () => {
    const overhead = (policy: Partial<typeof A_POLICY>) =>
      explainPrice(960, BLEND, { ...A_POLICY, ...policy }, A_JAR, COSTS).lines.find(
        ({ what }) => what === "overhead",
      )?.minor;
    expect(overhead({ overheadPerJarMinor: 20 })).toBe(20);
    expect(overhead({ overheadShare: 1_000 })).toBe(46); // 46.475
    expect(overhead({ overheadPerJarMinor: 0, overheadShare: 0 })).toBeUndefined();
  });

  it("sum to the price", () => {
    expect(breakdown().lines.reduce((sum, { minor }) => sum + minor, 0)).toBe(840);
  });

  it("state the cost rounded up and the tax inside the price", () => {
    expect(breakdown()).toMatchObject({ costMinor: 465, taxMinor: 140, jarMinor: 840 });
  });

  it("reckon a margin from the price, not from the cost", () => {
    const policy = { ...A_POLICY, profit: { kind: "margin", share: 5_000 } as const };
    const { lines } = explainPrice(1_120, BLEND, policy, A_JAR, COSTS);
    expect(lines.find(({ what }) => what === "profit")).toMatchObject({ minor: 465 }); // as much as the cost
  });

  it("are not made up when a cost or a jar price is missing", () => {
    expect(() => explainPrice(840, BLEND, A_POLICY, A_JAR, {})).toThrow("no cost for shea-butter");
    expect(() => explainPrice(840, BLEND, A_POLICY, { id: "jar-250", fillG: 250 }, COSTS)).toThrow(
      "no jar price for jar-250",
    );
  });
});
