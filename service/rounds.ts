/**
 * What the shop does by itself, a round a minute: on a machine of its own by a timer, at the edge by cron. Each work is
 * bounded, safe to run twice at once, and a fault in one keeps none of the others from its turn.
 */
import { reconcile } from "./actions/reconcile.ts";
import type { Shop } from "./ports.ts";

/** How much one round may take on: a Worker has a limit on queries, a machine of its own has none. */
export interface RoundSize {
  /** Orders, refunds and events looked at. */
  readonly paymentsMost: number;
}

const NODE_ROUND: RoundSize = { paymentsMost: 40 };
/** About seven queries each, and a Worker on the smallest plan has 50 for everything. */
export const EDGE_ROUND: RoundSize = { paymentsMost: 5 };

const MINUTE_S = 60;

interface Work {
  readonly name: string;
  /** Rounds from one turn to the next. */
  readonly every: number;
  readonly run: (shop: Shop, size: RoundSize) => Promise<unknown>;
}

const WORKS: readonly Work[] = [
  { name: "payments", every: 5, run: (shop, size) => reconcile(shop, size.paymentsMost) },
];

/** One round: every work whose turn it is by the clock. */
export async function goRound(shop: Shop, size: RoundSize): Promise<void> {
  const minute = Math.floor(shop.clock.seconds() / MINUTE_S);
  for (const { name, every, run } of WORKS) {
    if (minute % every !== 0) continue;
    try {
      await run(shop, size);
    } catch (error) {
      shop.log({ note: `the round of ${name} failed and comes again`, error: String(error) });
    }
  }
}

/**
 * Go a round every minute until stopped; one that takes longer than a minute is not overtaken by the next.
 * @returns what stops it, resolved when the round under way has ended
 */
export function startRounds(shop: Shop, size: RoundSize = NODE_ROUND): () => Promise<void> {
  let under: Promise<void> | undefined;
  const timer = setInterval(() => {
    under ??= goRound(shop, size).finally(() => {
      under = undefined;
    });
  }, MINUTE_S * 1000);
  return async () => {
    clearInterval(timer);
    await under;
  };
}
