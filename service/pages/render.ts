/**
 * Page models -> HTML, through the precompiled templates.
 */
import { renderTemplate } from "../documents/render.ts";

export type PageName =
  | "shop-home"
  | "shop-product"
  | "plain-quote"
  | "order"
  | "till"
  | "maker-enter"
  | "maker-enter-link"
  | "maker-you"
  | "maker-recovery-code"
  | "maker-people"
  | "maker-shop"
  | "maker-shop-zone"
  | "maker-shop-carriage"
  | "maker-messages"
  | "maker-home"
  | "maker-orders"
  | "maker-order"
  | "maker-batches"
  | "maker-batch"
  | "maker-batch-new"
  | "maker-batch-record"
  | "maker-net-content"
  | "maker-batch-close"
  | "maker-batch-correction"
  | "maker-labels"
  | "maker-shop-labels"
  | "maker-trace"
  | "maker-kitchen"
  | "maker-shelf"
  | "maker-shelf-library"
  | "maker-shelf-start"
  | "maker-shelf-form"
  | "maker-shelf-ingredient"
  | "maker-shelf-lot-form"
  | "maker-shelf-lot"
  | "maker-shelf-files"
  | "maker-shelf-preview"
  | "maker-price"
  | "maker-prices"
  | "maker-products"
  | "maker-product-new"
  | "maker-product"
  | "maker-product-words"
  | "maker-product-oils"
  | "maker-product-bases"
  | "maker-product-base"
  | "maker-product-base-facts"
  | "maker-product-additives"
  | "maker-product-jars"
  | "maker-product-label"
  | "maker-product-rules"
  | "maker-product-room"
  | "maker-product-stand-in"
  | "maker-product-publish"
  | "maker-product-version"
  | "order-receipt"
  | "order-erase"
  | "maker-api-keys"
  | "api-reference"
  | "message"
  | "shop-message";

/**
 * A complete HTML page.
 * @param name template under `service/pages`
 * @param model fields the template asks for; one that is missing fails loudly
 */
export function renderPage(name: PageName, model: object): string {
  return renderTemplate(`pages/${name}`, model);
}
