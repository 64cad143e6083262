/**
 * Shares that no longer fit their bounds, or no longer make up the whole -> the nearest that do.
 *
 * Each is moved to the nearest end of its bound; what the sum is then short of, or has too much, is shared out by the
 * room each has left, as when a share is moved.
 */
import { apportion } from "../apportion.ts";
import type { Bound } from "./product.ts";

/**
 * Bring shares into bounds.
 * @param wanted shares in the order of the bounds [hundredths of a percent]
 * @param whole what they must sum to
 * @returns nothing when no shares inside the bounds make up the whole
 */
export function intoBounds(
  wanted: readonly number[],
  bounds: readonly Bound[],
  whole: number,
): number[] | undefined {
  const shares = wanted.map((share, at) =>
    Math.min(bounds[at]!.greatest, Math.max(bounds[at]!.least, share)),
  );
  const short = shares.reduce((left, share) => left - share, whole);
  const rooms = bounds.map(({ least, greatest }, at) =>
    short > 0 ? greatest - shares[at]! : shares[at]! - least,
  );
  if (Math.abs(short) > rooms.reduce((sum, room) => sum + room, 0)) return undefined;
  const steps = apportion(Math.abs(short), rooms);
  return shares.map((share, at) => share + Math.sign(short) * steps[at]!);
}
