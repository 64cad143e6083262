/**
 * Tax of an order: held by the price a customer sees, or put on top of it before the customer pays.
 */
import { WHOLE } from "../blend.ts";
import { divideHalfUp } from "./money.ts";
import type { PricePolicy } from "./policy.ts";
import { taxInPrice } from "./tariff.ts";

/** Tax that comes on top of the prices of a product. */
export interface TaxOnTop {
  /** [hundredths of a percent of the price before tax] */
  readonly share: number;
  /** What the till charges is a multiple of this [minor units] */
  readonly stepMinor: number;
}

/**
 * The tax a policy puts on top.
 * @param stepMinor least step of what the till can charge [minor units]
 * @returns nothing when the price holds its tax, or none is charged
 */
export function taxOnTopOf(
  { taxShare, taxIncluded = true }: Pick<PricePolicy, "taxShare" | "taxIncluded">,
  stepMinor = 1,
): TaxOnTop | undefined {
  return taxIncluded || taxShare === 0 ? undefined : { share: taxShare, stepMinor };
}

/** Tax on top of an order, rounded half up once for all its jars [minor units] */
export function taxOnTopMinor(goodsMinor: number, tax: TaxOnTop | undefined): number {
  if (!tax) return 0;
  const [share, step] = [BigInt(tax.share), BigInt(tax.stepMinor)];
  return Number(divideHalfUp(BigInt(goodsMinor) * share, BigInt(WHOLE) * step) * step);
}

/** Tax that an amount holds by a policy, rounded half up [minor units] */
export function taxInsideMinor(totalMinor: number, policy: PricePolicy): number {
  const share = BigInt(taxInPrice(policy));
  return Number(divideHalfUp(BigInt(totalMinor) * share, BigInt(WHOLE) + share));
}
