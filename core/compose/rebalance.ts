/**
 * Moving one share moves the others, so that the whole stays whole.
 *
 * Rule: the moved part takes the wanted share, as near as its own bound and the room of the others allow. What it gains
 * the others lose in proportion to how far each stands above its least share; what it loses they gain in proportion to
 * how far each stands below its greatest. Locked parts have no room and never move.
 */
import { apportion } from "../apportion.ts";
import type { Bound } from "./product.ts";

export interface Adjustable extends Bound {
  /** [hundredths of a percent] */
  readonly share: number;
}

/**
 * Set one share and let the others follow.
 * @param parts shares with their bounds, each share inside its bound [hundredths of a percent]
 * @param at which part moves
 * @param wanted share it should take [hundredths of a percent]
 * @returns new shares in the same order, inside all bounds, with the same sum
 * @throws when there is no such part or `wanted` is not a whole number
 */
export function rebalance(parts: readonly Adjustable[], at: number, wanted: number): number[] {
  const moved = parts[at];
  if (!moved || !Number.isSafeInteger(wanted)) throw new RangeError("no such share to move");
  const others = parts.filter((_, index) => index !== at);
  const aim = Math.min(moved.greatest, Math.max(moved.least, wanted));
  const rising = aim > moved.share;
  const rooms = others.map((part) =>
    rising ? part.share - part.least : part.greatest - part.share,
  );
  const room = rooms.reduce((sum, each) => sum + each, 0);
  const step = Math.min(Math.abs(aim - moved.share), room);
  const steps = apportion(step, rooms);
  const sign = rising ? 1 : -1;
  const shares = others.map((part, index) => part.share - sign * steps[index]!);
  shares.splice(at, 0, moved.share + sign * step);
  return shares;
}
