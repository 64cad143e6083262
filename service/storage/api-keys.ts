/**
 * Keys of host shops. A key is never deleted: the orders that came with it stay its own, also after it was revoked.
 */
import { apiKeys } from "#data/schema.ts";
import { and, asc, eq, isNull, lt, or } from "drizzle-orm";
import { type Database, mustHaveChanged } from "./database.ts";

export type ApiKeyRow = typeof apiKeys.$inferSelect;

/** More keys than this are not shown; a workshop sells through a handful of shops. */
const KEYS_MOST = 100;
/** A use is noted at most this often: every request would otherwise wait for a write [s] */
const NOTED_EVERY_S = 60;

export function apiKeysIn(db: Database) {
  const { q } = db;
  const live = (shopId: string, id: string) =>
    and(eq(apiKeys.shopId, shopId), eq(apiKeys.id, id), isNull(apiKeys.revokedAt));

  return {
    /** All of a shop, also revoked ones, in the order they were made. */
    ofShop: async (shopId: string): Promise<ApiKeyRow[]> =>
      await q
        .select()
        .from(apiKeys)
        .where(eq(apiKeys.shopId, shopId))
        .orderBy(asc(apiKeys.createdAt), asc(apiKeys.id))
        .limit(KEYS_MOST),
    /** @throws Conflict when there is a key of that id already */
    add: async (row: typeof apiKeys.$inferInsert): Promise<void> =>
      await db.atomic([q.insert(apiKeys).values(row)]),
    /** The key a secret belongs to; nothing when it was revoked. */
    bySecretHash: async (secretHash: string): Promise<ApiKeyRow | undefined> =>
      (
        await q
          .select()
          .from(apiKeys)
          .where(and(eq(apiKeys.secretHash, secretHash), isNull(apiKeys.revokedAt)))
      )[0],
    noteUse: async ({ id, lastUsedAt }: ApiKeyRow, at: number): Promise<void> => {
      if (lastUsedAt !== null && lastUsedAt > at - NOTED_EVERY_S) return;
      const isOlder = or(isNull(apiKeys.lastUsedAt), lt(apiKeys.lastUsedAt, at));
      await db.write(
        q
          .update(apiKeys)
          .set({ lastUsedAt: at })
          .where(and(eq(apiKeys.id, id), isOlder)),
      );
    },
    /** Another secret for the same key: its orders stay its own. @throws Conflict when it is revoked or unknown */
    renew: async (shopId: string, id: string, secretHash: string): Promise<void> =>
      await db.atomic([
        q.update(apiKeys).set({ secretHash }).where(live(shopId, id)),
        ...mustHaveChanged(q),
      ]),
    /** @throws Conflict when it is revoked already, or unknown */
    revoke: async (shopId: string, id: string, at: number): Promise<void> =>
      await db.atomic([
        q.update(apiKeys).set({ revokedAt: at }).where(live(shopId, id)),
        ...mustHaveChanged(q),
      ]),
  };
}
