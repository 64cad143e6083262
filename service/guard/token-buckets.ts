/**
 * Limits on one machine, in memory: a bucket of tokens for each client and kind, which fills evenly. Starting again
 * empties the memory, which lets nobody do more than twice as much.
 */
import { LIMITS, type Limited, type Limiter } from "./limits.ts";

const MINUTE_S = 60;
/** Buckets kept; the one that was longest not asked for makes room. A hundred bytes each. */
const KEPT_MOST = 20_000;

interface Bucket {
  tokens: number;
  /** When they were counted [s] */
  at: number;
}

/** @param seconds a clock that only its differences are taken of [s] */
export function tokenBuckets(seconds: () => number, keptMost = KEPT_MOST): Limiter["take"] {
  const buckets = new Map<string, Bucket>();
  return async (kind: Limited, client: string) => {
    const most = LIMITS[kind];
    const now = seconds();
    const key = `${kind} ${client}`;
    const { tokens: before, at } = buckets.get(key) ?? { tokens: most, at: now };
    // A clock set back must not lock anybody out.
    const tokens = Math.min(most, before + (Math.max(0, now - at) * most) / MINUTE_S);
    buckets.delete(key); // so that the newest stands last
    const isFree = tokens >= 1;
    buckets.set(key, { tokens: isFree ? tokens - 1 : tokens, at: now });
    if (buckets.size > keptMost) buckets.delete(buckets.keys().next().value!);
    return isFree ? 0 : Math.ceil(((1 - tokens) * MINUTE_S) / most);
  };
}
