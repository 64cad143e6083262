import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PricePolicy } from "#core/price/policy.ts";
import { tenths, trialWords } from "#service/prices/trial-words.ts";
import { type Trial, type TrialGround, tryPolicy } from "#service/prices/what-if.ts";
import { TILL_CURRENCIES } from "#service/tills/currency-table.ts";
import { A_JAR, A_POLICY, COSTS } from "../../core/price/a-policy.ts";

const JAR = { ...A_JAR, name: "Jar" };
const parts = [
  { id: "shea-butter", name: "Shea", share: 6_000 },
  { id: "cocoa-butter", name: "Cocoa", share: 1_000 },
  { id: "sunflower-oil", name: "Sunflower", share: 3_000 },
];

const GROUND: TrialGround = {
  currency: TILL_CURRENCIES.get("GBP")!,
  locale: "en-GB",
  jars: [JAR],
  blends: [
    { key: "soft start", name: "Soft, as you wrote it", parts, trouble: "" },
    { key: "open start", name: "Open", parts: [], trouble: "Open is not finished." },
  ],
  costs: {
    pack: COSTS,
    "dearest-lot": { ...COSTS, "shea-butter": { packMinor: 2_000, packMg: 1_000_000 } },
  },
};

const trial = (change: Partial<PricePolicy> = {}) =>
  tryPolicy(GROUND, { ...A_POLICY, ...change }, "soft start", "jar-100") as Trial;

describe("a policy that is tried", () => {
  it("gives price, cost, what is kept and the margin", () => {
    expect(trial()).toMatchObject({
      jarMinor: 840,
      per100gMinor: 840,
      costMinor: 465,
      keptMinor: 235,
      marginShare: 3_360,
      askedShare: 3_333,
      notes: [],
    });
  });

  it("is priced at the dearest lot when it says so", () => {
    // material 99.75 + 63; (162.75 + 365) x 1.8 = 949.95
    expect(trial({ materialAt: "dearest-lot" }).jarMinor).toBe(950);
  });

  it("says when a limit is met, and still tells the price", () => {
    expect(trial({ mostMinor: { "jar-100": 800 } })).toMatchObject({
      jarMinor: 840,
      notes: ["This blend is dearer than your greatest price, so a customer cannot order it."],
    });
    expect(trial({ leastMinor: { "jar-100": 900 } })).toMatchObject({
      jarMinor: 900,
      notes: ["Your least price lifts this jar above what the policy asks."],
    });
  });

  it.each([
    ["soft start", "jar-9", "This product has no jar yet. Add one, then try its price."],
    ["gone", "jar-100", "This product has no base yet. Write one, then try its price."],
    ["open start", "jar-100", "Open is not finished."],
  ])("with blend “%s” in jar “%s” says why there is no price", (key, jar, sentence) => {
    expect(tryPolicy(GROUND, A_POLICY, key, jar)).toEqual({ because: [sentence] });
  });

  it("names the ingredient whose cost is missing", () => {
    const { "shea-butter": _, ...rest } = COSTS;
    const ground = { ...GROUND, costs: { pack: rest, "dearest-lot": rest } };
    const { because } = tryPolicy(ground, A_POLICY, "soft start", "jar-100") as {
      because: string[];
    };
    expect(because).toEqual(["The cost of Shea is not on record, so this blend cannot be priced."]);
  });
});

describe("the bar of a trial", () => {
  it("fills its width, adds up to the price, and numbers what it has room for", () => {
    const policies = fc.record({
      overheadPerJarMinor: fc.nat(500),
      taxShare: fc.nat(3_000),
      labourPerJarMinor: fc.nat(2_000),
      leastMinor: fc.record({ "jar-100": fc.nat(5_000) }),
    });
    fc.assert(
      fc.property(policies, (change) => {
        const tried = trial(change);
        const whole = tried.shares.reduce((sum, { minor }) => sum + minor, 0);
        expect(whole).toBe(tried.jarMinor);
        const { bar, lines } = trialWords(tried, GROUND);
        const ends = bar.map(({ x, width }) => Number.parseFloat(x) + Number.parseFloat(width));
        expect(Number.parseFloat(bar[0]!.x)).toBe(0);
        expect(ends.at(-1)).toBeCloseTo(100, 1);
        bar.slice(1).forEach(({ x }, at) => expect(Number.parseFloat(x)).toBeCloseTo(ends[at]!, 1));
        for (const { middle, width } of bar) {
          expect(middle === "").toBe(Number.parseFloat(width) < 5);
        }
        // Every number of the bar stands at a line of the table.
        const numbers = new Set(lines.map(({ number }) => number));
        expect(bar.every(({ number }) => numbers.has(number))).toBe(true);
      }),
    );
  });

  it("is told in one sentence", () => {
    expect(trialWords(trial(), GROUND)).toMatchObject({
      short: "£8.40 a jar · costs you £4.65 · margin 33.6\u00a0%",
      told: "Material 11.9\u00a0%, Jar and label 13.7\u00a0%, Labour 29.8\u00a0%, You keep 28.0\u00a0%, Tax 16.7\u00a0%",
      total: "£8.40",
    });
  });

  it.each([
    [3_360, "33.6"],
    [3_369, "33.6"],
    [3_000, "30.0"],
    [0, "0.0"],
    [-17, "\u22120.2"],
  ])("a margin of %d reads %s", (share, words) => {
    expect(tenths(share)).toBe(words);
  });
});
