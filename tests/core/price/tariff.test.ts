import { describe, expect, it } from "vitest";
import { NANO, makeTariff, priceOverCost } from "#core/price/tariff.ts";
import { A_JAR, A_POLICY, COSTS } from "./a-policy.ts";

const IDS = Object.keys(COSTS);

function tariffOf(...change: readonly [Partial<typeof A_POLICY>?]) {
  const made = makeTariff({ ...A_POLICY, ...change[0] }, A_JAR, COSTS, IDS);
  if ("findings" in made) throw new Error(made.findings.map(({ code }) => code).join());
  return made.tariff;
}

describe("a tariff", () => {
  it("holds the fixed part: jar, label and labour, with profit and tax", () => {
    // (90 + 25 + 150 + 1200 / 12) x 1.5 x 1.2 = 657
    expect(tariffOf().fixedNano).toBe(657 * NANO);
  });

  it("holds a rate for a hundredth of a percent of each ingredient, loss included", () => {
    // 105 g x 1 a gram / 10 000 x 1.8 = 0.0189
    expect(tariffOf().rateNano).toEqual({
      "shea-butter": 0.0189 * NANO,
      "cocoa-butter": 0.0378 * NANO,
      "sunflower-oil": 0.00945 * NANO,
    });
  });

  it("rounds a rate up, never down", () => {
    const { rateNano } = tariffOf({
      lossShare: 0,
      taxShare: 0,
      profit: { kind: "margin", share: 7_000 },
    });
    // 100 g x 1 / 10 000 / 0.3 = 0.033333...
    expect(rateNano["shea-butter"]).toBe(33_333_334);
  });

  it.each([
    ["no cost on record", undefined],
    ["a pack of no weight", { packMinor: 100, packMg: 0 }],
    ["a price that is no whole number", { packMinor: 0.5, packMg: 100_000 }],
    ["a price below nothing", { packMinor: -1, packMg: 100_000 }],
    ["a price that a sum would round", { packMinor: 2 ** 53, packMg: 100_000 }],
    ["a weight that is no whole number", { packMinor: 100, packMg: 100_000.5 }],
    ["a weight below nothing", { packMinor: 100, packMg: -100_000 }],
  ])("cannot be made with %s", (_, cost) => {
    const { "shea-butter": _left, ...others } = COSTS;
    const costs = cost ? { ...others, "shea-butter": cost } : others;
    expect(makeTariff(A_POLICY, A_JAR, costs, IDS)).toMatchObject({
      findings: [{ code: "price.cost.unknown", subject: "shea-butter" }],
    });
  });

  it("holds a jar of nine million minor units exactly, and refuses one it could not hold", () => {
    const plain = { ...A_POLICY, profit: { kind: "markup", share: 0 } as const, taxShare: 0 };
    const bare = { ...plain, labelMinor: 0, labourPerJarMinor: 0, labourPerBatchMinor: 0 };
    const jarOf = (minor: number) =>
      makeTariff({ ...bare, jarMinor: { "jar-100": minor } }, A_JAR, COSTS, IDS);
    expect(jarOf(9_007_199)).toMatchObject({ tariff: { fixedNano: 9_007_199 * NANO } });
    expect(jarOf(9_007_200)).toMatchObject({
      findings: [{ code: "price.policy.impossible", subject: "an amount is too large" }],
    });
  });

  it("takes a pack of a milligram", () => {
    const costs = { ...COSTS, "shea-butter": { packMinor: 0, packMg: 1 } };
    expect(makeTariff(A_POLICY, A_JAR, costs, IDS)).toHaveProperty("tariff");
  });

  it("tells a least and a greatest price of its own jar, and none that nobody set", () => {
    expect(Object.keys(tariffOf()).sort()).toEqual(["fixedNano", "rateNano", "roundUpToMinor"]);
    const other = { leastMinor: { "jar-250": 5 }, mostMinor: { "jar-250": 9 } };
    expect(tariffOf(other)).not.toHaveProperty("leastMinor");
    expect(tariffOf(other)).not.toHaveProperty("mostMinor");
    const own = { leastMinor: { "jar-100": 0 }, mostMinor: { "jar-100": 900 } };
    expect(tariffOf(own)).toMatchObject({ leastMinor: 0, mostMinor: 900, roundUpToMinor: 10 });
  });

  it("takes an ingredient that costs nothing", () => {
    const costs = { ...COSTS, "shea-butter": { packMinor: 0, packMg: 1_000 } };
    const made = makeTariff(A_POLICY, A_JAR, costs, IDS);
    expect(made).toMatchObject({ tariff: { rateNano: { "shea-butter": 0 } } });
  });

  it("names a jar without a price and an impossible policy together", () => {
    const policy = { ...A_POLICY, roundUpToMinor: 0 };
    expect(makeTariff(policy, { id: "jar-250", fillG: 250 }, COSTS, IDS)).toMatchObject({
      findings: [
        { code: "price.policy.impossible", subject: "rounding step" },
        { code: "price.cost.unknown", subject: "jar-250" },
      ],
    });
  });
});

describe("price over cost", () => {
  const ratio = (change: Partial<typeof A_POLICY>) => {
    const [up, down] = priceOverCost({ ...A_POLICY, ...change });
    return Number(up) / Number(down);
  };

  it("adds a markup to the cost and takes a margin out of the price", () => {
    expect(ratio({ profit: { kind: "markup", share: 5_000 }, taxShare: 0 })).toBe(1.5);
    expect(ratio({ profit: { kind: "margin", share: 5_000 }, taxShare: 0 })).toBe(2);
  });

  it("puts the tax on top", () => {
    expect(ratio({ profit: { kind: "markup", share: 0 }, taxShare: 2_000 })).toBe(1.2);
  });
});
