/**
 * What a shop says of itself, saved only over the revision that was read.
 */
import { orders, shops } from "#data/schema.ts";
import { and, eq, sql } from "drizzle-orm";
import { type Database, mustHaveChanged } from "./database.ts";
import type { ShopRow } from "./shops.ts";

export type ShopSettings = Pick<
  ShopRow,
  "name" | "locale" | "currency" | "currencyExponent" | "particulars"
>;

export function shopSettingsIn(db: Database) {
  const { q } = db;
  const noOrders = (shopId: string) =>
    sql`not exists (select 1 from ${orders} where ${orders.shopId} = ${shopId})`;
  return {
    /** Whether the shop has ever taken an order: its currency then stays. */
    hasOrders: async (shopId: string): Promise<boolean> =>
      (await q.select({ id: orders.id }).from(orders).where(eq(orders.shopId, shopId)).limit(1))
        .length > 0,
    /**
     * Save over a revision. What is for sale is built anew, because it holds the currency, the scale and the season.
     * @throws Conflict when `since` is no longer the revision, or the currency would change under an order
     */
    save: async (shopId: string, since: number, settings: ShopSettings): Promise<void> =>
      await db.atomic([
        q
          .update(shops)
          .set({
            ...settings,
            revision: since + 1,
            costsRevision: sql`${shops.costsRevision} + 1`,
          })
          .where(
            and(
              eq(shops.id, shopId),
              eq(shops.revision, since),
              sql`(${shops.currency} = ${settings.currency} or ${noOrders(shopId)})`,
            ),
          ),
        ...mustHaveChanged(q),
      ]),
  };
}
