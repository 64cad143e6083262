/**
 * The margins of a shop's published products, reckoned once for every change of a cost or of what is for sale.
 */
import type { Shop } from "../ports.ts";
import type { Desk } from "../products/desk.ts";
import { PricePolicyShape, ProductShape } from "../shapes.ts";
import type { ProductVersionRow } from "../storage/shops.ts";
import { recordedPrices } from "./at-publishing.ts";
import { type ForSale, type MarginReport, fallenMargins } from "./fallen-margins.ts";

interface Kept {
  /** What is for sale; versions never change, so they are read once. */
  readonly onSale: string;
  readonly sold: readonly ForSale[];
  readonly costsRevision: number;
  readonly report: MarginReport;
}

export type MarginReports = ReturnType<typeof marginReports>;

/** A function from a shop's desk to its report. */
export function marginReports({ shops, lotCosts }: Pick<Shop, "shops" | "lotCosts">) {
  const kept = new Map<string, Kept>();
  return async (desk: Desk): Promise<MarginReport> => {
    const { id, costsRevision } = desk.shop;
    const onSale = await shops.publishedMark(id);
    const known = kept.get(id);
    const isSame = known?.onSale === onSale;
    if (known && isSame && known.costsRevision === costsRevision) return known.report;
    const sold = isSame ? known.sold : (await shops.published(id)).map(forSale);
    const [dearestLots, newestLots] = await Promise.all([
      lotCosts.dearestOnHand(id),
      lotCosts.newest(id),
    ]);
    const costs = { packs: desk.costs, dearestLots, newestLots };
    const report = fallenMargins(sold, costs, desk.ingredientOf);
    kept.set(id, { onSale, sold, costsRevision, report });
    return report;
  };
}

function forSale({ product, pricePolicy, room }: ProductVersionRow): ForSale {
  return {
    product: ProductShape.parse(JSON.parse(product)),
    policy: PricePolicyShape.parse(JSON.parse(pricePolicy)),
    recorded: recordedPrices(room),
  };
}
