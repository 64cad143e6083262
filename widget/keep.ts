/**
 * Keeps the customer's choice in this tab, so that a reload, or the way back from payment, loses
 * nothing.
 *
 * Only the recipe, the jar, the number of jars and the moves that can be undone are kept, in
 * session storage; it goes when the tab closes.
 */
import type { Choice } from "#core/compose/product.ts";
import { stillFits } from "./scene.ts";
import { type ComposerState, act, isQuantity, openComposer } from "./state.ts";
import type { ProductOffer } from "#core/wire.ts";

interface Kept {
  readonly choice: Choice;
  readonly jar: string;
  readonly quantity: number;
  readonly past: readonly Choice[];
  readonly future: readonly Choice[];
}

/**
 * Keep what is chosen. A browser that refuses storage keeps nothing, and that is no fault. Writing
 * takes as long as judging, so it is not for the frame of a move.
 */
export function keep(service: string, state: ComposerState): void {
  const { offer, choice, jar, quantity, past, future } = state;
  try {
    const kept: Kept = { choice, jar, quantity, past, future };
    sessionStorage.setItem(keyOf(service, offer.product.id), JSON.stringify(kept));
  } catch {
    // Storage is off or full: the page still works, it only forgets on reload.
  }
}

/** Open a composer where the customer left it, as far as the maker still offers that. */
export function reopen(service: string, offer: ProductOffer): ComposerState {
  const fresh = openComposer(offer);
  const kept = read(service, offer.product.id);
  if (!kept || !fits(offer, kept.choice)) return fresh;
  const [past, future] = [kept.past, kept.future].map((choices) => fitting(offer, choices));
  const state = { ...fresh, choice: kept.choice, past: past!, future: future! };
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
function fits(offer: ProductOffer, choice: Choice): boolean {
  try {
    return stillFits(offer, choice);
  } catch {
    return false;
  }
}

/** Moves that still lead somewhere; the others are left out. */
function fitting(offer: ProductOffer, choices: unknown): Choice[] {
  return Array.isArray(choices) ? choices.filter((each: Choice) => fits(offer, each)) : [];
}

function keyOf(service: string, product: string): string {
  return `softset ${service} ${product}`;
}
