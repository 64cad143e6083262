/**
 * What a page needs before it can be built: the offer, and the language to show it in.
 */
import type { ProductOffer } from "#core/wire.ts";
import { loadOffer } from "./exchange.ts";
import { breath } from "./idle.ts";
import {
  type Language,
  askedOf,
  catalogueFor,
  languageFor,
  warmNumbers,
  wordsLangOf,
} from "./language.ts";
import { type Linked, followLink, settleLink } from "./link.ts";
import { type Trouble, noAnswer } from "./troubles.ts";

export interface Opening {
  readonly offer: ProductOffer;
  readonly language: Language;
  /** The words wanted could not be had, so the page speaks English for now. */
  readonly isOutOfWords: boolean;
  /** The blend that the page's address brings. */
  readonly linked?: Linked;
}

/**
 * Fetch a product and the words for it, both at once: a page mostly is in the language of its shop.
 * @param asked language tag the element itself asks for; the shop's own when it asks for none
 */
export async function openOffer(
  service: string,
  product: string,
  asked: string | undefined,
): Promise<Opening | { readonly trouble: Trouble }> {
  const linked = followLink(service);
  const likely = asked ?? askedOf(document.documentElement) ?? "en";
  // Whether they could be had is asked again below, when it is known that they are wanted.
  catalogueFor(likely).catch(() => undefined);
  const offered = loadOffer(service, product, asked);
  void breath().then(() => warmNumbers(likely));
  const answer = await offered;
  if ("trouble" in answer) return answer;
  const { locale, currency } = answer.value;
  const tag = asked ?? locale;
  try {
    const catalogue = await catalogueFor(tag);
    const isOutOfWords = catalogue.lang !== wordsLangOf(tag);
    if (linked) await settleLink(linked, catalogue.lang);
    return {
      ...{ offer: answer.value, language: languageFor(tag, catalogue, currency), isOutOfWords },
      ...(linked ? { linked } : {}),
    };
  } catch (fault) {
    // A tag or a currency that no browser knows; else it is the words that were out of reach.
    return {
      trouble: noAnswer("load", fault instanceof RangeError ? "unreadable" : "unreachable"),
    };
  }
}
