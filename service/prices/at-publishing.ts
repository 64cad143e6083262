/**
 * What jars sold for and earned when a version was published, kept with the version so that a later fall can be told.
 */
import { composeBlend } from "#core/compose/compose.ts";
import { type Product, ingredientsOf, startingChoice } from "#core/compose/product.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { marginShareOf } from "#core/price/margin.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import { priceJar } from "#core/price/price.ts";
import { makeTariff } from "#core/price/tariff.ts";
import * as z from "zod";
import type { Costs } from "./material-costs.ts";

const whole = z.int().min(0);

/** Stored as `prices` in the JSON of `product_versions.room`. */
const PricesAtPublishingShape = z.object({
  /** By base id, then jar id. */
  jars: z.record(
    z.string(),
    z.record(z.string(), z.object({ jarMinor: whole, marginShare: z.int() })),
  ),
  /** What the materials of the bases cost then, by ingredient id. */
  costs: z.record(z.string(), z.object({ packMinor: whole, packMg: z.int().positive() })),
});

export type PricesAtPublishing = z.infer<typeof PricesAtPublishingShape>;

/**
 * Prices and margins of every base, as the maker wrote it, in every jar.
 * @param costs those the price is made from (`materialCosts`)
 * @returns to be stored with the version; a base or jar without a price is left out
 */
export function pricesAtPublishing(
  product: Product,
  policy: PricePolicy,
  costs: Costs,
  ingredientOf: (id: string) => Ingredient | undefined,
): PricesAtPublishing {
  const jars: Record<string, Record<string, { jarMinor: number; marginShare: number }>> = {};
  const used: Record<string, Costs[string]> = {};
  for (const base of product.bases) {
    const composed = composeBlend(product, startingChoice(base), ingredientOf);
    if ("findings" in composed) continue;
    const { blend } = composed;
    for (const jar of product.jars) {
      const made = makeTariff(policy, jar, costs, ingredientsOf(product));
      const priced = "tariff" in made ? priceJar(made.tariff, blend) : made;
      if ("findings" in priced) continue;
      const { jarMinor } = priced;
      const marginShare = marginShareOf(jarMinor, blend, policy, jar, costs);
      if (marginShare === undefined) continue;
      (jars[base.id] ??= {})[jar.id] = { jarMinor, marginShare };
      for (const { ingredient } of blend.parts) used[ingredient.id] = costs[ingredient.id]!;
    }
  }
  return { jars, costs: used };
}

/** The prices stored with a version; nothing when none were recorded. */
export function recordedPrices(room: string | null): PricesAtPublishing | undefined {
  if (room === null) return undefined;
  const stored = JSON.parse(room) as { readonly prices?: unknown };
  const read = PricesAtPublishingShape.safeParse(stored.prices);
  return read.success ? read.data : undefined;
}
