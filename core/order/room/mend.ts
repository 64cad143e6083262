/**
 * The least that would have to change before a base without an orderable choice gets one: every bound by itself,
 * every rule by itself, and, where no single bound is enough, all of them together.
 *
 * Each is found by letting the thing go entirely, searching for a choice that passes, and climbing from there towards
 * what was let go. Every change is then applied and its choice judged again, so it is enough; that no smaller one is
 * enough is not claimed.
 */
import type { Ailing } from "./ailing.ts";
import type { Change, Mending } from "./change.ts";
import { mendAllBounds, mendBound, sharpenBound } from "./mend-bounds.ts";
import {
  mendFirmness,
  mendPores,
  mendSoftening,
  mendStrictness,
  mendUnrated,
} from "./mend-rules.ts";

/** How many of the least moves are brought down further. */
const SHARPENED = 2;

/**
 * Look for the least changes.
 * @returns a generator that pauses after every judgement; at its end single bounds, the least move first, or where
 *   none is enough all together; then rules; empty when nothing was found
 */
export function* mendBase(ailing: Ailing): Generator<undefined, Mending[]> {
  const bounds: Mending[] = [];
  for (const at of ailing.space.slots.keys()) {
    for (const end of ["least", "greatest"] as const) {
      const found = yield* mendBound(ailing, at, end);
      if (found) bounds.push(found);
    }
  }
  const byMove = (one: Mending, other: Mending) => moveOf(one.change) - moveOf(other.change);
  bounds.sort(byMove);
  for (let at = 0; at < Math.min(SHARPENED, bounds.length); at++) {
    bounds[at] = yield* sharpenBound(ailing, bounds[at]!);
  }
  bounds.sort(byMove);
  const rules: Mending[] = [];
  for (const mend of [mendSoftening, mendFirmness, mendPores, mendUnrated, mendStrictness]) {
    const found = yield* mend(ailing);
    if (found) rules.push(found);
  }
  const all = bounds.length > 0 ? undefined : yield* mendAllBounds(ailing);
  return [...bounds, ...(all ? [all] : []), ...rules];
}

function moveOf(change: Change): number {
  return change.kind === "bound" ? Math.abs(change.to - change.from) : 0;
}
