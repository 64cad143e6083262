/**
 * The lines behind a price, for the maker: where the money of one jar goes.
 */
import { WHOLE } from "../blend.ts";
import { type Fraction, add, divideUp, roundHalfUp, times } from "./money.ts";
import type { PackCost, PricePolicy, PricedBlend } from "./policy.ts";
import { overheadOverCost, priceOverCost } from "./tariff.ts";
import { taxInsideMinor } from "./tax.ts";

export interface PriceLine {
  /** "least" is what the least price adds to what policy and rounding would ask, its tax left out. */
  readonly what:
    "material" | "jar" | "label" | "labour" | "overhead" | "profit" | "tax" | "least" | "rounding";
  /** Ingredient id of a material line. */
  readonly subject?: string;
  /** [minor units] */
  readonly minor: number;
}

export interface PriceBreakdown {
  /** Lines for one jar; they sum to `jarMinor` exactly. */
  readonly lines: readonly PriceLine[];
  /** What the jar costs the maker, overheads among it, rounded up [minor units] */
  readonly costMinor: number;
  /** Tax inside the price, rounded half up [minor units]; 0 when the price holds none */
  readonly taxMinor: number;
  readonly jarMinor: number;
}

type ExactLine = Pick<PriceLine, "what" | "subject"> & { readonly of: Fraction };

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
  blend: PricedBlend,
  policy: PricePolicy,
  jar: { readonly id: string; readonly fillG: number },
  costs: Readonly<Record<string, PackCost>>,
): PriceBreakdown {
  const { exact, overhead, cost } = costOf(blend, policy, jar, costs);
  const taxMinor = taxInsideMinor(jarMinor, policy);
  const lines: PriceLine[] = [
    ...exact.map(({ of, ...line }) => ({ ...line, minor: roundHalfUp(of) })),
    ...(overhead[0] > 0n ? [{ what: "overhead" as const, minor: roundHalfUp(overhead) }] : []),
    { what: "profit", minor: profitMinor(policy, cost) },
    { what: "tax", minor: taxMinor },
  ];
  const least = raisedByLeast(jarMinor, policy, jar.id, cost);
  if (least > 0) lines.push({ what: "least", minor: least });
  const sum = lines.reduce((total, { minor }) => total + minor, 0);
  lines.push({ what: "rounding", minor: jarMinor - sum });
  return { lines, costMinor: Number(divideUp(...cost)), taxMinor, jarMinor };
}

/**
 * What one jar costs the maker, exactly: material with its loss, jar, label, labour and overheads [minor units].
 * @throws when the cost of an ingredient or of the jar is missing
 */
export function jarCost(...priced: Parameters<typeof costOf>): Fraction {
  return costOf(...priced).cost;
}

const NOTHING: Fraction = [0n, 1n];

function costOf(
  blend: PricedBlend,
  policy: PricePolicy,
  jar: { readonly id: string; readonly fillG: number },
  costs: Readonly<Record<string, PackCost>>,
) {
  const exact = [...materialLines(blend, policy, jar.fillG, costs), ...workLines(policy, jar.id)];
  const bare = exact.reduce((sum, { of }) => add(sum, of), NOTHING);
  const [overUp, overDown] = overheadOverCost(policy);
  const perJar = BigInt(policy.overheadPerJarMinor ?? 0);
  const overhead = add(times(bare, overUp - overDown, overDown), [perJar, 1n]);
  return { exact, overhead, cost: add(bare, overhead) };
}

function materialLines(
  { parts }: PricedBlend,
  { lossShare }: PricePolicy,
  fillG: number,
  costs: Readonly<Record<string, PackCost>>,
): ExactLine[] {
  const bulk = BigInt(fillG) * 1000n * BigInt(WHOLE + lossShare); // mg x 10 000
  const whole = BigInt(WHOLE);
  return parts.map(({ ingredient: { id }, share }) => {
    const cost = costs[id];
    if (!cost) throw new Error(`no cost for ${id}`);
    const up = BigInt(cost.packMinor) * bulk * BigInt(share);
    return { what: "material", subject: id, of: [up, BigInt(cost.packMg) * whole * whole] };
  });
}

function workLines(policy: PricePolicy, jarId: string): ExactLine[] {
  const jarMinor = policy.jarMinor[jarId];
  if (jarMinor === undefined) throw new Error(`no jar price for ${jarId}`);
  const jars = BigInt(policy.jarsPerBatch);
  const labour = BigInt(policy.labourPerJarMinor) * jars + BigInt(policy.labourPerBatchMinor);
  return [
    { what: "jar", of: [BigInt(jarMinor), 1n] },
    { what: "label", of: [BigInt(policy.labelMinor), 1n] },
    { what: "labour", of: [labour, jars] },
  ];
}

function profitMinor({ profit }: PricePolicy, cost: Fraction): number {
  const share = BigInt(profit.share);
  const over = BigInt(WHOLE) - (profit.kind === "markup" ? 0n : share);
  return roundHalfUp(times(cost, share, over));
}

/** What the least price adds to the price that policy and rounding ask, without the tax on it [minor units] */
function raisedByLeast(
  jarMinor: number,
  policy: PricePolicy,
  jarId: string,
  cost: Fraction,
): number {
  if (jarMinor !== policy.leastMinor?.[jarId]) return 0;
  const [up, down] = times(cost, ...priceOverCost(policy));
  const step = BigInt(policy.roundUpToMinor);
  const asked = Math.min(jarMinor, Number(divideUp(up, down * step) * step));
  return jarMinor - taxInsideMinor(jarMinor, policy) - (asked - taxInsideMinor(asked, policy));
}
