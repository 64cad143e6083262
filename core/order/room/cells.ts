/**
 * Where the cells of a picture stand, and how the shares that are not drawn follow.
 */
import { apportion } from "../../apportion.ts";
import type { Bound } from "../../compose/product.ts";
import type { Space } from "./space.ts";

/** The maker's own shares moved into the bounds and made whole; nothing when they cannot be. */
export function nearest({ slots, total }: Space, bounds: readonly Bound[]): number[] | undefined {
  const shares = slots.map(({ share }, at) =>
    Math.min(bounds[at]!.greatest, Math.max(bounds[at]!.least, share)),
  );
  const short = shares.reduce((rest, share) => rest - share, total);
  const rooms = bounds.map(({ least, greatest }, at) =>
    short > 0 ? greatest - shares[at]! : shares[at]! - least,
  );
  const room = rooms.reduce((sum, each) => sum + each, 0);
  if (room < Math.abs(short)) return undefined;
  const moves = apportion(Math.abs(short), rooms);
  return shares.map((share, at) => share + Math.sign(short) * moves[at]!);
}

/** Shares from end to end of a bound, evenly, each once. */
export function stops({ least, greatest }: Bound, cells: number): number[] {
  const count = Math.max(1, Math.min(cells, greatest - least + 1));
  return Array.from({ length: count }, (_, i) =>
    count === 1 ? least : Math.round(least + (i * (greatest - least)) / (count - 1)),
  );
}
