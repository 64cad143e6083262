/**
 * What a code holds -> what can be shown of it here, and a sentence that says so. It is judged anew like any choice.
 */
import { carryOver } from "#core/compose/carry-over.ts";
import type { Choice } from "#core/compose/product.ts";
import { inSentence } from "#core/words/words.ts";
import type { BlendOpened } from "#core/wire.ts";
import type { Trouble } from "../troubles.ts";
import { nameOf } from "../scene.ts";
import type { MoreGround } from "./ground.ts";
import type { MoreWords } from "./words.ts";

export interface Arrival {
  /** What to show; nothing when the page stays as it is. */
  readonly choice?: Choice;
  /** Jar of the code, where it is still offered. */
  readonly jar?: string;
  readonly sentence: string;
}

/** A blend of this product, or of another. */
export function arrivalOf(ground: MoreGround, opened: BlendOpened): Arrival {
  const { offer, language } = ground;
  const { link } = ground.words;
  const { product } = offer;
  if (opened.product.id !== product.id) {
    return { sentence: link.otherProduct({ product: opened.product.name }) };
  }
  const carried = carryOver(product, opened.choice);
  if (!carried) return { sentence: link.baseGone() };
  const { choice, lost, isChanged } = carried;
  const hasJar = product.jars.some(({ id }) => id === opened.jar);
  const names = lost.map((id) => inSentence(nameOf(offer, id), language)).join(", ");
  const what =
    lost.length > 0
      ? link.lost({ names })
      : isChanged
        ? link.moved()
        : opened.version === offer.version
          ? link.opened()
          : link.newVersion();
  return hasJar
    ? { choice, jar: opened.jar, sentence: what }
    : { choice, sentence: `${what} ${link.jarGone()}` };
}

const BY_CODE: Readonly<Record<string, keyof MoreWords["link"]>> = {
  "compose.code.altered": "altered",
  "compose.code.outdated": "outdated",
  "compose.product.unknown": "productGone",
  "order.unknown": "orderUnknown",
};

/** Why a code could not be opened. */
export function sayTrouble({ words, language, offer }: MoreGround, trouble: Trouble): string {
  const known = BY_CODE[trouble.code];
  return known ? words.link[known]() : trouble.say(language, (id) => nameOf(offer, id));
}
