/**
 * Passkeys and the challenges they answer. A passkey is removed or put back, never deleted.
 */
import { passkeyChallenges, passkeys, people } from "#data/schema.ts";
import { type SQL, and, asc, eq, gt, isNotNull, isNull, lte, sql } from "drizzle-orm";
import { Conflict, type Database, mustHaveChanged } from "./database.ts";
import type { PersonRow } from "./people.ts";

export type PasskeyRow = typeof passkeys.$inferSelect;
export type NewPasskey = Omit<PasskeyRow, "lastUsedAt" | "removedAt">;
export type Challenge = Omit<typeof passkeyChallenges.$inferSelect, "usedAt">;
export type Passkeys = ReturnType<typeof passkeysIn>;

export function passkeysIn(db: Database) {
  const { q } = db;
  const own = (personId: string, id: string) =>
    and(eq(passkeys.personId, personId), eq(passkeys.id, id));

  const change = async (values: Partial<PasskeyRow>, where: SQL | undefined): Promise<void> =>
    await db.atomic([q.update(passkeys).set(values).where(where), ...mustHaveChanged(q)]);

  return {
    /** Keep a challenge that was handed out; those that ran out are cleared away. */
    keepChallenge: async (challenge: Challenge, at: number): Promise<void> =>
      await db.atomic([
        q.delete(passkeyChallenges).where(lte(passkeyChallenges.expiresAt, at)),
        q.insert(passkeyChallenges).values(challenge),
      ]),
    /**
     * Use a challenge up, whatever becomes of the answer.
     * @returns false when it was never handed out for this, was used, or has run out
     */
    useChallenge: async (
      { challenge, purpose, personId }: Omit<Challenge, "expiresAt">,
      at: number,
    ): Promise<boolean> => {
      const used = q
        .update(passkeyChallenges)
        .set({ usedAt: at })
        .where(
          and(
            eq(passkeyChallenges.challenge, challenge),
            eq(passkeyChallenges.purpose, purpose),
            personId === null
              ? isNull(passkeyChallenges.personId)
              : eq(passkeyChallenges.personId, personId),
            isNull(passkeyChallenges.usedAt),
            gt(passkeyChallenges.expiresAt, at),
          ),
        );
      try {
        await db.atomic([used, ...mustHaveChanged(q)]);
        return true;
      } catch (error) {
        if (error instanceof Conflict) return false;
        throw error;
      }
    },
    /** @throws Conflict when the passkey is known already */
    add: async (row: NewPasskey): Promise<void> =>
      await db.atomic([q.insert(passkeys).values(row)]),
    /** A passkey that opens the door, and whose it is. */
    withPerson: async (
      id: string,
    ): Promise<{ passkey: PasskeyRow; person: PersonRow } | undefined> =>
      (
        await q
          .select({ passkey: passkeys, person: people })
          .from(passkeys)
          .innerJoin(people, eq(people.id, passkeys.personId))
          .where(and(eq(passkeys.id, id), isNull(passkeys.removedAt), isNull(people.removedAt)))
      )[0],
    /** All of a person, also removed ones, in the order they were added. */
    ofPerson: async (personId: string): Promise<PasskeyRow[]> =>
      await q
        .select()
        .from(passkeys)
        .where(eq(passkeys.personId, personId))
        .orderBy(asc(passkeys.createdAt), asc(passkeys.id)),
    /** @throws Conflict when there is no such passkey of this person */
    rename: (personId: string, id: string, name: string) => change({ name }, own(personId, id)),
    /** @throws Conflict when there is no such passkey, or it is the person's last way in */
    remove: (personId: string, id: string, at: number) =>
      change(
        { removedAt: at },
        and(
          own(personId, id),
          isNull(passkeys.removedAt),
          sql`(exists (select 1 from passkeys as other where other.person_id = ${personId}
            and other.id <> ${id} and other.removed_at is null)
            or exists (select 1 from ${people} where id = ${personId} and recovery_hash is not null))`,
        ),
      ),
    /** @throws Conflict when it is not removed */
    putBack: (personId: string, id: string) =>
      change({ removedAt: null }, and(own(personId, id), isNotNull(passkeys.removedAt))),
  };
}
