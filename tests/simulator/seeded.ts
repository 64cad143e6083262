/**
 * Ids that come out the same on every run, and seals that remember: so that a schedule depends on nothing but its seed.
 */
import type { Numbers } from "#service/numbers.ts";
import type { Seals } from "#service/seals.ts";

/** Ids that count. */
export function countingNumbers(): Numbers & { restart(from?: number): void; at(): number } {
  let n = 0;
  const next = (digits: number) => String(++n).padStart(digits, "0");
  return {
    id: () => `00000000-0000-4000-8000-${next(12)}`,
    reference: () => next(6),
    token: () => next(43),
    code: () => next(28),
    at: () => n,
    restart: (from = 0) => {
      n = from;
    },
  };
}

/** The platform's cryptography answers from other threads, now sooner, now later; what is remembered at once. */
export function rememberingSeals(seals: Seals): Seals {
  const known = new Map<string, Promise<unknown>>();
  const once = <Answer>(name: string, about: string, ask: () => Promise<Answer>) => {
    const key = `${name} ${about}`;
    if (!known.has(key)) known.set(key, ask());
    return known.get(key) as Promise<Answer>;
  };
  return {
    ...seals,
    openQuote: (token) => once("quote", token, () => seals.openQuote(token)),
    orderToken: (id) => once("order", id, () => seals.orderToken(id)),
  };
}
