/**
 * The first sheet: what the product is called, and what the shop says of it.
 */
import type { ProductDraft } from "../draft-shape.ts";
import { checkLength } from "../fields.ts";
import type { Fault } from "../../typed/fault.ts";
import { textOf } from "../../typed/text.ts";
import { type SheetForm, outcome } from "./sheet-form.ts";

export const NAME_MOST = 80;
export const WORDS_MOST = 600;

interface Typed {
  readonly name: string;
  readonly words: string;
}

export const WORDS_SHEET: SheetForm<Typed> = {
  sheet: "words",
  page: "maker-product-words",
  write: ({ product: { name, words } }) => ({ name, words }),
  read: (form) => ({
    name: textOf(form, "name").replaceAll("\n", " "),
    words: textOf(form, "words"),
  }),
  apply({ name, words }, { example: _, ...draft }) {
    const faults: Fault[] = [];
    if (name === "") faults.push({ field: "name", sentence: "Give the product a name." });
    checkLength(name, NAME_MOST, { field: "name", what: "The name" }, faults);
    checkLength(words, WORDS_MOST, { field: "words", what: "The shop text" }, faults);
    const written: ProductDraft = { ...draft, product: { ...draft.product, name, words } };
    return outcome(faults, () => written);
  },
  model: (typed, { product: { id } }) => ({ ...typed, address: `/shop/${id}` }),
};
