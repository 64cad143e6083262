/**
 * The people of a shop. Nobody is deleted: who was removed can be put back, and what they did stays theirs.
 */
import { passkeys, people, sessions, signInLinks } from "#data/schema.ts";
import { type SQL, and, asc, eq, isNull, sql } from "drizzle-orm";
import { type Database, mustHaveChanged } from "./database.ts";

export type PersonRow = typeof people.$inferSelect;
export type NewPerson = Pick<PersonRow, "id" | "shopId" | "name" | "role" | "createdAt">;
export type Role = PersonRow["role"];
export type People = ReturnType<typeof peopleIn>;

/** More people than this are not shown; a workshop has a handful. */
const PEOPLE_MOST = 200;

export function peopleIn(db: Database) {
  const { q } = db;
  const live = (shopId: string, id: string) =>
    and(eq(people.shopId, shopId), eq(people.id, id), isNull(people.removedAt));

  /** Change one row, or Conflict. */
  const change = async (values: Partial<PersonRow>, where: SQL | undefined): Promise<void> =>
    await db.atomic([q.update(people).set(values).where(where), ...mustHaveChanged(q)]);

  /**
   * Holds while the shop keeps an owner who can come in: the one who acts, when it is about somebody else, or another
   * owner with a passkey or a recovery code. It is part of the update itself, so that two owners cannot remove each
   * other at the same moment.
   */
  const keepsAnOwner = (shopId: string, id: string, actorId: string): SQL =>
    sql`exists (select 1 from people as other where other.shop_id = ${shopId} and other.role = 'owner'
      and other.removed_at is null and other.id <> ${id} and (other.id = ${actorId}
      or other.recovery_hash is not null or exists (select 1 from ${passkeys}
        where person_id = other.id and removed_at is null)))`;

  return {
    byId: async (shopId: string, id: string): Promise<PersonRow | undefined> =>
      (
        await q
          .select()
          .from(people)
          .where(and(eq(people.shopId, shopId), eq(people.id, id)))
      )[0],
    /** Everybody, also who was removed, with how many passkeys they have; in the order they came. */
    ofShop: async (shopId: string) =>
      await q
        .select({
          person: people,
          passkeys: sql<number>`(select count(*) from passkeys
            where passkeys.person_id = people.id and passkeys.removed_at is null)`,
        })
        .from(people)
        .where(eq(people.shopId, shopId))
        .orderBy(asc(people.createdAt), asc(people.id))
        .limit(PEOPLE_MOST),
    /** Whose recovery code this is. */
    byRecoveryHash: async (recoveryHash: string): Promise<PersonRow | undefined> =>
      (
        await q
          .select()
          .from(people)
          .where(and(eq(people.recoveryHash, recoveryHash), isNull(people.removedAt)))
      )[0],
    /** @throws Conflict when there is a person of that id already */
    add: async (person: NewPerson): Promise<void> =>
      await db.atomic([q.insert(people).values(person)]),
    rename: (shopId: string, id: string, name: string) => change({ name }, live(shopId, id)),
    setRecovery: (shopId: string, id: string, recoveryHash: string) =>
      change({ recoveryHash }, live(shopId, id)),
    /** @throws Conflict when the shop would be left without an owner who can come in, or the person is gone */
    setRole: (shopId: string, id: string, role: Role, actorId: string) =>
      change(
        { role },
        role === "owner"
          ? live(shopId, id)
          : and(live(shopId, id), keepsAnOwner(shopId, id, actorId)),
      ),
    /** Remove a person: their sessions end and their links are void. @throws Conflict as `setRole` */
    remove: async (shopId: string, id: string, actorId: string, at: number): Promise<void> =>
      await db.atomic([
        q
          .update(people)
          .set({ removedAt: at })
          .where(
            and(
              live(shopId, id),
              sql`(${people.role} <> 'owner' or ${keepsAnOwner(shopId, id, actorId)})`,
            ),
          ),
        ...mustHaveChanged(q),
        q.delete(sessions).where(eq(sessions.personId, id)),
        q.delete(signInLinks).where(and(eq(signInLinks.personId, id), isNull(signInLinks.usedAt))),
      ]),
    /** Put a removed person back, with the passkeys they had. @throws Conflict when they are not removed */
    putBack: (shopId: string, id: string) =>
      change(
        { removedAt: null },
        and(eq(people.shopId, shopId), eq(people.id, id), sql`${people.removedAt} is not null`),
      ),
  };
}
