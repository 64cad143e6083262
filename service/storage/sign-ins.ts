/**
 * One-time links and sessions of the maker's side. Tokens are random; only their hashes are stored.
 */
import { passkeys, people, sessions, signInLinks } from "#data/schema.ts";
import { and, asc, eq, gt, isNull, lte, sql } from "drizzle-orm";
import { Conflict, type Database, type Statement, mustHaveChanged } from "./database.ts";
import type { PersonRow } from "./people.ts";

export type LinkRow = typeof signInLinks.$inferSelect;
export type NewSession = typeof sessions.$inferInsert & { readonly personId: string };
export function signInsIn(db: Database) {
  const { q } = db;

  /** Do what opens the door and begin a session; false when somebody else was there first. */
  async function beginAfter(opening: readonly Statement[], session: NewSession): Promise<boolean> {
    const { createdAt } = session;
    try {
      await db.atomic([
        ...opening,
        q.delete(sessions).where(lte(sessions.expiresAt, createdAt)),
        q.insert(sessions).values(session),
      ]);
      return true;
    } catch (error) {
      if (error instanceof Conflict) return false;
      throw error;
    }
  }

  return {
    /**
     * A new link replaces every unused one for the same person.
     * @param personId whom it lets in; null: the shop's first owner
     */
    issueLink: async (
      shopId: string,
      personId: string | null,
      tokenHash: string,
      expiresAt: number,
    ): Promise<void> =>
      await db.atomic([
        q
          .delete(signInLinks)
          .where(
            and(
              eq(signInLinks.shopId, shopId),
              personId === null ? isNull(signInLinks.personId) : eq(signInLinks.personId, personId),
              isNull(signInLinks.usedAt),
            ),
          ),
        q.insert(signInLinks).values({ shopId, personId, tokenHash, expiresAt }),
      ]),
    /** A link that is neither used nor expired, and whom it lets in; null while nobody is that yet. */
    link: async (
      tokenHash: string,
      at: number,
    ): Promise<{ link: LinkRow; person: PersonRow | null } | undefined> => {
      const firstOwner = q
        .select({ id: people.id })
        .from(people)
        .where(
          and(
            eq(people.shopId, signInLinks.shopId),
            eq(people.role, "owner"),
            isNull(people.removedAt),
          ),
        )
        .orderBy(asc(people.createdAt), asc(people.id))
        .limit(1);
      const [found] = await q
        .select({ link: signInLinks, person: people })
        .from(signInLinks)
        .leftJoin(people, sql`${people.id} = coalesce(${signInLinks.personId}, (${firstOwner}))`)
        .where(
          and(
            eq(signInLinks.tokenHash, tokenHash),
            isNull(signInLinks.usedAt),
            gt(signInLinks.expiresAt, at),
          ),
        );
      return found?.person?.removedAt ? undefined : found;
    },
    /**
     * Use a link up and begin a session.
     * @param newcomer stored first, when the link is for the first owner and there is none
     * @returns false when the link was used by someone else meanwhile
     */
    beginByLink: async (
      linkHash: string,
      session: NewSession,
      newcomer?: typeof people.$inferInsert,
    ): Promise<boolean> => {
      const used = q
        .update(signInLinks)
        .set({ usedAt: session.createdAt })
        .where(and(eq(signInLinks.tokenHash, linkHash), isNull(signInLinks.usedAt)));
      const arrives = newcomer ? [q.insert(people).values(newcomer)] : [];
      return await beginAfter([used, ...mustHaveChanged(q), ...arrives], session);
    },
    /**
     * Void a recovery code, end every session of its person, since what they had may be in other hands, and begin one.
     * @returns false when the code was used meanwhile
     */
    beginByCode: async (recoveryHash: string, session: NewSession): Promise<boolean> => {
      const voided = q
        .update(people)
        .set({ recoveryHash: null })
        .where(and(eq(people.recoveryHash, recoveryHash), isNull(people.removedAt)));
      const ended = q.delete(sessions).where(eq(sessions.personId, session.personId));
      return await beginAfter([voided, ...mustHaveChanged(q), ended], session);
    },
    /**
     * Note that a passkey was used and begin a session.
     * @param counter as the passkey told it; a passkey that does not count tells 0 for ever
     * @returns false when the counter has not risen, as with a copy of the passkey, or the passkey is gone
     */
    beginByPasskey: async (
      passkeyId: string,
      counter: number,
      session: NewSession,
    ): Promise<boolean> => {
      const used = q
        .update(passkeys)
        .set({ counter, lastUsedAt: session.createdAt })
        .where(
          and(
            eq(passkeys.id, passkeyId),
            isNull(passkeys.removedAt),
            sql`(${passkeys.counter} < ${counter} or (${passkeys.counter} = 0 and ${counter} = 0))`,
          ),
        );
      return await beginAfter([used, ...mustHaveChanged(q)], session);
    },
    /** Who a session belongs to, as they stand now: a changed role counts at once, a removed person is nobody. */
    personOf: async (tokenHash: string, at: number): Promise<PersonRow | undefined> =>
      (
        await q
          .select({ person: people })
          .from(sessions)
          .innerJoin(people, eq(people.id, sessions.personId))
          .where(
            and(
              eq(sessions.tokenHash, tokenHash),
              gt(sessions.expiresAt, at),
              isNull(people.removedAt),
            ),
          )
      )[0]?.person,
    /** In how many browsers a person is signed in. */
    openSessions: async (personId: string, at: number): Promise<number> =>
      await q.$count(sessions, and(eq(sessions.personId, personId), gt(sessions.expiresAt, at))),
    end: async (tokenHash: string): Promise<void> =>
      await db.atomic([q.delete(sessions).where(eq(sessions.tokenHash, tokenHash))]),
    endAllOf: async (personId: string): Promise<void> =>
      await db.atomic([q.delete(sessions).where(eq(sessions.personId, personId))]),
  };
}
