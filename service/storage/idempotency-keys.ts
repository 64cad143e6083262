/**
 * Requests that must not be done twice, by their Idempotency-Key, each with the answer it got.
 */
import { idempotencyKeys } from "#data/schema.ts";
import { and, eq, isNull, lt } from "drizzle-orm";
import { type Database, mustHaveChanged } from "./database.ts";

export type IdempotencyRow = typeof idempotencyKeys.$inferSelect;
/** Whose key, and which. */
export type KeyOfRequest = Pick<IdempotencyRow, "apiKeyId" | "key">;

export function idempotencyKeysIn(db: Database) {
  const { q } = db;
  const the = ({ apiKeyId, key }: KeyOfRequest) =>
    and(eq(idempotencyKeys.apiKeyId, apiKeyId), eq(idempotencyKeys.key, key));
  /** Still the attempt that began then: a later one may have taken it over. */
  const attempt = (of: KeyOfRequest, startedAt: number) =>
    and(the(of), isNull(idempotencyKeys.status), eq(idempotencyKeys.startedAt, startedAt));

  return {
    find: async (of: KeyOfRequest): Promise<IdempotencyRow | undefined> =>
      (await q.select().from(idempotencyKeys).where(the(of)))[0],
    /**
     * Begin the work of a key, and forget keys from before a time.
     * @throws Conflict when the key is known
     */
    begin: async (
      row: KeyOfRequest & Pick<IdempotencyRow, "requestHash" | "startedAt">,
      forgetBefore: number,
    ): Promise<void> =>
      await db.atomic([
        q.delete(idempotencyKeys).where(lt(idempotencyKeys.startedAt, forgetBefore)),
        q.insert(idempotencyKeys).values(row),
      ]),
    /** Take over an attempt that never ended. @throws Conflict when it ended, or somebody else took it over */
    takeOver: async (of: KeyOfRequest, startedAt: number, now: number): Promise<void> =>
      await db.atomic([
        q.update(idempotencyKeys).set({ startedAt: now }).where(attempt(of, startedAt)),
        ...mustHaveChanged(q),
      ]),
    finish: async (
      of: KeyOfRequest,
      { startedAt, status, answer }: { startedAt: number; status: number; answer: string },
    ): Promise<void> =>
      await db.write(
        q.update(idempotencyKeys).set({ status, answer }).where(attempt(of, startedAt)),
      ),
    /** The attempt came to nothing through a fault of ours: the key may be used again at once. */
    release: async (of: KeyOfRequest, startedAt: number): Promise<void> =>
      await db.write(q.delete(idempotencyKeys).where(attempt(of, startedAt))),
  };
}
