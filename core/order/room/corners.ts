/**
 * The corners of a box cut by a fixed sum, and the corner where a sum of rates is least.
 */
import type { Bound } from "../../compose/product.ts";

/** With more parts the corners are too many to visit. */
const PARTS_MOST = 12;

/**
 * Every corner: all shares but one at an end of its bound.
 * @returns shares in the order of the bounds; nothing when there are too many parts
 */
export function cornersOf(bounds: readonly Bound[], total: number): number[][] | undefined {
  if (bounds.length > PARTS_MOST) return undefined;
  const corners = new Map<string, number[]>();
  for (let free = 0; free < bounds.length; free++) {
    for (let ends = 0; ends < 2 ** bounds.length; ends++) {
      if (ends & (1 << free)) continue;
      const shares = bounds.map(({ least, greatest }, at) => (ends & (1 << at) ? greatest : least));
      shares[free] = 0;
      const rest = shares.reduce((left, share) => left - share, total);
      const { least, greatest } = bounds[free]!;
      if (rest < least || rest > greatest) continue;
      shares[free] = rest;
      corners.set(shares.join(), shares);
    }
  }
  return [...corners.values()];
}

/**
 * Shares that make the sum of rates least: the lowest rates are filled up first.
 * @param bounds that the total lies within
 */
export function leastOf(bounds: readonly Bound[], total: number, rates: readonly number[]) {
  const shares = bounds.map(({ least }) => least);
  let rest = shares.reduce((left, share) => left - share, total);
  const order = rates.map((_, at) => at).sort((one, other) => rates[one]! - rates[other]!);
  for (const at of order) {
    const { least, greatest } = bounds[at]!;
    const more = Math.min(rest, greatest - least);
    shares[at]! += more;
    rest -= more;
  }
  return shares;
}
