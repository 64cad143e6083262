/**
 * How an order is sent: the ways a shop offers, frozen with the quote, and whether what was paid is one of them.
 */

/** One way to send it. */
export interface CarriageWay {
  readonly name: string;
  /** What the customer pays for it, with any tax that is in it [minor units] */
  readonly minor: number;
  /** Working days on the way, as the maker says. */
  readonly days?: { readonly least: number; readonly most: number };
}

/** What a customer chooses from. */
export interface CarriageOffers {
  /** One to five; their names differ. */
  readonly ways: readonly CarriageWay[];
  /** ISO 3166-1 codes of the countries an address may lie in; at least one. */
  readonly countries: readonly string[];
}

/**
 * Whether carriage was paid as it was offered.
 * @param offers missing when nothing was to be sent, and then nothing may be charged for it
 * @param chosen what the till charged [minor units] and the name of the way it showed
 */
export function isOffered(
  offers: CarriageOffers | undefined,
  chosen: { readonly minor: number; readonly name: string | null },
): boolean {
  if (!offers) return chosen.minor === 0 && chosen.name === null;
  return offers.ways.some(({ minor, name }) => minor === chosen.minor && name === chosen.name);
}
