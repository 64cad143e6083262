/**
 * Delivery on a machine of one's own: at once after something was written, soon again after a first failure, and every
 * minute for all that waits longer.
 */
import type { Shop } from "../ports.ts";
import { TAKEN_MOST, deliverDue } from "./deliver.ts";

const MINUTE_S = 60;

export interface Courier {
  /** Deliver what is due; while it is at it, once more afterwards. */
  nudge(): void;
  /** Stop: what is being sent is cut off and comes again after the next start. */
  stop(): Promise<void>;
}

export function startCourier(shop: Shop): Courier {
  const stopping = new AbortController();
  let under: Promise<void> | undefined;
  let asked = false;
  let timer: { readonly at: number; readonly handle: NodeJS.Timeout } | undefined;

  async function deliverAll(): Promise<void> {
    while (asked && !stopping.signal.aborted) {
      asked = false;
      const { taken, againAt } = await deliverDue(shop, { stop: stopping.signal });
      if (taken === TAKEN_MOST) asked = true;
      if (againAt !== undefined) comeAgain(againAt);
    }
  }

  function comeAgain(at: number): void {
    const seconds = at - shop.clock.seconds();
    if (seconds > MINUTE_S || stopping.signal.aborted || (timer && timer.at <= at)) return;
    clearTimeout(timer?.handle);
    const ring = () => {
      timer = undefined;
      nudge();
    };
    timer = { at, handle: setTimeout(ring, seconds * 1000) };
  }

  function nudge(): void {
    if (stopping.signal.aborted) return;
    asked = true;
    under ??= deliverAll()
      .catch((error: unknown) => {
        shop.log({ note: "messages could not be delivered and come again", error: String(error) });
      })
      .finally(() => {
        under = undefined;
        if (asked) nudge(); // asked for in the very moment it ended
      });
  }

  const everyMinute = setInterval(nudge, MINUTE_S * 1000);
  nudge(); // what a crash left over
  return {
    nudge,
    stop: async () => {
      stopping.abort();
      clearInterval(everyMinute);
      clearTimeout(timer?.handle);
      await under;
    },
  };
}
