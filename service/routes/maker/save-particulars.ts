/**
 * A part of the shop's particulars, saved over the revision it was read at; the rest of the settings stay.
 */
import type { Shop } from "../../ports.ts";
import type { ShopParticulars } from "../../shapes.ts";
import { Conflict } from "../../storage/database.ts";
import type { ShopRow } from "../../storage/shops.ts";

/**
 * Save particulars over a revision.
 * @param since revision that the page was read at
 * @returns whether they were saved; false when somebody saved meanwhile
 */
export async function saveParticulars(
  shop: Shop,
  row: ShopRow,
  since: number,
  particulars: ShopParticulars,
): Promise<boolean> {
  const { name, locale, currency, currencyExponent } = row;
  const text = JSON.stringify(particulars);
  const settings = { name, locale, currency, currencyExponent, particulars: text };
  try {
    await shop.shopSettings.save(row.id, since, settings);
    return true;
  } catch (error) {
    if (error instanceof Conflict) return false;
    throw error;
  }
}
