/**
 * What the shop's page may listen to. All events bubble and cross the shadow boundary.
 */
import type { Choice } from "#core/compose/product.ts";
import type { Judgement } from "#core/judge/verdict.ts";
import type { OrderAnswer, QuoteAnswer } from "#core/wire.ts";

export interface ChangeDetail {
  readonly product: string;
  readonly choice: Choice;
  readonly jar: string;
  readonly quantity: number;
  readonly verdict: Judgement["verdict"];
  /** Price of one jar [minor units]; missing when it cannot be priced. */
  readonly jarMinor?: number;
  /** ISO 4217 */
  readonly currency: string;
}

export interface ProblemDetail {
  readonly code: string;
  readonly sentence: string;
}

export interface ComposerEvents {
  /** The customer changed the blend, the jar or the number of jars. */
  "softset-change": CustomEvent<ChangeDetail>;
  /**
   * A signed quote is in hand and nothing is ordered yet. Cancel it (`preventDefault`) to put the
   * quote in a cart of your own: your backend then makes the order from the token.
   */
  "softset-quoted": CustomEvent<QuoteAnswer>;
  /** The order stands. Cancel it to stay on the page instead of going to payment. */
  "softset-ordered": CustomEvent<OrderAnswer>;
  /** Something went wrong; the customer has been told in the sentence. */
  "softset-problem": CustomEvent<ProblemDetail>;
}

declare global {
  // eslint-disable-next-line @typescript-eslint/no-empty-object-type -- the only way to add to the DOM's own map
  interface HTMLElementEventMap extends ComposerEvents {}
}

type Detail<Name extends keyof ComposerEvents> = ComposerEvents[Name]["detail"];

/**
 * Tell the page.
 * @returns false when a listener cancelled the event
 */
export function tell<Name extends keyof ComposerEvents>(
  from: HTMLElement,
  name: Name,
  detail: Detail<Name>,
): boolean {
  const cancelable = name === "softset-quoted" || name === "softset-ordered";
  return from.dispatchEvent(
    new CustomEvent(name, { detail, bubbles: true, composed: true, cancelable }),
  );
}
