/**
 * Every error beside what was done to bring it about: an error for which nothing was done is the shop's own.
 */
import type { FaultKind } from "./fault-plan.ts";

/** What was done, as whoever did it noted. Moments in ms since 1970. */
export interface Injected {
  readonly kind: FaultKind;
  readonly from: number;
  readonly to: number;
}

/** An answer that should have been another. Moments of the question and of the answer, in ms since 1970. */
export interface LoadError {
  /** What was asked. */
  readonly kind: string;
  /** The problem's code, or what happened to the connection. */
  readonly code: string;
  readonly from: number;
  readonly to: number;
}

export interface Explained {
  readonly error: LoadError;
  readonly by: FaultKind;
}

/** Codes that a page of a refusal does not tell: then any of these may be behind it. */
const ON_A_PAGE = "page 503";
const TILL: readonly FaultKind[] = ["till-errors", "till-silent"];
const CAUSES: Readonly<Record<string, readonly FaultKind[]>> = {
  "service.database.busy": ["database-busy"],
  "payment.till.unavailable": TILL,
  "payment.till.rejected": TILL,
  [ON_A_PAGE]: ["database-busy", ...TILL],
};
/** Clocks of two processes and the way between them [ms] */
const SLACK_MS = 100;

/**
 * Match errors with what was done. One hold of the database stops all who come meanwhile; one fault of the till makes
 * one error and is used up by it.
 */
export function explainErrors(
  errors: readonly LoadError[],
  injected: readonly Injected[],
): { readonly explained: readonly Explained[]; readonly unexplained: readonly LoadError[] } {
  const used = new Set<Injected>();
  const explained: Explained[] = [];
  const unexplained: LoadError[] = [];
  // Who waited the shortest has the fewest faults to choose from, and chooses first.
  const byLength = [...errors].sort((one, other) => one.to - one.from - (other.to - other.from));
  for (const error of byLength) {
    const kinds = CAUSES[error.code] ?? [];
    const cause = injected.find(
      (each) => kinds.includes(each.kind) && !used.has(each) && meets(error, each),
    );
    if (cause && cause.kind !== "database-busy") used.add(cause);
    if (cause) explained.push({ error, by: cause.kind });
    else unexplained.push(error);
  }
  return { explained, unexplained };
}

function meets(error: LoadError, { from, to }: Injected): boolean {
  return from <= error.to + SLACK_MS && to >= error.from - SLACK_MS;
}
