/**
 * Another program that holds the shop's database, as a backup or a person with a tool might: first for less time than
 * the shop waits, then for more.
 */
import SQLite from "better-sqlite3";
import { setTimeout as wait } from "node:timers/promises";
import type { Injected } from "./explain.ts";
import type { FaultSpan } from "./fault-plan.ts";

/** The shop's driver waits five seconds for the database. */
const HOLDS_MS = [1500, 6500] as const;
const PAUSE_MS = 1500;
const ROUND_MS = HOLDS_MS.reduce((sum, ms) => sum + ms + PAUSE_MS, 0);

/** Hold it as long as the plan says so. @returns each hold */
export async function holdDatabase(
  file: string,
  plan: readonly FaultSpan[],
): Promise<readonly Injected[]> {
  const holds: Injected[] = [];
  for (const { kind, from, to } of plan) {
    if (kind !== "database-busy") continue;
    await wait(from - Date.now());
    do {
      for (const ms of HOLDS_MS) {
        holds.push(await holdOnce(file, ms));
        await wait(PAUSE_MS);
      }
    } while (Date.now() + ROUND_MS <= to);
  }
  return holds;
}

async function holdOnce(file: string, ms: number): Promise<Injected> {
  const sqlite = new SQLite(file);
  sqlite.exec("BEGIN IMMEDIATE");
  const from = Date.now();
  await wait(ms);
  sqlite.exec("ROLLBACK");
  sqlite.close();
  return { kind: "database-busy", from, to: Date.now() };
}
