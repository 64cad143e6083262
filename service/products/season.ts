/**
 * The season of a parcel: the day it is sent and the zone it goes to say how warm it gets, and so how much warmth a jar
 * must stand. A product without a parcel margin, and a shop without zones, have no season.
 */
import { dayAt, daysAfter } from "../days.ts";
import type { Product } from "#core/compose/product.ts";
import type { Rules } from "#core/judge/verdict.ts";
import { Refusal } from "../problem.ts";

/** Where parcels go, with the warmth a parcel meets there in each month. */
export interface ParcelZone {
  readonly id: string;
  readonly name: string;
  /** January to December [C] */
  readonly monthsCelsius: readonly number[];
}

/** What the season needs to know of the shop. */
export interface SeasonParticulars {
  /** IANA name */
  readonly timeZone: string;
  /** Days between an order and its parcel; none when not said. */
  readonly leadDays?: number | undefined;
  readonly zones?: readonly ParcelZone[] | undefined;
}

export interface Season {
  readonly rules: Rules;
  /** The parcel that sets the limit; missing when there is no season or the product's own limit is the higher one. */
  readonly parcel?: { readonly zone: ParcelZone; readonly celsius: number };
}

/**
 * Rules of a product for a parcel.
 * @param shipDay ISO day the parcel leaves
 * @param zoneId where it goes; the warmest zone of that month when not said
 * @returns the product's rules, with the greater of its own least *softens above* and the parcel's warmth plus margin
 * @throws Refusal compose.zone.unknown
 */
export function rulesAt(
  product: Pick<Product, "rules" | "parcelMarginCelsius">,
  particulars: SeasonParticulars,
  shipDay: string,
  zoneId?: string,
): Rules {
  return seasonAt(product, particulars, shipDay, zoneId).rules;
}

/** The same with the parcel that sets the limit. */
export function seasonAt(
  { rules, parcelMarginCelsius }: Pick<Product, "rules" | "parcelMarginCelsius">,
  { zones = [] }: SeasonParticulars,
  shipDay: string,
  zoneId?: string,
): Season {
  const reached = zoneId === undefined ? zones : zones.filter(({ id }) => id === zoneId);
  if (zoneId !== undefined && reached.length === 0) {
    throw new Refusal("compose.zone.unknown", `No parcels go to a zone called “${zoneId}”.`);
  }
  if (parcelMarginCelsius === undefined || reached.length === 0) return { rules };
  const month = monthOf(shipDay);
  const parcels = reached.map((zone) => ({ zone, celsius: zone.monthsCelsius[month - 1]! }));
  const parcel = parcels.reduce((one, other) => (other.celsius > one.celsius ? other : one));
  const least = parcel.celsius + parcelMarginCelsius;
  const own = rules.softensAboveLeastCelsius;
  if (own !== undefined && own >= least) return { rules };
  return { rules: { ...rules, softensAboveLeastCelsius: least }, parcel };
}

/**
 * The day a parcel leaves that is ordered now.
 * @param seconds since 1970
 * @returns ISO day in the shop's time zone
 */
export function shipDayAt({ timeZone, leadDays = 0 }: SeasonParticulars, seconds: number): string {
  return daysAfter(dayAt(timeZone, seconds), leadDays);
}

/** 1 to 12 of an ISO day. */
export function monthOf(day: string): number {
  return Number(day.slice(5, 7));
}
