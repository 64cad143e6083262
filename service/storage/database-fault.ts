/**
 * What an engine says when it cannot store or read, as a refusal that tells people what to do. Nothing of a list that
 * failed is stored, so whoever was refused can simply try again.
 */
import { type ProblemCode, Refusal } from "../problem.ts";
import { causesOf } from "./causes.ts";

interface Fault {
  readonly code: ProblemCode;
  /** By result codes of SQLite, and by what D1 says. */
  readonly signs: RegExp;
  readonly detail: string;
  /** After so long trying again makes sense [s]; own choice. */
  readonly retryAfterS: number;
}

const BUSY = ["SQLITE_BUSY", "SQLITE_LOCKED", "database is locked"];
/** D1 tries reads again by itself and leaves writes to whoever made them. */
const BUSY_AT_THE_EDGE = [
  "DB is overloaded",
  "Network connection lost",
  "object to be reset",
  "reset because its code was updated",
];

const FAULTS: readonly Fault[] = [
  {
    code: "service.database.full",
    signs: /SQLITE_FULL|ENOSPC|database or disk is full|maximum DB size/i,
    detail:
      "There is no room left to store this. Nothing was changed; whoever runs the shop must make room.",
    retryAfterS: 300,
  },
  {
    code: "service.database.read-only",
    signs: /SQLITE_READONLY|SQLITE_CANTOPEN|EROFS|EACCES|readonly database/i,
    detail:
      "Nothing can be stored at the moment, because the disk or its folder may only be read. Nothing was changed.",
    retryAfterS: 300,
  },
  {
    code: "service.database.damaged",
    signs: /SQLITE_CORRUPT|SQLITE_NOTADB|SQLITE_IOERR|disk image is malformed|disk I\/O error/i,
    detail:
      "The shop's database cannot be read properly. Nothing was changed; whoever runs the shop must look.",
    retryAfterS: 300,
  },
  {
    code: "service.database.busy",
    signs: new RegExp([...BUSY, ...BUSY_AT_THE_EDGE].join("|"), "i"),
    detail: "The shop's database is busy. Nothing you had is lost; please try again in a moment.",
    retryAfterS: 5,
  },
];

/**
 * @param error whatever was thrown; causes are looked through, as drivers wrap
 * @returns nothing when it is no fault of the database
 */
export function asDatabaseFault(error: unknown): Refusal | undefined {
  for (const at of causesOf(error)) {
    const said = `${String((at as { code?: unknown }).code ?? "")} ${at.message}`;
    const fault = FAULTS.find(({ signs }) => signs.test(said));
    if (!fault) continue;
    const { code, detail, retryAfterS } = fault;
    // Customers read that nothing is lost, in their own language.
    return new Refusal(code, detail, { retryAfterS, told: "service.failed", cause: error });
  }
  return undefined;
}
