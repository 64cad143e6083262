/**
 * What lots cost, for prices: the dearest on hand, and what was paid last.
 */
import type { PackCost } from "#core/price/policy.ts";
import { lots } from "#data/schema.ts";
import { type SQL, and, eq, gt, isNotNull, isNull, sql } from "drizzle-orm";
import type { Database } from "./database.ts";

/** By ingredient id; a lot counts as one pack of its own size. */
export type LotCosts = Readonly<Record<string, PackCost>>;

/** In one bound value, however many there are: D1 takes a hundred. */
function isOneOf(ids: readonly string[]): SQL {
  return sql`${lots.ingredientId} in (select value from json_each(${JSON.stringify(ids)}))`;
}

export function lotCostsIn({ q }: Database) {
  /** One lot of each ingredient: SQLite takes the other columns from the row that holds the greatest. */
  async function greatest(shopId: string, by: SQL, ...more: SQL[]): Promise<LotCosts> {
    const rows = await q
      .select({
        ingredientId: lots.ingredientId,
        packMinor: lots.costMinor,
        packMg: lots.receivedMg,
        greatest: sql`max(${by})`,
      })
      .from(lots)
      .where(
        and(eq(lots.shopId, shopId), isNull(lots.archivedAt), isNotNull(lots.costMinor), ...more),
      )
      .groupBy(lots.ingredientId);
    return Object.fromEntries(
      rows.map(({ ingredientId, packMinor, packMg }) => [
        ingredientId,
        { packMinor: packMinor!, packMg },
      ]),
    );
  }

  return {
    /**
     * The dearest by weight of the lots that may be taken from; lots without a cost on record are left out.
     * @param of ingredient ids; all of the shop's when not said
     */
    dearestOnHand: (shopId: string, of?: readonly string[]): Promise<LotCosts> => {
      const perMg = sql`cast(${lots.costMinor} as real) / ${lots.receivedMg}`;
      const these = of ? [isOneOf(of)] : [];
      return greatest(shopId, perMg, gt(lots.onHandMg, 0), isNull(lots.blockedBecause), ...these);
    },

    /** What was paid last: the lot received latest, and the one written down last on the same day. */
    newest: (shopId: string): Promise<LotCosts> =>
      greatest(shopId, sql`${lots.receivedOn} || printf('%016d', ${lots}.rowid)`),
  };
}
