/**
 * The page that a person gets instead of what they asked for: the customer's in the language of the shop and by the
 * code of the refusal, the maker's in English with all that was found.
 */
import type { Problem } from "#core/wire.ts";
import type { Refusal } from "../problem.ts";
import type { ShopRow } from "../storage/shops.ts";
import { sayRefusal, titleRefusal } from "../words/refusals.ts";
import { sayIn } from "../words/speak.ts";

/** Whose page was asked for, as far as it is known when something is refused. */
export interface Reader {
  /** Nothing when the shop cannot be read just now. */
  readonly shop: ShopRow | undefined;
  readonly locale: string;
  /** Page of their order, to go back to. */
  readonly orderPath?: string;
}

/** What `shop-message` shows. */
export function customerProblem(refusal: Refusal, instance: string, reader: Reader) {
  const { shop, locale, orderPath } = reader;
  const title = titleRefusal(refusal, locale);
  return {
    title: shop ? `${title}, ${shop.name}` : title,
    ...{ shop, locale, headline: title, sentence: sayRefusal(refusal, locale) },
    back: orderPath ?? "/",
    backWords: sayIn(locale, orderPath ? "till.back" : "problem.back"),
    ...{ code: refusal.code, instance },
  };
}

/** What `message` shows. @param back where its link leads; none where every page says the same */
export function benchProblem(problem: Problem, back: string) {
  const sentences = (problem.findings ?? []).map(({ sentence }) => sentence);
  return { title: problem.title, problem, sentences, back };
}
