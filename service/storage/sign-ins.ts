/**
 * One-time links and sessions of the maker. Tokens are random; only their hashes are stored.
 */
import { sessions, signInLinks } from "#data/schema.ts";
import { and, eq, gt, isNull } from "drizzle-orm";
import { Conflict, type Database, mustHaveChanged } from "./database.ts";

export type SessionRow = typeof sessions.$inferSelect;
export type SignIns = ReturnType<typeof signInsIn>;

export function signInsIn(db: Database) {
  const { q } = db;
  return {
    /** A new link replaces every unused one of the shop. */
    issueLink: async (shopId: string, tokenHash: string, expiresAt: number): Promise<void> =>
      await db.atomic([
        q
          .delete(signInLinks)
          .where(and(eq(signInLinks.shopId, shopId), isNull(signInLinks.usedAt))),
        q.insert(signInLinks).values({ shopId, tokenHash, expiresAt }),
      ]),
    linkShop: async (tokenHash: string, at: number): Promise<string | undefined> =>
      (
        await q
          .select({ shopId: signInLinks.shopId })
          .from(signInLinks)
          .where(
            and(
              eq(signInLinks.tokenHash, tokenHash),
              isNull(signInLinks.usedAt),
              gt(signInLinks.expiresAt, at),
            ),
          )
      )[0]?.shopId,
    /** Use a link up and begin a session; false when the link was used by someone else meanwhile. */
    begin: async (
      linkHash: string,
      at: number,
      session: typeof sessions.$inferInsert,
    ): Promise<boolean> => {
      try {
        await db.atomic([
          q
            .update(signInLinks)
            .set({ usedAt: at })
            .where(and(eq(signInLinks.tokenHash, linkHash), isNull(signInLinks.usedAt))),
          ...mustHaveChanged(q),
          q.insert(sessions).values(session),
        ]);
        return true;
      } catch (error) {
        if (error instanceof Conflict) return false;
        throw error;
      }
    },
    session: async (tokenHash: string, at: number): Promise<SessionRow | undefined> =>
      (
        await q
          .select()
          .from(sessions)
          .where(and(eq(sessions.tokenHash, tokenHash), gt(sessions.expiresAt, at)))
      )[0],
    end: async (tokenHash: string): Promise<void> => {
      await q.delete(sessions).where(eq(sessions.tokenHash, tokenHash));
    },
  };
}
