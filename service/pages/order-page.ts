/**
 * What the customer's order page says.
 */
import type { OrderState } from "#core/order/states.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";

/** One sentence per state: what is so, and what happens next. */
const WORDS: Record<OrderState, { readonly headline: string; readonly words: string }> = {
  placed: {
    headline: "Waiting for payment",
    words: "Your blend and its price are kept. We start once the payment has come through.",
  },
  paid: {
    headline: "Paid. Thank you",
    words: "Your jar is on the maker’s list. It is made to order, so give it a few days.",
  },
  held: {
    headline: "The maker is looking into it",
    words:
      "Something about the payment does not match. Nothing is lost; the maker will write to you.",
  },
  "in-making": {
    headline: "Being made",
    words: "The maker has started your batch: melted, whipped, and then left to settle.",
  },
  made: { headline: "Made", words: "Your jar is filled and resting before it is sent." },
  sent: { headline: "On its way", words: "Your jar has left the workshop." },
  cancelled: { headline: "Cancelled", words: "This order was cancelled. Nothing will be made." },
  expired: {
    headline: "Not paid in time",
    words: "No money was taken. You can choose your blend again whenever you like.",
  },
};

const TRAIL: readonly { readonly state: OrderState; readonly name: string }[] = [
  { state: "placed", name: "Ordered" },
  { state: "paid", name: "Paid" },
  { state: "in-making", name: "Being made" },
  { state: "made", name: "Made" },
  { state: "sent", name: "Sent" },
];

/** Everything the order template shows. */
export function orderPage(order: OrderRow, quote: QuoteSnapshot, shop: ShopRow) {
  const reached = TRAIL.findIndex(({ state }) => state === order.state);
  const { headline, words } = WORDS[order.state];
  return {
    title: `Order ${order.reference}`,
    shop,
    locale: shop.locale,
    reference: order.reference,
    headline,
    words,
    quote,
    sums: sumsOf(quote),
    payUrl: order.state === "placed" ? order.tillUrl : null,
    trail:
      reached < 0
        ? []
        : TRAIL.map(({ name }, at) => ({
            name,
            here: at === reached,
            step: at < reached ? "done" : at === reached ? "now" : "to come",
            mark: at < reached ? "done" : at === reached ? "here" : "ahead",
          })),
  };
}

/** What is paid, and the tax in it: told apart where it comes on top, said where the price holds it. */
export function sumsOf({ jarMinor, quantity, totalMinor, taxMinor, taxOnTop }: QuoteSnapshot) {
  return {
    goodsMinor: jarMinor * quantity,
    taxMinor,
    totalMinor,
    onTop: taxOnTop === true,
    inside: taxOnTop === undefined && taxMinor > 0,
  };
}
