/**
 * A look that is good for a while, so that nobody keeps the machine busy by asking for it.
 */
import type { Clock } from "../numbers.ts";

/**
 * @param lifeS how long what was found is handed out again [s]
 * @param look what takes time; when it fails nothing is kept
 */
export function keepFor<Found>(
  clock: Clock,
  lifeS: number,
  look: () => Promise<Found>,
): () => Promise<Found> {
  let last: { readonly at: number; readonly found: Found } | undefined;
  return async () => {
    const now = clock.seconds();
    // A clock that jumped back makes the last look older than none.
    if (!last || now - last.at >= lifeS || now < last.at) last = { at: now, found: await look() };
    return last.found;
  };
}
