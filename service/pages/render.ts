/**
 * Page models -> HTML, through the precompiled templates.
 */
import { renderTemplate } from "../documents/render.ts";

export type PageName =
  | "shop-home"
  | "shop-product"
  | "order"
  | "till"
  | "maker-enter"
  | "maker-home"
  | "maker-order"
  | "maker-kitchen"
  | "message";

/**
 * A complete HTML page.
 * @param name template under `service/pages`
 * @param model fields the template asks for; one that is missing fails loudly
 */
export function renderPage(name: PageName, model: object): string {
  return renderTemplate(`pages/${name}`, model);
}
