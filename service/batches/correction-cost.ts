/**
 * What a correction does to the cost of the material; the price stays what the customer paid.
 */
import { type Fraction, add, roundHalfUp } from "#core/price/money.ts";
import type { PackCost } from "#core/price/policy.ts";
import { pantryOf } from "../actions/pantry.ts";
import type { Shop } from "../ports.ts";
import { materialCosts } from "../prices/material-costs.ts";
import { PricePolicyShape } from "../shapes.ts";
import type { RunGround } from "./correction-ground.ts";
import { type BatchRun, linesOf } from "./sheets.ts";

export type CostChange =
  | { readonly beforeMinor: number; readonly afterMinor: number }
  /** Names of what has no cost, so that nobody can say. */
  | { readonly unknown: readonly string[] };

/** Material of a whole run before and after, at the costs its price would be made from today [minor units] */
export async function costChange(
  shop: Shop,
  shopId: string,
  { orders }: RunGround,
  before: BatchRun,
  after: BatchRun,
): Promise<CostChange> {
  const { id, version } = orders[0]!.quote.product;
  const ids = linesOf(after).map(({ ingredient }) => ingredient);
  const [row, { costs: packs }] = await Promise.all([
    shop.shops.version(id, version),
    pantryOf(shop, shopId, ids),
  ]);
  if (!row) throw new Error(`version ${version} of ${id} is missing`);
  const policy = PricePolicyShape.parse(JSON.parse(row.pricePolicy));
  const costs = await materialCosts(shop, shopId, policy, packs, ids);
  const unknown = linesOf(after)
    .filter(({ ingredient }) => !costs[ingredient])
    .map(({ name }) => name);
  if (unknown.length > 0) return { unknown };
  return { beforeMinor: materialMinor(before, costs), afterMinor: materialMinor(after, costs) };
}

/** Rounded once, for the whole run. */
function materialMinor(run: BatchRun, costs: Readonly<Record<string, PackCost>>): number {
  const exact = linesOf(run).reduce<Fraction>(
    (sum, { ingredient, targetMg }) => {
      const { packMinor, packMg } = costs[ingredient]!;
      return add(sum, [BigInt(packMinor) * BigInt(targetMg), BigInt(packMg)]);
    },
    [0n, 1n],
  );
  return roundHalfUp(exact);
}
