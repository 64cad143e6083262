/**
 * The price of a jar, from its tariff.
 */
import { type Finding, finding } from "../finding.ts";
import { divideHalfUp, divideUp } from "./money.ts";
import type { PricedBlend } from "./policy.ts";
import { NANO, type Tariff } from "./tariff.ts";

/**
 * Price of one jar as the customer sees it.
 * @param tariff rates that cover the blend
 * @returns minor units, rounded up to the policy's step and not below its least; or the ingredient without a rate, or
 *   that the jar would be dearer than the maker sells it
 */
export function priceJar(
  tariff: Tariff,
  blend: PricedBlend,
): { readonly jarMinor: number } | { readonly findings: readonly Finding[] } {
  let nano = BigInt(tariff.fixedNano);
  for (const { ingredient, share } of blend.parts) {
    const rate = tariff.rateNano[ingredient.id];
    if (rate === undefined) return { findings: [finding("price.cost.unknown", ingredient.id)] };
    nano += BigInt(rate) * BigInt(share);
  }
  const step = BigInt(tariff.roundUpToMinor) * BigInt(NANO);
  const { roundUpToMinor, leastMinor = 0, mostMinor = Infinity } = tariff;
  const jarMinor = Math.max(Number(divideUp(nano, step)) * roundUpToMinor, leastMinor);
  if (jarMinor <= mostMinor) return { jarMinor };
  const figures = { measured: jarMinor, limit: mostMinor };
  return { findings: [finding("price.blend.above-most", "blend", figures)] };
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
