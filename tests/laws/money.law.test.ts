/** Laws of money: every price covers its cost, its lines add up, and it never falls when something costs more. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { apportion } from "#core/apportion.ts";
import { type Blend, WHOLE, makeBlend } from "#core/blend.ts";
import { type PriceBreakdown, explainPrice, jarCost } from "#core/price/breakdown.ts";
import { marginShareAsked, marginShareOf } from "#core/price/margin.ts";
import { priceJar, pricePer100g } from "#core/price/price.ts";
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import { makeTariff } from "#core/price/tariff.ts";
import { taxInsideMinor, taxOnTopMinor, taxOnTopOf } from "#core/price/tax.ts";
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

const asked = {
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
};

/** What a maker may leave unsaid, said or not. */
const unsaid = {
  overheadPerJarMinor: fc.nat(2_000),
  overheadShare: fc.nat(10_000),
  taxIncluded: fc.boolean(),
  leastMinor: fc.record({ jar: fc.nat(20_000) }),
};

const policies: fc.Arbitrary<PricePolicy> = fc.record(
  { ...asked, ...unsaid },
  { requiredKeys: Object.keys(asked) as (keyof typeof asked)[] },
);

const packs: fc.Arbitrary<PackCost> = fc.record({
  packMinor: fc.nat(200_000),
  packMg: fc.integer({ min: 1_000, max: 25_000_000 }), // a gram to 25 kg
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

/** What a jar costs the maker, exactly, written down afresh: [numerator, denominator]. */
function exactCost({ policy, jar, costs, blend }: Case): readonly [bigint, bigint] {
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
  [up, down] = [up * BigInt(10_000 + (policy.overheadShare ?? 0)), down * 10_000n];
  return [up + BigInt(policy.overheadPerJarMinor ?? 0) * down, down];
}

/** The policy's price before rounding and least price, exactly. */
function exactPrice(each: Case): readonly [bigint, bigint] {
  const { profit, taxShare, taxIncluded = true } = each.policy;
  let [up, down] = exactCost(each);
  const share = BigInt(profit.share);
  if (profit.kind === "markup") [up, down] = [up * (10_000n + share), down * 10_000n];
  else [up, down] = [up * 10_000n, down * (10_000n - share)];
  return taxIncluded ? [up * BigInt(10_000 + taxShare), down * 10_000n] : [up, down];
}

const leastOf = ({ policy }: Case) => policy.leastMinor?.["jar"] ?? 0;

describe("the price of a jar", () => {
  it("is the policy's exact price rounded up to the step, or at most one step more", () => {
    fc.assert(
      fc.property(cases, (each) => {
        const [up, down] = exactPrice(each);
        const step = BigInt(each.policy.roundUpToMinor);
        const least = ((up + down * step - 1n) / (down * step)) * step;
        const price = BigInt(priceOf(each));
        expect(price >= least).toBe(true);
        if (price === BigInt(leastOf(each))) return; // the least price stands above both
        // Rates are rounded up by a billionth: it can tip a price that lies that close under a step, never more.
        expect(price - least <= step).toBe(true);
        const slack = down / 1_000n;
        if (price > least) expect(up + slack >= down * least).toBe(true);
      }),
      RUNS,
    );
  });

  it("is a multiple of the maker's step, or the least price itself", () => {
    fc.assert(
      fc.property(cases, (each) => {
        const price = priceOf(each);
        if (price !== leastOf(each)) expect(price % each.policy.roundUpToMinor).toBe(0);
      }),
      RUNS,
    );
  });

  it("is never below the least price, and moves no price that lies above it", () => {
    fc.assert(
      fc.property(cases, fc.nat(100_000), (each, least) => {
        const { leastMinor: _, ...policy } = each.policy;
        const free = priceOf({ ...each, policy });
        const held = priceOf({ ...each, policy: { ...policy, leastMinor: { jar: least } } });
        expect(held).toBe(Math.max(free, least));
      }),
      RUNS,
    );
  });

  it("is refused above the greatest price, named with both figures, and sold up to it", () => {
    fc.assert(
      fc.property(cases, fc.integer({ min: -200, max: 200 }), (each, off) => {
        const free = priceOf(each);
        const most = Math.max(1, free + off, leastOf(each));
        const policy = { ...each.policy, mostMinor: { jar: most } };
        const made = makeTariff(policy, each.jar, each.costs, IDS);
        if ("findings" in made) throw new Error("no tariff");
        expect(priceJar(made.tariff, each.blend)).toEqual(
          free <= most
            ? { jarMinor: free }
            : {
                findings: [
                  expect.objectContaining({
                    code: "price.blend.above-most",
                    measured: free,
                    limit: most,
                  }),
                ],
              },
        );
      }),
      RUNS,
    );
  });

  it("costs the maker what the cost is when it is written down afresh", () => {
    fc.assert(
      fc.property(cases, (each) => {
        const [up, down] = exactCost(each);
        const [ours, over] = jarCost(each.blend, each.policy, each.jar, each.costs);
        expect(ours * down === up * over).toBe(true);
        const { costMinor } = explained(each);
        expect(BigInt(costMinor)).toBe((up + down - 1n) / down);
      }),
      RUNS,
    );
  });

  it("holds tax only when it is said to, and then its part of the whole price", () => {
    fc.assert(
      fc.property(cases, (each) => {
        const { taxMinor, jarMinor } = explained(each);
        const { taxShare, taxIncluded = true } = each.policy;
        const due = taxIncluded ? (jarMinor * taxShare) / (10_000 + taxShare) : 0;
        expect(Math.abs(taxMinor - due)).toBeLessThanOrEqual(0.5 + 1e-6);
      }),
      RUNS,
    );
  });

  it("puts tax on top once for the whole order, to half a step, and never beside tax it holds", () => {
    const goods = fc.integer({ min: 1, max: 99_999_999 });
    const steps = fc.constantFrom(1, 10, 100);
    fc.assert(
      fc.property(policies, goods, steps, (policy, goodsMinor, stepMinor) => {
        const onTop = taxOnTopMinor(goodsMinor, taxOnTopOf(policy, stepMinor));
        const inside = taxInsideMinor(goodsMinor, policy);
        expect(onTop === 0 || inside === 0).toBe(true);
        expect(onTop % stepMinor).toBe(0);
        const due = policy.taxIncluded === false ? (goodsMinor * policy.taxShare) / 10_000 : 0;
        expect(onTop - due).toBeLessThanOrEqual(stepMinor / 2 + 1e-6);
        expect(onTop - due).toBeGreaterThan(-stepMinor / 2 - 1e-6);
      }),
      RUNS,
    );
  });

  it("earns at least the margin that was asked for", () => {
    fc.assert(
      fc.property(cases, (each) => {
        const price = priceOf(each);
        const margin = marginShareOf(price, each.blend, each.policy, each.jar, each.costs);
        if (price === 0) expect(margin).toBeUndefined();
        else expect(margin).toBeGreaterThanOrEqual(marginShareAsked(each.policy));
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
          { ...policy, overheadPerJarMinor: (policy.overheadPerJarMinor ?? 0) + more },
          { ...policy, overheadShare: (policy.overheadShare ?? 0) + Math.min(more, 10_000) },
          { ...policy, leastMinor: { jar: leastOf(each) + more } },
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
