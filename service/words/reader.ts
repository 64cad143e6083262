/**
 * Whose language a page or a mail about an order is in: that of the order, where a host shop told it, else the shop's.
 */
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";

/**
 * The shop as the customer of an order reads it: words, numbers and dates follow its `locale`.
 * @param order its language is a BCP 47 tag as the host shop sent it; one that cannot be read is passed over
 */
export function shopForReader(shop: ShopRow, { language }: Pick<OrderRow, "language">): ShopRow {
  if (language === null || !isTag(language)) return shop;
  // "de" from a host of a shop in Austria says nothing against how Austria writes its numbers.
  const isShops = shop.locale.toLowerCase().startsWith(`${language.toLowerCase()}-`);
  return isShops ? shop : { ...shop, locale: language };
}

function isTag(language: string): boolean {
  try {
    return Intl.getCanonicalLocales(language).length === 1;
  } catch {
    return false; // which is how the platform says it
  }
}
