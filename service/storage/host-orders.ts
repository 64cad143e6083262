/**
 * Orders that host shops placed: stored as paid in one list, and found again only by the key they came with.
 */
import { orderEvents, orders } from "#data/schema.ts";
import { and, asc, eq, gt, gte, or } from "drizzle-orm";
import type { Database } from "./database.ts";
import type { OrderRow, Orders } from "./orders.ts";

/** Where a page of a list ended. */
export interface HostMark {
  readonly placedAt: number;
  readonly id: string;
}

export interface HostListing {
  /** Placed then or later, seconds since 1970. */
  readonly since?: number | undefined;
  readonly after?: HostMark | undefined;
  readonly hostReference?: string | undefined;
  readonly most: number;
}

export function hostOrdersIn(db: Database, { tell, moveStatements }: Orders) {
  const { q } = db;
  return {
    /**
     * Store an order that was paid at a host shop; it is placed and paid in the same list.
     * @throws Conflict when the quote has an order already, or the reference is taken
     */
    place: async (row: Omit<typeof orders.$inferInsert, "state">): Promise<void> => {
      const { id, placedAt: at } = row;
      const who = "host" as const;
      await db.atomic([
        q.insert(orders).values({ ...row, state: "placed" }),
        q.insert(orderEvents).values({ orderId: id, at, who, what: "placed" }),
        ...tell([id], "placed", at),
        ...moveStatements({
          ...{ orderId: id, at, who, to: "paid", from: ["placed"] },
          ...{ what: "paid at the host shop", with: { paidAt: at } },
        }),
      ]);
    },
    byReference: async (apiKeyId: string, reference: string): Promise<OrderRow | undefined> =>
      (
        await q
          .select()
          .from(orders)
          .where(and(eq(orders.apiKeyId, apiKeyId), eq(orders.reference, reference)))
      )[0],
    /** The oldest first. */
    list: async (
      { id, shopId }: { readonly id: string; readonly shopId: string },
      { since, after, hostReference, most }: HostListing,
    ): Promise<OrderRow[]> =>
      await q
        .select()
        .from(orders)
        .where(
          and(
            eq(orders.apiKeyId, id),
            hostReference === undefined
              ? eq(orders.shopId, shopId)
              : eq(orders.hostReference, hostReference),
            since === undefined ? undefined : gte(orders.placedAt, since),
            after &&
              or(
                gt(orders.placedAt, after.placedAt),
                and(eq(orders.placedAt, after.placedAt), gt(orders.id, after.id)),
              ),
          ),
        )
        .orderBy(asc(orders.placedAt), asc(orders.id))
        .limit(most),
  };
}
