/**
 * What materials cost, by the policy: the pack on the shelf, or the dearest lot on hand.
 */
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import type { Shop } from "../ports.ts";

export type Costs = Readonly<Record<string, PackCost>>;

/**
 * The costs a price is made from.
 * @param packs what packs cost, by ingredient id
 * @param of ids of the ingredients that are asked for
 * @returns with "dearest-lot" the dearest unblocked lot on hand of each ingredient, and the pack where no lot
 * tells its cost
 */
export async function materialCosts(
  { lotCosts }: Pick<Shop, "lotCosts">,
  shopId: string,
  { materialAt = "pack" }: Pick<PricePolicy, "materialAt">,
  packs: Costs,
  of: readonly string[],
): Promise<Costs> {
  return materialAt === "pack"
    ? packs
    : { ...packs, ...(await lotCosts.dearestOnHand(shopId, of)) };
}
