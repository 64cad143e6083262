/**
 * The day the next parcel of a shop leaves, asked for with every quote and therefore kept.
 */
import { particularsOf } from "../particulars.ts";
import type { Shop } from "../ports.ts";
import type { ShopParticulars } from "../shapes.ts";
import type { OfferMark } from "../storage/shops.ts";
import { shipDayAt } from "./season.ts";

interface Kept {
  readonly revision: number;
  readonly particulars: ShopParticulars;
  readonly minute: number;
  readonly day: string;
}

/** A function from a shop's mark to the ISO day a parcel leaves that is ordered now. */
export function shipDaysOf(shop: Pick<Shop, "shops" | "clock">) {
  const kept = new Map<string, Kept>();
  return async ({ shopId, shopRevision: revision }: OfferMark): Promise<string> => {
    const seconds = shop.clock.seconds();
    // Midnight falls on a whole minute in every zone, so once a minute is exact.
    const minute = Math.floor(seconds / 60);
    const known = kept.get(shopId);
    const isSame = known?.revision === revision;
    if (known && isSame && known.minute === minute) return known.day;
    const particulars = isSame ? known.particulars : await particularsNow(shop, shopId);
    const day = shipDayAt(particulars, seconds);
    kept.set(shopId, { revision, particulars, minute, day });
    return day;
  };
}

async function particularsNow({ shops }: Pick<Shop, "shops">, shopId: string) {
  const owner = await shops.byId(shopId);
  if (!owner) throw new Error(`there is no shop ${shopId}`);
  return particularsOf(owner);
}
