/**
 * A price sheet as it is stored and as it is sent in: what is in the draft, and saving over it without overwriting
 * anyone.
 */
import type { PricePolicy } from "#core/price/policy.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import type { Desk } from "../products/desk.ts";
import { withSheet } from "../products/draft-shape.ts";
import { Conflict } from "../storage/database.ts";
import type { StoredDraft } from "../storage/drafts.ts";
import { type PriceFields, fieldsOfPolicy } from "./price-fields.ts";
import { currencyOf } from "./trial-ground.ts";

/** A draft with its price sheet. */
export interface OpenSheet {
  readonly draft: StoredDraft;
  readonly stored: PriceFields;
  /** What stands in the fields when the sheet is opened: on one never saved, no figure that nobody said. */
  readonly shown: PriceFields;
}

/** @throws Refusal compose.product.unknown */
export async function openSheet(
  { drafts }: Pick<Shop, "drafts">,
  desk: Desk,
  productId: string,
): Promise<OpenSheet> {
  const draft = await drafts.read(desk.shop.id, productId);
  if (!draft) throw new Refusal("compose.product.unknown", "There is no product of that name.");
  const { product, pricePolicy } = draft.document;
  const stored = fieldsOfPolicy(pricePolicy, product.jars, currencyOf(desk));
  const isFresh = Object.keys(pricePolicy.jarMinor).length === 0;
  return { draft, stored, shown: isFresh ? withoutFigures(stored) : stored };
}

/** A new product begins with nothing in its policy; a nought that nobody wrote must not pass for an answer. */
function withoutFigures(stored: PriceFields): PriceFields {
  const isNought = (typed: string) => /^0([.]0+)?$/.test(typed);
  const asked = Object.entries(stored).map(([name, typed]) => [name, isNought(typed) ? "" : typed]);
  return { ...Object.fromEntries(asked), jarsPerBatch: "", roundTo: "", roundTyped: "" };
}

/** What a form says of the sheet it was filled in on. */
export interface Basis {
  readonly revision: number;
  /** The fields as they were stored then. */
  readonly was: PriceFields;
}

/** Whether the prices are still those that the form was filled in on, whatever else of the product changed. */
export function sameSheet({ draft, stored }: OpenSheet, { revision, was }: Basis): boolean {
  if (draft.revision === revision) return true;
  return Object.keys({ ...stored, ...was }).every((name) => stored[name] === was[name]);
}

/**
 * Save prices into the draft they were read with.
 * @returns whether they were saved; not when somebody saved in this very moment
 */
export async function savePolicy(
  { drafts, clock }: Pick<Shop, "drafts" | "clock">,
  { draft }: OpenSheet,
  pricePolicy: PricePolicy,
  by: { readonly shopId: string; readonly personId: string | null },
): Promise<boolean> {
  const document = withSheet({ ...draft.document, pricePolicy }, "price");
  const { id } = draft.document.product;
  try {
    const at = clock.seconds();
    await drafts.save(by.shopId, id, document, draft.revision, by.personId, at);
    return true;
  } catch (error) {
    if (error instanceof Conflict) return false;
    throw error;
  }
}
