/**
 * What a shop says of itself and its bench, out of its row.
 */
import { type ShopParticulars, ShopParticularsShape } from "./shapes.ts";
import type { ShopRow } from "./storage/shops.ts";

export function particularsOf({ particulars }: Pick<ShopRow, "particulars">): ShopParticulars {
  return ShopParticularsShape.parse(JSON.parse(particulars));
}
