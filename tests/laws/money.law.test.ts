/** Laws of money: every price covers its cost, its lines add up, and it never falls when something costs more. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { apportion } from "#core/apportion.ts";
import { type Blend, WHOLE, makeBlend } from "#core/blend.ts";
import { type PriceBreakdown, explainPrice } from "#core/price/breakdown.ts";
import { priceJar, pricePer100g } from "#core/price/price.ts";
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import { makeTariff } from "#core/price/tariff.ts";
import * as ingredients from "../helpers/ingredients.ts";

const POOL = [
  ...[ingredients.COCOA_BUTTER, ingredients.SHEA_BUTTER, ingredients.MANGO_BUTTER],
  ...[ingredients.COCONUT_OIL, ingredients.SUNFLOWER_OIL, ingredients.JOJOBA_OIL],
];
const IDS = POOL.map(({ id }) => id);
const RUNS = { numRuns: 400 };

type Costs = Readonly<Record<string, PackCost>>;

interface Case {
  readonly policy: PricePolicy;
  readonly jar: { readonly id: string; readonly fillG: number };
  readonly costs: Costs;
  readonly blend: Blend;
}

const policies: fc.Arbitrary<PricePolicy> = fc.record({
  lossShare: fc.integer({ min: 0, max: 2_000 }),
  jarMinor: fc.record({ jar: fc.nat(2_000) }),
  labelMinor: fc.nat(500),
  labourPerJarMinor: fc.nat(2_000),
  labourPerBatchMinor: fc.nat(20_000),
  jarsPerBatch: fc.integer({ min: 1, max: 200 }),
  profit: fc.oneof(
    fc.record({ kind: fc.constant("markup" as const), share: fc.nat(50_000) }),
    fc.record({ kind: fc.constant("margin" as const), share: fc.nat(9_500) }),
  ),
  taxShare: fc.nat(3_000),
  roundUpToMinor: fc.constantFrom(1, 5, 10, 50, 100),
});

const packs: fc.Arbitrary<PackCost> = fc.record({
  packMinor: fc.nat(200_000),
  packMg: fc.integer({ min: 1, max: 25_000_000 }),
});

const blends = fc
  .array(fc.integer({ min: 1, max: 100 }), { minLength: 1, maxLength: POOL.length })
  .map((weights) => {
    const shares = apportion(WHOLE, weights);
    return blendOf(shares.map((share, at) => [at, share]));
  });

const cases: fc.Arbitrary<Case> = fc.record({
  policy: policies,
  jar: fc.record({ id: fc.constant("jar"), fillG: fc.integer({ min: 1, max: 2_000 }) }),
  costs: fc
    .array(packs, { minLength: IDS.length, maxLength: IDS.length })
    .map((each) => Object.fromEntries(IDS.map((id, at) => [id, each[at]!]))),
  blend: blends,
});

function blendOf(shares: readonly (readonly [at: number, share: number])[]): Blend {
  const made = makeBlend(shares.map(([at, share]) => ({ ingredient: POOL[at]!, share })));
  if ("findings" in made) throw new Error("no blend");
  return made.blend;
}

function priceOf({ policy, jar, costs, blend }: Case): number {
  const made = makeTariff(policy, jar, costs, IDS);
  if ("findings" in made) throw new Error("no tariff");
  const price = priceJar(made.tariff, blend);
  if ("findings" in price) throw new Error("no price");
  return price.jarMinor;
}

function explained(each: Case): PriceBreakdown {
  return explainPrice(priceOf(each), each.blend, each.policy, each.jar, each.costs);
}

/** The policy's price before the last rounding, exactly, written down afresh: [numerator, denominator]. */
function exactPrice({ policy, jar, costs, blend }: Case): readonly [bigint, bigint] {
  let up =
    BigInt(policy.jarMinor["jar"]! + policy.labelMinor + policy.labourPerJarMinor) *
      BigInt(policy.jarsPerBatch) +
    BigInt(policy.labourPerBatchMinor);
  let down = BigInt(policy.jarsPerBatch);
  for (const { ingredient, share } of blend.parts) {
    const { packMinor, packMg } = costs[ingredient.id]!;
    const cost =
      BigInt(packMinor) *
      BigInt(jar.fillG * 1000) *
      BigInt(10_000 + policy.lossShare) *
      BigInt(share);
    const of = BigInt(packMg) * 100_000_000n;
    [up, down] = [up * of + cost * down, down * of];
  }
  const profit = BigInt(policy.profit.share);
  if (policy.profit.kind === "markup") [up, down] = [up * (10_000n + profit), down * 10_000n];
  else [up, down] = [up * 10_000n, down * (10_000n - profit)];
  return [up * BigInt(10_000 + policy.taxShare), down * 10_000n];
}

