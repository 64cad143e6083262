/**
 * What the customer's page says of cancelling, of the receipt, and of what is held about them.
 */
import type { QuoteSnapshot } from "#core/wire.ts";
import { helpers } from "../documents/helpers.ts";
import { particularsOf } from "../particulars.ts";
import { ASKABLE, ERASABLE } from "../storage/order-care.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";
import { sayIn } from "../words/speak.ts";
import { momentIn } from "./maker-pages.ts";
import { sumsOf } from "./order-page.ts";

/**
 * @param shop as the reader of the order reads it
 * @param keptOn why the maker would not cancel, when they said so
 */
export function orderCare(
  order: OrderRow,
  shop: ShopRow,
  path: string,
  keptOn: string | undefined,
) {
  const when = momentIn(shop);
  const isAsked = order.cancelAskedAt !== null && ASKABLE.includes(order.state);
  return {
    path,
    receipt: order.paidAt !== null,
    mayAsk: ASKABLE.includes(order.state) && order.cancelAskedAt === null,
    asked: isAsked ? when(order.cancelAskedAt!) : "",
    keptOn: (!isAsked && ASKABLE.includes(order.state) && keptOn) || "",
    erased: order.erasedAt === null ? "" : when(order.erasedAt),
  };
}

export function erasurePage(order: OrderRow, shop: ShopRow, path: string, fault: string) {
  return {
    title: sayIn(shop.locale, "erase.title", { reference: order.reference }),
    shop,
    reference: order.reference,
    path,
    fault,
    elsewhere:
      order.tillKind === "practice" ? "" : sayIn(shop.locale, `erase.elsewhere-${order.tillKind}`),
    over: ERASABLE.includes(order.state) && order.erasedAt === null,
  };
}

/** A receipt of a paid order: who sold what to whom, when, for how much, and the tax in it. */
export function receiptPage(order: OrderRow, quote: QuoteSnapshot, shop: ShopRow, path: string) {
  const { maker, responsible } = particularsOf(shop);
  const money = (minor: number) => helpers.money(minor, quote.currency, shop.locale);
  const sums = sumsOf(quote, order);
  const day = momentIn(shop);
  return {
    title: sayIn(shop.locale, "receipt.title", { reference: order.reference }),
    shop,
    path,
    reference: order.reference,
    seller: responsible?.name ?? maker,
    sellerAddress: responsible?.address ?? "",
    buyer: order.customerName ?? "",
    paid: day(order.paidAt!),
    lines: [
      {
        what: `${quote.product.name}, ${quote.base.name}, ${quote.jar.name} ${quote.jar.fillG}\u00a0g`,
        count: String(quote.quantity),
        perJar: money(quote.jarMinor),
        amount: money(sums.goodsMinor),
      },
      ...(sums.carriageName
        ? [{ what: sums.carriageName, count: "", perJar: "", amount: money(sums.carriageMinor) }]
        : []),
    ],
    taxOnTop: sums.onTop ? money(sums.taxMinor) : "",
    taxInside: sums.inside ? money(sums.taxMinor) : "",
    total: money(sums.totalMinor),
    givenBack: order.refundedMinor > 0 ? money(order.refundedMinor) : "",
    isPractice: order.tillKind === "practice",
    isHost: order.tillKind === "host",
  };
}
