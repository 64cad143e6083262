/**
 * A tariff: what a customer pays for a jar, as a fixed amount and a rate per ingredient, before the last rounding.
 *
 * Cost, loss allowance, overheads, profit and tax are all linear in the shares, so one list of rates prices every
 * blend of a product with a few additions, on the page and in the service alike, and shows a customer no cost.
 * Rates are integers in billionths of a minor unit, rounded up: the tariff never falls below what the policy asks,
 * and the rounding is worth less than a hundredth of a minor unit a jar.
 */
import { WHOLE } from "../blend.ts";
import { type Finding, finding } from "../finding.ts";
import { divideUp } from "./money.ts";
import { type PackCost, type PricePolicy, policyFindings } from "./policy.ts";

/** Billionths of a minor unit in a minor unit. */
export const NANO = 1_000_000_000;

export interface Tariff {
  /** Price of a jar with nothing in it [billionths of a minor unit] */
  readonly fixedNano: number;
  /** Price of a hundredth of a percent of each ingredient [billionths of a minor unit] */
  readonly rateNano: Readonly<Record<string, number>>;
  /** The price is rounded up to a multiple of this [minor units] */
  readonly roundUpToMinor: number;
  /** The price never falls below this [minor units] */
  readonly leastMinor?: number;
  /** A dearer jar is not sold [minor units] */
  readonly mostMinor?: number;
}

const SHARE_WHOLE = BigInt(WHOLE);
const MG_PER_G = 1000n;

/**
 * Work a tariff out.
 * @param policy the maker's price policy
 * @param jar id and fill [g, whole number]
 * @param costs what a pack of each ingredient costs
 * @param ingredients ids the tariff must cover
 * @returns the tariff, or findings that name a missing cost or an impossible policy
 */
export function makeTariff(
  policy: PricePolicy,
  jar: { readonly id: string; readonly fillG: number },
  costs: Readonly<Record<string, PackCost>>,
  ingredients: readonly string[],
): { readonly tariff: Tariff } | { readonly findings: readonly Finding[] } {
  const findings: Finding[] = [...policyFindings(policy)];
  const jarMinor = policy.jarMinor[jar.id];
  if (jarMinor === undefined) findings.push(finding("price.cost.unknown", jar.id));
  for (const id of ingredients) {
    const cost = costs[id];
    const known = cost && Number.isSafeInteger(cost.packMinor) && cost.packMinor >= 0;
    if (!known || !Number.isSafeInteger(cost.packMg) || cost.packMg < 1) {
      findings.push(finding("price.cost.unknown", id));
    }
  }
  if (findings.length > 0 || jarMinor === undefined) return { findings };

  const [up, down] = priceOverCost(policy);
  const [overUp, overDown] = overheadOverCost(policy);
  const jars = BigInt(policy.jarsPerBatch);
  const perJar =
    BigInt(jarMinor + policy.labelMinor + policy.labourPerJarMinor) * jars +
    BigInt(policy.labourPerBatchMinor);
  const withOverheads = perJar * overUp + BigInt(policy.overheadPerJarMinor ?? 0) * jars * overDown;
  const fixed = divideUp(withOverheads * BigInt(NANO) * up, jars * overDown * down);
  const bulkG = BigInt(jar.fillG) * (SHARE_WHOLE + BigInt(policy.lossShare)); // x 10 000
  const rateNano = Object.fromEntries(
    ingredients.map((id) => {
      const { packMinor, packMg } = costs[id]!;
      const numerator = BigInt(packMinor) * bulkG * MG_PER_G * BigInt(NANO) * up * overUp;
      const rate = divideUp(
        numerator,
        BigInt(packMg) * SHARE_WHOLE * SHARE_WHOLE * down * overDown,
      );
      return [id, Number(rate)];
    }),
  );
  const fixedNano = Number(fixed);
  if (![fixedNano, ...Object.values(rateNano)].every(Number.isSafeInteger)) {
    // Nine million minor units a jar: beyond it the billionths would be rounded, maybe below cost.
    return { findings: [finding("price.policy.impossible", "an amount is too large")] };
  }
  const leastMinor = policy.leastMinor?.[jar.id];
  const mostMinor = policy.mostMinor?.[jar.id];
  return {
    tariff: {
      fixedNano,
      rateNano,
      roundUpToMinor: policy.roundUpToMinor,
      ...(leastMinor === undefined ? {} : { leastMinor }),
      ...(mostMinor === undefined ? {} : { mostMinor }),
    },
  };
}

/** Cost with the share of overheads over cost without, as an exact fraction. */
export function overheadOverCost({ overheadShare = 0 }: PricePolicy): readonly [bigint, bigint] {
  return [SHARE_WHOLE + BigInt(overheadShare), SHARE_WHOLE];
}

/** Share of tax that the price a customer sees holds [hundredths of a percent] */
export function taxInPrice({ taxShare, taxIncluded = true }: PricePolicy): number {
  return taxIncluded ? taxShare : 0;
}

/** Price over cost as an exact fraction: profit, then what tax the price holds. */
export function priceOverCost(policy: PricePolicy): readonly [bigint, bigint] {
  const { profit } = policy;
  const [up, down] =
    profit.kind === "markup"
      ? [SHARE_WHOLE + BigInt(profit.share), SHARE_WHOLE]
      : [SHARE_WHOLE, SHARE_WHOLE - BigInt(profit.share)];
  return [up * (SHARE_WHOLE + BigInt(taxInPrice(policy))), down * SHARE_WHOLE];
}
