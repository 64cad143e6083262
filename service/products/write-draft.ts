/**
 * Drafts opened and saved: a save that comes late is told what stands there now, and overwrites nothing.
 */
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { StoredDraft } from "../storage/drafts.ts";
import type { ProductDraft } from "./draft-shape.ts";
import { idFor } from "./fields.ts";

export interface Author {
  readonly shopId: string;
  readonly personId: string | null;
}

/** @throws Refusal compose.product.unknown */
export async function openDraft(shop: Shop, shopId: string, id: string): Promise<StoredDraft> {
  const stored = await shop.drafts.read(shopId, id);
  if (stored) return stored;
  throw new Refusal("compose.product.unknown", "There is no such product in your shop.");
}

/**
 * Save a draft made from a revision.
 * @returns nothing, or the draft that somebody saved meanwhile
 */
export async function saveDraft(
  shop: Shop,
  { shopId, personId }: Author,
  draft: ProductDraft,
  since: number,
): Promise<StoredDraft | undefined> {
  const { id } = draft.product;
  try {
    await shop.drafts.save(shopId, id, draft, since, personId, shop.clock.seconds());
    return undefined;
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    return await openDraft(shop, shopId, id);
  }
}

/** Tries at an id before giving up; the second carries a random ending already. */
const TRIES = 3;

/**
 * Begin a product under an id made of its name.
 * @param begin makes the draft for an id
 * @returns the id
 */
export async function beginProduct(
  shop: Shop,
  { shopId, personId }: Author,
  name: string,
  begin: (id: string) => ProductDraft,
): Promise<string> {
  const stem = idFor(name, "butter", ["new"]);
  for (let attempt = 1; ; attempt++) {
    const id = attempt === 1 ? stem : `${stem}-${shop.numbers.reference().toLowerCase()}`;
    try {
      await shop.drafts.create({
        ...{ shopId, personId, document: begin(id) },
        at: shop.clock.seconds(),
      });
      return id;
    } catch (error) {
      if (!(error instanceof Conflict) || attempt === TRIES) throw error;
    }
  }
}
