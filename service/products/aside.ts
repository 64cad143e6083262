/**
 * Bases set aside and put back: out of the product, and not lost.
 */
import { ASIDE_MOST, type ProductDraft } from "./draft-shape.ts";
import { idFor } from "./fields.ts";

/** Take a base out; one that is not there changes nothing. */
export function setBaseAside(draft: ProductDraft, id: string): ProductDraft {
  const base = draft.product.bases.find((each) => each.id === id);
  if (!base) return draft;
  const bases = draft.product.bases.filter((each) => each !== base);
  const aside = [base, ...(draft.aside ?? [])].slice(0, ASIDE_MOST);
  return { ...draft, product: { ...draft.product, bases }, aside };
}

/** Put a base back, under another id when its own was taken since. */
export function putBaseBack(draft: ProductDraft, id: string): ProductDraft {
  const { aside = [], product } = draft;
  const at = aside.findIndex((each) => each.id === id);
  if (at < 0) return draft;
  const own = idFor(
    id,
    "base",
    product.bases.map((base) => base.id),
  );
  const bases = [...product.bases, { ...aside[at]!, id: own }];
  return { ...draft, product: { ...product, bases }, aside: aside.toSpliced(at, 1) };
}
