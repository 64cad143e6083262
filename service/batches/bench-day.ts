/**
 * What the bench needs to know of its shop: the day there, the scale, the vessel, and what to call things.
 */
import { particularsOf } from "../particulars.ts";
import type { Shop } from "../ports.ts";
import type { ShopParticulars } from "../shapes.ts";
import { dayAt } from "../days.ts";
import type { ShopRow } from "../storage/shops.ts";

export interface Bench {
  readonly shopId: string;
  readonly owner: ShopRow;
  readonly particulars: ShopParticulars;
  /** Today at the bench, ISO 8601. */
  readonly today: string;
  /** Now [s since 1970] */
  readonly now: number;
}

export function openBench({ clock }: Pick<Shop, "clock">, owner: ShopRow): Bench {
  const particulars = particularsOf(owner);
  const now = clock.seconds();
  const today = dayAt(particulars.timeZone, now);
  return { shopId: owner.id, owner, particulars, now, today };
}

/** Number of the next batch of the day: 261125-01. */
export async function nextNumber(shop: Shop, { shopId, today }: Bench): Promise<string> {
  const prefix = `${today.slice(2).replaceAll("-", "")}-`;
  const sofar = await shop.batches.countFrom(shopId, prefix);
  return prefix + String(sofar + 1).padStart(2, "0");
}
