/**
 * Whether the shop can do its work now: what `/readyz` answers.
 */
import type { Database } from "../storage/database.ts";
import { mustHold } from "../storage/database.ts";
import { asDatabaseFault } from "../storage/database-fault.ts";
import { migrationsHad } from "../storage/migrations-had.ts";
import { sql } from "drizzle-orm";
import type { Shop } from "../ports.ts";

export type ReadyCheck = "database" | "migrations" | "writing" | "keys" | "clock";

export interface CheckResult {
  readonly check: ReadyCheck;
  readonly holds: boolean;
  /** What is wrong; empty when it holds. Anybody may read it. */
  readonly sentence: string;
}

export interface Readiness {
  readonly isReady: boolean;
  readonly checks: readonly CheckResult[];
}

type Ground = Pick<Shop, "db" | "clock" | "seals">;

/** Two machines that take turns may differ by this much, and none is wrong; own choice [s] */
export const CLOCK_BEHIND_MOST_S = 120;

/** Look at all of it. Writing is tried by a row that is inserted and taken out in one list. */
export async function readinessOf({ db, clock, seals }: Ground): Promise<Readiness> {
  const checks = [
    await tried("database", "The database does not answer.", async () => {
      await db.q.all(sql`select 1`);
    }),
    await tried("migrations", "The tables of the database cannot be looked at.", () =>
      sameTables(db),
    ),
    await tried("writing", "Nothing can be stored.", () => db.atomic(mustHold(db.q, sql`1`))),
    await tried("keys", "The keys cannot sign.", async () => {
      await seals.orderToken("ready");
    }),
    await tried("clock", "The times of what is stored cannot be read.", () =>
      clockGoesOn(db, clock.seconds()),
    ),
  ];
  return { isReady: checks.every(({ holds }) => holds), checks };
}

/** Why a check does not hold, in words for anybody. */
class NotSo extends Error {}

async function tried(
  check: ReadyCheck,
  otherwise: string,
  look: () => Promise<unknown>,
): Promise<CheckResult> {
  try {
    await look();
    return { check, holds: true, sentence: "" };
  } catch (error) {
    // What an engine says of itself may name a path, so only our own words go out.
    const sentence =
      error instanceof NotSo ? error.message : (asDatabaseFault(error)?.message ?? otherwise);
    return { check, holds: false, sentence };
  }
}

async function sameTables(db: Database): Promise<void> {
  const { missing, isNewer } = await migrationsHad(db);
  if (missing.length > 0) throw new NotSo(`The database has not had ${missing.join(", ")}.`);
  if (isNewer) throw new NotSo("A newer version has changed the tables: start that one.");
}

async function clockGoesOn(db: Database, now: number): Promise<void> {
  const newest = await newestStored(db);
  if (newest === undefined || newest - now <= CLOCK_BEHIND_MOST_S) return;
  throw new NotSo(
    `The clock is ${newest - now} seconds behind the newest event that is stored: set the clock of the machine.`,
  );
}

/** When the newest of the last events was. Of several, because a clock that jumped back writes older ones after it. */
export async function newestStored({ q }: Database): Promise<number | undefined> {
  const [row] = await q.all<{ at: number | null }>(
    sql`select max(at) as at from (select at from order_events order by id desc limit 100)`,
  );
  return row?.at ?? undefined;
}
