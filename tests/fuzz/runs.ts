/**
 * How much is tried: SOFTSET_FUZZ says how many requests in all, SOFTSET_SEED the same ones again.
 */
import fc from "fast-check";

/** What the tests try each time, of requests. */
const USUAL = 3000;
const WANTED = Number(process.env["SOFTSET_FUZZ"] ?? USUAL);
export const SEED = Number(process.env["SOFTSET_SEED"] ?? Date.now() % 2 ** 31);
export const TELLS = process.env["SOFTSET_FUZZ"] !== undefined;
/** So long may a great run take [ms] */
export const GREAT_RUN_MS = 7_200_000;

/** How many of a kind, when so many of the usual number are of it. */
export const runs = (ofUsual: number) => Math.ceil((WANTED * ofUsual) / USUAL);

/** Samples one after another, in pieces so that a great run keeps no more than a piece; the seed says them all. */
export function* drawn<Value>(arbitrary: fc.Arbitrary<Value>, count: number): Generator<Value> {
  const piece = 500;
  for (let from = 0; from < count; from += piece) {
    yield* fc.sample(arbitrary, { numRuns: Math.min(piece, count - from), seed: SEED + from });
  }
}
