/**
 * Keeps the customer's choice in this tab, so that a reload, or the way back from payment, loses
 * nothing.
 *
 * Only the recipe, the jar and the number of jars are kept, in session storage; it goes when the
 * tab closes.
 */
import type { Choice } from "#core/compose/product.ts";
import { stillFits } from "./scene.ts";
import { type ComposerState, act, isQuantity, openComposer } from "./state.ts";
import type { ProductOffer } from "#core/wire.ts";

interface Kept {
  readonly choice: Choice;
  readonly jar: string;
  readonly quantity: number;
}

/** Keep what is chosen. A browser that refuses storage keeps nothing, and that is no fault. */
export function keep(service: string, { offer, choice, jar, quantity }: ComposerState): void {
  try {
    const kept: Kept = { choice, jar, quantity };
    sessionStorage.setItem(keyOf(service, offer.product.id), JSON.stringify(kept));
  } catch {
    // Storage is off or full: the page still works, it only forgets on reload.
  }
}

/** Open a composer where the customer left it, as far as the maker still offers that. */
export function reopen(service: string, offer: ProductOffer): ComposerState {
  const fresh = openComposer(offer);
  const kept = read(service, offer.product.id);
  if (!kept || !fits(offer, kept)) return fresh;
  const state = { ...fresh, choice: kept.choice };
  const jarred = act(state, { kind: "choose-jar", jar: kept.jar });
  return isQuantity(jarred, kept.quantity) ? { ...jarred, quantity: kept.quantity } : jarred;
}

function read(service: string, product: string): Kept | undefined {
  try {
    return JSON.parse(sessionStorage.getItem(keyOf(service, product)) ?? "null") ?? undefined;
  } catch {
    return undefined;
  }
}

/** Storage is the customer's to edit, so its shape is not trusted. */
function fits(offer: ProductOffer, kept: Kept): boolean {
  try {
    return stillFits(offer, kept.choice);
  } catch {
    return false;
  }
}

function keyOf(service: string, product: string): string {
  return `softset ${service} ${product}`;
}
