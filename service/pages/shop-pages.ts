/**
 * The customer's pages: each says whether the shop practises and whether it is the demo.
 */
import { DEMO_SHOP } from "#data/seeds/demo.ts";
import type { Till } from "../tills/till.ts";
import type { ShopRow } from "../storage/shops.ts";
import { type PageName, renderPage } from "./render.ts";

/** Whatever the template asks for; its words are in the language of the shop, or of `locale`. */
type PageModel = Readonly<Record<string, unknown>> & { readonly shop?: ShopRow | undefined };

/** Renders a page of the shop. */
export type ShopPages = (name: PageName, model: PageModel) => string;

/** The renderer for the shop’s till. */
export function shopPages(till: Pick<Till, "kind">): ShopPages {
  const practice = till.kind === "practice";
  return (name, model) =>
    renderPage(name, { practice, demo: model.shop?.id === DEMO_SHOP.id, ...model });
}
