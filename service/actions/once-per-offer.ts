/**
 * What an offer comes to, worked out once for as long as that offer is kept: a crowd at one product is then served from
 * memory. An offer is built anew whenever anything in it changes, and what was kept of the old one goes with it.
 */
import type { Offer } from "./offer.ts";

/**
 * Keep what `make` gives.
 * @param make from nothing but the offer and the variant, of which there are few
 */
export function oncePerOffer<Variant extends string, Made>(
  make: (offer: Offer, variant: Variant) => Made,
): (offer: Offer, variant: Variant) => Made {
  const kept = new WeakMap<Offer, Map<Variant, Made>>();
  return (offer, variant) => {
    const ofOffer = kept.get(offer) ?? new Map<Variant, Made>();
    kept.set(offer, ofOffer);
    const made = ofOffer.get(variant) ?? make(offer, variant);
    ofOffer.set(variant, made);
    return made;
  };
}