describe("the price of a jar", () => {
  it("is the policy's exact price rounded up to the step, or at most one step more", () => {
    fc.assert(
      fc.property(cases, (each) => {
        const [up, down] = exactPrice(each);
        const step = BigInt(each.policy.roundUpToMinor);
        const least = ((up + down * step - 1n) / (down * step)) * step;
        const price = BigInt(priceOf(each));
        expect(price >= least).toBe(true);
        // Rates are rounded up by a billionth: it can tip a price that lies that close under a step, never more.
        expect(price - least <= step).toBe(true);
        const slack = down / 1_000n;
        if (price > least) expect(up + slack >= down * least).toBe(true);
      }),
      RUNS,
    );
  });

  it("is a multiple of the maker's step", () => {
    fc.assert(
      fc.property(cases, (each) => {
        expect(priceOf(each) % each.policy.roundUpToMinor).toBe(0);
      }),
      RUNS,
    );
  });

  it("is never below cost, nor below cost and tax together", () => {
    fc.assert(
      fc.property(cases, (each) => {
        const { costMinor, taxMinor, jarMinor } = explained(each);
        expect(jarMinor).toBeGreaterThanOrEqual(costMinor);
        expect(jarMinor - taxMinor).toBeGreaterThanOrEqual(costMinor - 1); // tax is rounded half up
      }),
      RUNS,
    );
  });

  it("is the sum of the lines the maker sees", () => {
    fc.assert(
      fc.property(cases, (each) => {
        const { lines, jarMinor } = explained(each);
        expect(lines.reduce((total, { minor }) => total + minor, 0)).toBe(jarMinor);
        expect(lines.every(({ minor }) => Number.isSafeInteger(minor))).toBe(true);
      }),
      RUNS,
    );
  });

  it("leaves no more to the rounding line than the step and half a unit for each other line", () => {
    fc.assert(
      fc.property(cases, (each) => {
        const { lines } = explained(each);
        const rounding = lines.find(({ what }) => what === "rounding")!.minor;
        const limit = each.policy.roundUpToMinor + lines.length / 2 + 1;
        expect(Math.abs(rounding)).toBeLessThanOrEqual(limit);
      }),
      RUNS,
    );
  });

  it("never falls when an ingredient, the jar, the labour or the tax costs more", () => {
    fc.assert(
      fc.property(cases, fc.constantFrom(...IDS), fc.nat(50_000), (each, id, more) => {
        const before = priceOf(each);
        const { packMinor, packMg } = each.costs[id]!;
        const costs = { ...each.costs, [id]: { packMinor: packMinor + more, packMg } };
        const { policy } = each;
        expect(priceOf({ ...each, costs })).toBeGreaterThanOrEqual(before);
        for (const dearer of [
          { ...policy, jarMinor: { jar: policy.jarMinor["jar"]! + more } },
          { ...policy, labelMinor: policy.labelMinor + more },
          { ...policy, labourPerBatchMinor: policy.labourPerBatchMinor + more },
          { ...policy, lossShare: Math.min(10_000, policy.lossShare + more) },
          { ...policy, taxShare: Math.min(10_000, policy.taxShare + more) },
        ]) {
          expect(priceOf({ ...each, policy: dearer })).toBeGreaterThanOrEqual(before);
        }
      }),
      RUNS,
    );
  });

  it("never falls when a dearer ingredient takes the place of a cheaper one at the same share", () => {
    fc.assert(
      fc.property(cases, fc.integer({ min: 0, max: WHOLE }), (each, share) => {
        const [first, second] = [IDS[0]!, IDS[1]!];
        const perGram = (id: string) => each.costs[id]!.packMinor / each.costs[id]!.packMg;
        const [cheap, dear] = perGram(first) <= perGram(second) ? [0, 1] : [1, 0];
        const withThis = (at: number) =>
          priceOf({
            ...each,
            blend: blendOf([
              [at, share],
              [2, WHOLE - share],
            ]),
          });
        expect(withThis(dear)).toBeGreaterThanOrEqual(withThis(cheap));
      }),
      RUNS,
    );
  });

  it("per 100 g is the price by weight, to half a unit", () => {
    fc.assert(
      fc.property(fc.nat(99_999_999), fc.integer({ min: 1, max: 5_000 }), (jarMinor, fillG) => {
        const off =
          2n * (BigInt(pricePer100g(jarMinor, fillG)) * BigInt(fillG) - 100n * BigInt(jarMinor));
        expect(off <= BigInt(fillG) && -off < BigInt(fillG) + 1n).toBe(true);
      }),
    );
  });
});
