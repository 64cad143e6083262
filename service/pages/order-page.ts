/**
 * What the customer's order page says.
 */
import type { OrderState } from "#core/order/states.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import { nameIn } from "#data/names.ts";
import type { Again } from "../actions/blend-code.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";
import { sayIn } from "../words/speak.ts";
import { sayWithdrawal } from "./disclosure-words.ts";

/** The way of an order; a state beside it has no place on the trail. */
const TRAIL: readonly OrderState[] = ["placed", "paid", "in-making", "made", "sent"];

/** Everything the order template shows. */
export function orderPage(
  order: OrderRow,
  quote: QuoteSnapshot,
  shop: ShopRow,
  again: Again | null,
) {
  const reached = TRAIL.indexOf(order.state);
  const say = (message: string, figures?: object) => sayIn(shop.locale, message, { ...figures });
  const isPending = order.state === "placed" && order.pendingSince !== null;
  // A slow payment, such as a bank transfer: nobody pays it a second time meanwhile.
  const told = isPending ? "pending" : order.state;
  return {
    title: say("order.title", { reference: order.reference }),
    shop,
    locale: shop.locale,
    reference: order.reference,
    headline: say(`headline.${told}`),
    words: say(`told.${told}`),
    quote,
    parts: quote.parts.map((part) => ({ ...part, name: nameIn(shop.locale, part) })),
    sums: sumsOf(quote, order),
    withdrawal: sayWithdrawal(quote.withdrawal, shop.locale),
    payUrl: order.state === "placed" && !isPending ? order.tillUrl : null,
    // Who has not paid yet is shown one way on, not two.
    again: order.state === "placed" ? null : again,
    trail:
      reached < 0
        ? []
        : TRAIL.map((state, at) => {
            const mark = at < reached ? "done" : at === reached ? "here" : "ahead";
            const step = say(`trail.step-${mark}`);
            return { name: say(`trail.${state}`), here: at === reached, step, mark };
          }),
  };
}

/** What is paid, and the tax in it: told apart where it comes on top, said where the price holds it. */
export function sumsOf(
  { jarMinor, quantity, totalMinor, taxMinor, taxOnTop }: QuoteSnapshot,
  order?: Pick<OrderRow, "carriageMinor" | "carriageName" | "refundedMinor">,
) {
  return {
    goodsMinor: jarMinor * quantity,
    taxMinor,
    /** With carriage, once it is chosen. */
    totalMinor: totalMinor + (order?.carriageMinor ?? 0),
    carriageName: order?.carriageName ?? null,
    carriageMinor: order?.carriageMinor ?? 0,
    refundedMinor: order?.refundedMinor ?? 0,
    onTop: taxOnTop === true,
    /** Whether the total is more than the price of the jars. */
    lines: taxOnTop === true || Boolean(order?.carriageName),
    inside: taxOnTop === undefined && taxMinor > 0,
  };
}
