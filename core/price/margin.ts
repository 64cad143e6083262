/**
 * What a jar earns: the part of its price before tax that is left when everything it costs is paid.
 */
import { WHOLE } from "../blend.ts";
import { jarCost } from "./breakdown.ts";
import { divideUp } from "./money.ts";
import type { PackCost, PricePolicy, PricedBlend } from "./policy.ts";
import { taxInPrice } from "./tariff.ts";

/**
 * Margin of a jar sold at a price, whatever price the policy would ask.
 * @param jarMinor price as the customer sees it [minor units]
 * @param costs what the materials cost now; they need not be those the price was made from
 * @returns hundredths of a percent of the price before tax, rounded down; below 0 when the jar is sold at a loss;
 *   nothing when it costs the customer nothing, because a share of nothing is no figure
 * @throws when a cost is missing
 */
export function marginShareOf(
  jarMinor: number,
  blend: PricedBlend,
  policy: PricePolicy,
  jar: { readonly id: string; readonly fillG: number },
  costs: Readonly<Record<string, PackCost>>,
): number | undefined {
  if (jarMinor === 0) return undefined;
  const whole = BigInt(WHOLE);
  const [up, down] = jarCost(blend, policy, jar, costs);
  // cost / (price x whole / (whole + tax)), in hundredths of a percent, rounded up
  const numerator = up * (whole + BigInt(taxInPrice(policy)));
  const denominator = down * BigInt(jarMinor);
  return WHOLE - Number(divideUp(numerator, denominator));
}

/**
 * The margin a policy asks for, be it written as margin or as markup.
 * @returns hundredths of a percent of the price before tax, rounded down
 */
export function marginShareAsked({ profit: { kind, share } }: Pick<PricePolicy, "profit">): number {
  return kind === "margin" ? share : Math.floor((share * WHOLE) / (WHOLE + share));
}
