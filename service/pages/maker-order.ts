/**
 * One order, for the owner: who bought it, what it is, what it cost, which lots are in it, and what happened.
 */
import type { PriceBreakdown, PriceLine } from "#core/price/breakdown.ts";
import type { OrderWithQuote } from "../batches/groups.ts";
import { helpers } from "../documents/helpers.ts";
import type { IngredientOf } from "../actions/pantry.ts";
import type { OrderEventRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";
import type { BackwardRow } from "../storage/trace.ts";
import { type OrderMoney, orderMoneyModel } from "./maker-order-money.ts";
import { sumsOf } from "./order-page.ts";
import { capital } from "../words/capital.ts";
import { gramsIn, jarsOf, momentIn, stateWords, titleOf } from "./maker-pages.ts";

const LINE_WORDS: Readonly<Record<PriceLine["what"], string>> = {
  material: "Material",
  jar: "Jar and lid",
  label: "Label and carton",
  labour: "Labour",
  overhead: "Overheads",
  profit: "Profit",
  tax: "Tax",
  least: "Up to the least price",
  rounding: "Rounding",
};

export interface OrderParts {
  readonly price: PriceBreakdown;
  readonly events: readonly OrderEventRow[];
  /** Lots of its run; empty before its batch is closed. */
  readonly lots: readonly BackwardRow[];
  readonly batchNumber: string | null;
  readonly ingredientOf: IngredientOf;
  /** What stands against what was just asked for, with what was typed. */
  readonly fault: string;
  readonly typed: string;
  readonly money: OrderMoney;
}

export function makerOrderPage(shop: ShopRow, { order, quote }: OrderWithQuote, parts: OrderParts) {
  const when = momentIn(shop);
  const grams = gramsIn(shop);
  const nameOf = (id: string) => parts.ingredientOf(id)?.name ?? id;
  const money = (minor: number) => helpers.money(minor, quote.currency, shop.locale);
  const { state, refundedMinor } = order;
  const sums = sumsOf(quote);
  return {
    title: `Order ${order.reference}`,
    reference: order.reference,
    state: capital(stateWords(state)),
    jars: jarsOf(quote),
    blendTitle: titleOf(quote),
    batchNumber: parts.batchNumber,
    because: order.heldBecause,
    fault: parts.fault,
    typed: parts.typed,
    canSend: state === "made",
    canHold: state === "paid" || state === "in-making",
    canRelease: state === "held",
    name: order.customerName,
    email: order.customerEmail,
    total: money(order.totalMinor + order.carriageMinor),
    goods: money(sums.goodsMinor),
    taxOnTop: sums.onTop ? money(sums.taxMinor) : "",
    taxInside: sums.inside ? money(sums.taxMinor) : "",
    givenBack: refundedMinor > 0 ? money(refundedMinor) : "",
    money: orderMoneyModel(shop, order, quote, parts.money),
    parts: quote.parts,
    lots: parts.lots.flatMap(({ lotId, lotCode, supplier, ingredientId, usedMg }) =>
      lotId === null
        ? []
        : [{ lotId, lotCode, supplier, name: nameOf(ingredientId!), used: grams(usedMg!) }],
    ),
    lines: parts.price.lines.map(({ what, subject, minor }) => ({
      what: subject ? nameOf(subject) : LINE_WORDS[what],
      amount: money(minor),
    })),
    jarPrice: money(parts.price.jarMinor),
    events: parts.events.map(({ at, who, what }) => ({ when: when(at), who, what })),
  };
}
