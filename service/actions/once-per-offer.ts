/**
 * What an offer comes to, worked out once for as long as that offer is kept: a crowd at one product is then served from
 * memory. An offer is built anew whenever anything in it changes, and what was kept of the old one goes with it.
 */
import type { Offer } from "./offer.ts";

/**
 * Keep what `make` gives.
 * @param make from nothing but the offer
 */
export function oncePerOffer<Made>(make: (offer: Offer) => Made): (offer: Offer) => Made {
  const kept = new WeakMap<Offer, Made>();
  return (offer) => {
    const made = kept.get(offer) ?? make(offer);
    kept.set(offer, made);
    return made;
  };
}
