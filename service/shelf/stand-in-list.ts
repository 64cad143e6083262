/**
 * Stand-ins for an ingredient of the shelf, in the bases of what is for sale and of drafts.
 */
import type { Base, Product } from "#core/compose/product.ts";
import type { Shop } from "../ports.ts";
import type { Desk } from "../products/desk.ts";
import { openProduct, openVersion } from "../products/open-product.ts";
import { shipDayAt } from "../products/season.ts";
import { type StandInWords, standInWords } from "../products/stand-ins.ts";
import type { ProductUse } from "../storage/ingredients.ts";

/** Each base costs some thirty judgements; the others stand on the pages of their products. */
export const BASES_MOST = 10;

export interface StandInList {
  readonly bases: readonly (StandInWords & { readonly name: string; readonly href: string })[];
  /** Whether more bases use it than are told of. */
  readonly more: boolean;
}

/**
 * Look up what could stand in.
 * @param uses products that name the ingredient
 */
export async function standInList(
  shop: Shop,
  desk: Desk,
  missing: string,
  uses: readonly ProductUse[],
): Promise<StandInList> {
  const shipDay = shipDayAt(desk.particulars, shop.clock.seconds());
  const found: { product: Product; base: Base }[] = [];
  for (const use of uses) {
    if (found.length > BASES_MOST) break;
    const product = await productOf(shop, desk, use);
    const bases = product.bases.filter((base) => startsWith(base, missing));
    found.push(...bases.map((base) => ({ product, base })));
  }
  return {
    bases: found.slice(0, BASES_MOST).map(({ product, base }) => ({
      name: `${base.name}, ${product.name}`,
      href: `/maker/products/${encodeURIComponent(product.id)}/stand-in?oil=${encodeURIComponent(missing)}`,
      ...standInWords(product, base, missing, { desk, shipDay }),
    })),
    more: found.length > BASES_MOST,
  };
}

/** What is for sale, or else the draft. */
async function productOf(shop: Shop, desk: Desk, { id, published }: ProductUse): Promise<Product> {
  const { shop: owner } = desk;
  const { row, stored } = await openProduct(shop, async () => desk, owner, id);
  if (!published || row.publishedVersion === null) return stored.document.product;
  return (await openVersion(shop, owner.id, id, row.publishedVersion)).product;
}

function startsWith({ butters, oils }: Base, id: string): boolean {
  return [...butters, ...oils].some(({ ingredient }) => ingredient === id);
}
