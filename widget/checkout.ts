/**
 * From a blend to an order: ask for a quote, compare it with what the page showed, place the order.
 *
 * A quote in hand is used again when the answer to the order was lost, so that pressing twice can
 * never order twice.
 */
import type { OrderAnswer, QuoteAnswer, QuoteRequest } from "#core/wire.ts";
import { placeOrder, requestQuote } from "./exchange.ts";
import type { Scene } from "./scene.ts";
import type { Trouble } from "./troubles.ts";

export type Phase =
  | { readonly kind: "idle" }
  | { readonly kind: "busy" }
  | {
      readonly kind: "confirm";
      readonly quoted: QuoteAnswer;
      /** Price of a jar the page showed [minor units] */
      readonly shownMinor: number;
      /** The maker has published another version meanwhile. */
      readonly newRecipe: boolean;
    }
  | { readonly kind: "ordered"; readonly order: OrderAnswer };

export interface CheckoutListener {
  phase(phase: Phase): void;
  trouble(trouble: Trouble): void;
  /** @returns false when the page takes the quote itself */
  quoted(quoted: QuoteAnswer): boolean;
  ordered(order: OrderAnswer): void;
}

export class Checkout {
  readonly #service: string;
  readonly #listener: CheckoutListener;
  #phase: Phase = { kind: "idle" };
  /** Quote whose order may or may not have reached the shop. */
  #held: { readonly request: string; readonly quoted: QuoteAnswer } | undefined;

  constructor(service: string, listener: CheckoutListener) {
    this.#service = service;
    this.#listener = listener;
  }

  get phase(): Phase {
    return this.#phase;
  }

  /** Buy what the scene shows; only ever one errand at a time. */
  async buy(scene: Scene): Promise<void> {
    const { price } = scene;
    if (this.#phase.kind !== "idle" || scene.verdict !== "orderable" || !price) return;
    const request = requestOf(scene);
    const held = this.#heldFor(request);
    this.#enter({ kind: "busy" });
    if (held) return this.#order(request, held);
    const answer = await requestQuote(this.#service, request);
    if ("trouble" in answer) return this.#fail(answer.trouble);
    const quoted = answer.value;
    if (!this.#listener.quoted(quoted)) return this.#enter({ kind: "idle" });
    const newRecipe = quoted.quote.product.version !== scene.state.offer.version;
    if (quoted.quote.totalMinor !== price.totalMinor || newRecipe) {
      return this.#enter({ kind: "confirm", quoted, shownMinor: price.totalMinor, newRecipe });
    }
    return this.#order(request, quoted);
  }

  /** Yes to the new price or recipe. */
  async confirm(scene: Scene): Promise<void> {
    if (this.#phase.kind !== "confirm") return;
    const { quoted } = this.#phase;
    this.#enter({ kind: "busy" });
    return this.#order(requestOf(scene), quoted);
  }

  /** Back to the blend: after a no, after a change of the blend, or to make another jar. */
  rest(): void {
    if (this.#phase.kind !== "idle" && this.#phase.kind !== "busy") this.#enter({ kind: "idle" });
  }

  async #order(request: QuoteRequest, quoted: QuoteAnswer): Promise<void> {
    this.#held = { request: JSON.stringify(request), quoted };
    const answer = await placeOrder(this.#service, quoted.token);
    if ("trouble" in answer) {
      if (answer.trouble.certain) this.#held = undefined;
      return this.#fail(answer.trouble);
    }
    this.#held = undefined;
    this.#enter({ kind: "ordered", order: answer.value });
    this.#listener.ordered(answer.value);
  }

  /**
   * Even a lapsed quote is tried first: if its order stands, the service answers with that order.
   */
  #heldFor(request: QuoteRequest): QuoteAnswer | undefined {
    return this.#held?.request === JSON.stringify(request) ? this.#held.quoted : undefined;
  }

  #enter(phase: Phase): void {
    this.#phase = phase;
    this.#listener.phase(phase);
  }

  #fail(trouble: Trouble): void {
    this.#enter({ kind: "idle" });
    this.#listener.trouble(trouble);
  }
}

function requestOf({ state }: Scene): QuoteRequest {
  const { offer, choice, jar, quantity } = state;
  return { product: offer.product.id, choice, jar, quantity };
}
