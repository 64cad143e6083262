/**
 * What the owner's page of an order says of its customer's wishes: to cancel, and to be forgotten.
 */
import { tooEarly } from "../actions/order-care.ts";
import { ASKABLE } from "../storage/order-care.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";
import { momentIn } from "./maker-pages.ts";

export function makerOrderCare(order: OrderRow, shop: ShopRow) {
  const when = momentIn(shop);
  const isAsked = order.cancelAskedAt !== null && ASKABLE.includes(order.state);
  return {
    reference: order.reference,
    asked: isAsked ? when(order.cancelAskedAt!) : "",
    erased: order.erasedAt === null ? "" : when(order.erasedAt),
    tooEarly: order.erasedAt === null ? (tooEarly(order.state, "en") ?? "") : "",
  };
}
