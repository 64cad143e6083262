/**
 * The price of a jar and of an order, and the lines behind it that the maker sees.
 */
import { type Blend, WHOLE } from "../blend.ts";
import { type Finding, finding } from "../finding.ts";
import { divideHalfUp, divideUp } from "./money.ts";
import type { PackCost, PricePolicy } from "./policy.ts";
import { NANO, type Tariff } from "./tariff.ts";

/**
 * Price of one jar, tax included.
 * @param tariff rates that cover the blend
 * @returns minor units, rounded up to the policy's step; or the ingredient without a rate
 */
export function priceJar(
  tariff: Tariff,
  blend: Blend,
): { readonly jarMinor: number } | { readonly findings: readonly Finding[] } {
  let nano = BigInt(tariff.fixedNano);
  for (const { ingredient, share } of blend.parts) {
    const rate = tariff.rateNano[ingredient.id];
    if (rate === undefined) return { findings: [finding("price.cost.unknown", ingredient.id)] };
    nano += BigInt(rate) * BigInt(share);
  }
  const step = BigInt(tariff.roundUpToMinor) * BigInt(NANO);
  return { jarMinor: Number(divideUp(nano, step)) * tariff.roundUpToMinor };
}

/**
 * Price per 100 g, for display beside the price of the jar (Directive 98/6/EC asks for a unit price).
 * @param jarMinor price of the jar [minor units]
 * @param fillG net weight of the jar [g]
 * @returns minor units per 100 g, rounded half up
 */
export function pricePer100g(jarMinor: number, fillG: number): number {
  return Number(divideHalfUp(BigInt(jarMinor) * 100n, BigInt(fillG)));
}

export interface PriceLine {
  readonly what: "material" | "jar" | "label" | "labour" | "profit" | "tax" | "rounding";
  /** Ingredient id of a material line. */
  readonly subject?: string;
  /** [minor units] */
  readonly minor: number;
}

export interface PriceBreakdown {
  /** Lines for one jar; they sum to `jarMinor` exactly. */
  readonly lines: readonly PriceLine[];
  /** What the jar costs the maker, rounded up [minor units] */
  readonly costMinor: number;
  /** Tax inside the price, rounded half up [minor units] */
  readonly taxMinor: number;
  readonly jarMinor: number;
}

/**
 * Take a price apart for the maker.
 *
 * Each line is rounded half up from its exact value; what that rounding and the policy's step leave over stands in the
 * rounding line, so the lines always sum to the price.
 * @param jarMinor price from `priceJar` [minor units]
 * @throws when a cost is missing: the tariff would not have existed
 */
export function explainPrice(
  jarMinor: number,
  blend: Blend,
  policy: PricePolicy,
  jar: { readonly id: string; readonly fillG: number },
  costs: Readonly<Record<string, PackCost>>,
): PriceBreakdown {
  const bulk = BigInt(jar.fillG) * 1000n * BigInt(WHOLE + policy.lossShare); // mg x 10 000
  const whole = BigInt(WHOLE);
  const exact: { what: PriceLine["what"]; subject?: string; up: bigint; down: bigint }[] =
    blend.parts.map(({ ingredient, share }) => {
      const cost = costs[ingredient.id];
      if (!cost) throw new Error(`no cost for ${ingredient.id}`);
      const up = BigInt(cost.packMinor) * bulk * BigInt(share);
      return {
        what: "material",
        subject: ingredient.id,
        up,
        down: BigInt(cost.packMg) * whole * whole,
      };
    });
  const jarCost = policy.jarMinor[jar.id];
  if (jarCost === undefined) throw new Error(`no jar price for ${jar.id}`);
  exact.push({ what: "jar", up: BigInt(jarCost), down: 1n });
  exact.push({ what: "label", up: BigInt(policy.labelMinor), down: 1n });
  exact.push({
    what: "labour",
    up:
      BigInt(policy.labourPerJarMinor) * BigInt(policy.jarsPerBatch) +
      BigInt(policy.labourPerBatchMinor),
    down: BigInt(policy.jarsPerBatch),
  });
  let cost = { up: 0n, down: 1n };
  for (const { up, down } of exact) {
    cost = { up: cost.up * down + up * cost.down, down: cost.down * down };
  }
  const taxMinor = Number(
    divideHalfUp(BigInt(jarMinor) * BigInt(policy.taxShare), whole + BigInt(policy.taxShare)),
  );
  const lines: PriceLine[] = exact.map(({ what, subject, up, down }) => ({
    what,
    ...(subject ? { subject } : {}),
    minor: Number(divideHalfUp(up, down)),
  }));
  lines.push({ what: "profit", minor: profitMinor(policy, cost) });
  lines.push({ what: "tax", minor: taxMinor });
  const sum = lines.reduce((total, { minor }) => total + minor, 0);
  lines.push({ what: "rounding", minor: jarMinor - sum });
  return { lines, costMinor: Number(divideUp(cost.up, cost.down)), taxMinor, jarMinor };
}

function profitMinor({ profit }: PricePolicy, cost: { up: bigint; down: bigint }): number {
  const share = BigInt(profit.share);
  const whole = BigInt(WHOLE);
  const over = profit.kind === "markup" ? whole : whole - share;
  return Number(divideHalfUp(cost.up * share, cost.down * over));
}
