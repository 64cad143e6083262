/**
 * Addresses of host shops that listen for signed events. None is ever deleted, because messages name them: one that is
 * not wanted any more is switched off.
 */
import { eventEndpoints } from "#data/schema.ts";
import { and, asc, count, eq, inArray, isNull, sql } from "drizzle-orm";
import { type Database, type Statement, mustHaveChanged } from "./database.ts";

export type EndpointRow = typeof eventEndpoints.$inferSelect;
export type EventEndpoints = ReturnType<typeof eventEndpointsIn>;

/** Why nothing goes there: the maker wanted it so, the receiver said it is gone (410), or it failed for days. */
export type OffBecause = "maker" | "gone" | "failing";

export function eventEndpointsIn(db: Database) {
  const { q } = db;
  const own = (shopId: string, id: string) =>
    and(eq(eventEndpoints.shopId, shopId), eq(eventEndpoints.id, id));

  return {
    add: async (row: typeof eventEndpoints.$inferInsert): Promise<void> => {
      await q.insert(eventEndpoints).values(row);
    },
    ofShop: async (shopId: string): Promise<EndpointRow[]> =>
      await q
        .select()
        .from(eventEndpoints)
        .where(eq(eventEndpoints.shopId, shopId))
        .orderBy(asc(eventEndpoints.createdAt), asc(eventEndpoints.id)),
    byId: async (shopId: string, id: string): Promise<EndpointRow | undefined> =>
      (await q.select().from(eventEndpoints).where(own(shopId, id)))[0],
    /** At most 90 at once. */
    byIds: async (ids: readonly string[]): Promise<EndpointRow[]> =>
      ids.length === 0
        ? []
        : await q
            .select()
            .from(eventEndpoints)
            .where(inArray(eventEndpoints.id, [...ids])),
    /** Those that were switched off by what happened there, not by the maker. */
    fallenCount: async (shopId: string): Promise<number> =>
      (
        await q
          .select({ n: count() })
          .from(eventEndpoints)
          .where(
            and(
              eq(eventEndpoints.shopId, shopId),
              inArray(eventEndpoints.offBecause, ["gone", "failing"]),
            ),
          )
      )[0]!.n,
    /**
     * Put a new secret in place of the one that was read; the former signs along until its time is over.
     * @throws Conflict when somebody has just done so
     */
    rotate: async (row: EndpointRow, secret: string, olderUntil: number): Promise<void> =>
      await db.atomic([
        q
          .update(eventEndpoints)
          .set({ secret, olderSecret: row.secret, olderUntil })
          .where(and(eq(eventEndpoints.id, row.id), eq(eventEndpoints.secret, row.secret))),
        ...mustHaveChanged(q),
      ]),
    switchOff: async (shopId: string, id: string): Promise<void> => {
      await q
        .update(eventEndpoints)
        .set({ offBecause: "maker" })
        .where(and(own(shopId, id), isNull(eventEndpoints.offBecause)));
    },
    switchOn: async (shopId: string, id: string): Promise<void> => {
      await q
        .update(eventEndpoints)
        .set({ offBecause: null, failingSince: null })
        .where(own(shopId, id));
    },
    wellStatement: (id: string): Statement =>
      q.update(eventEndpoints).set({ failingSince: null }).where(eq(eventEndpoints.id, id)),
    failingStatement: (id: string, now: number): Statement =>
      q
        .update(eventEndpoints)
        .set({ failingSince: sql`coalesce(failing_since, ${now})` })
        .where(eq(eventEndpoints.id, id)),
    offStatement: (id: string, because: OffBecause): Statement =>
      q
        .update(eventEndpoints)
        .set({ offBecause: because })
        .where(and(eq(eventEndpoints.id, id), isNull(eventEndpoints.offBecause))),
  };
}
