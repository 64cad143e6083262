/**
 * What the routes of a product share: the product behind the address, and the page around a sheet.
 */
import type { PageName } from "../../pages/render.ts";
import { productHead } from "../../pages/maker-product.ts";
import type { Shop } from "../../ports.ts";
import type { Desks } from "../../products/desk.ts";
import { type OpenProduct, openProduct } from "../../products/open-product.ts";
import type { Author } from "../../products/write-draft.ts";
import { makerPage } from "./page.ts";
import type { SignedContext } from "./visit.ts";

export function authorOf(c: SignedContext): Author {
  return { shopId: c.get("shopId"), personId: c.get("visit").personId };
}

export function productOf(shop: Shop, desks: Desks, c: SignedContext): Promise<OpenProduct> {
  return openProduct(shop, desks, c.get("owner"), c.req.param("id") ?? "");
}

/** A whole page with the head of its product. */
export function productPage(
  shop: Shop,
  c: SignedContext,
  open: OpenProduct,
  [name, here, part]: readonly [PageName, Parameters<typeof productHead>[1], string?],
  model: object,
): Promise<string> {
  return makerPage(shop, c, "products", name, {
    ...productHead(open, here, part),
    notice: "",
    conflict: undefined,
    faults: [],
    revision: open.stored.revision,
    ...model,
  });
}
