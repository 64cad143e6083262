/**
 * The words of the third script. Each language is a script of its own beside it.
 */
import type { WishWords } from "#core/order/wishes-words.ts";
import type { Compiled } from "../words.ts";

export type MoreWords = Compiled<Omit<typeof import("../words/more.en.json"), "default">>;

export interface MoreCatalogue {
  readonly words: MoreWords;
  readonly wishes: WishWords;
}
