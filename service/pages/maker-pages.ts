/**
 * What the maker's pages say.
 */
import type { PriceBreakdown, PriceLine } from "#core/price/breakdown.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import { ingredientById } from "#data/library.ts";
import { type OrderWithQuote, groupByBlend, withQuote } from "../actions/issue-batch.ts";
import { helpers } from "../documents/helpers.ts";
import { ShopParticularsShape } from "../shapes.ts";
import type { Batches } from "../storage/batches.ts";
import type { OrderEventRow, OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";

export interface BenchLists {
  readonly waiting: readonly OrderRow[];
  readonly toSend: readonly OrderRow[];
  readonly held: readonly OrderRow[];
  readonly latest: readonly OrderRow[];
  readonly batches: Awaited<ReturnType<Batches["latest"]>>;
}

const LINE_WORDS: Readonly<Record<PriceLine["what"], string>> = {
  material: "Material",
  jar: "Jar and lid",
  label: "Label and carton",
  labour: "Labour",
  profit: "Profit",
  tax: "Tax",
  overhead: "Overheads",
  least: "Up to your least price",
  rounding: "Rounding",
};

/** The bench: what to do next at the top. */
export function benchPage(shop: ShopRow, lists: BenchLists) {
  const when = momentIn(shop);
  const line = lineIn(shop);
  const groups = groupByBlend(lists.waiting);
  return {
    title: "Bench",
    shop,
    locale: shop.locale,
    headline: nextThing(lists),
    held: lists.held.map((order) => ({ ...line(withQuote(order)), because: order.heldBecause })),
    groups: groups.map(({ quote, orders }) => ({
      title: titleOf(quote),
      blend: quote.parts.map(({ name, share }) => `${helpers.percent(share)} ${name}`).join(", "),
      orders: orders.map(line),
    })),
    toSend: lists.toSend.map((order) => line(withQuote(order))),
    batches: lists.batches.map(({ number, state, issuedAt, orders }) => ({
      number,
      orders,
      open: state === "open",
      issued: when(issuedAt),
    })),
    orders: lists.latest.map((order) => line(withQuote(order))),
  };
}

/** One order: its blend, what it costs and earns, and its log. */
export function makerOrderPage(
  shop: ShopRow,
  { order, quote }: OrderWithQuote,
  price: PriceBreakdown,
  events: readonly OrderEventRow[],
  batchNumber: string | null,
) {
  const when = momentIn(shop);
  const money = (minor: number) => helpers.money(minor, quote.currency, shop.locale);
  return {
    title: `Order ${order.reference}`,
    shop,
    locale: shop.locale,
    reference: order.reference,
    state: capital(stateWords(order.state)),
    jars: jarsOf(quote),
    blendTitle: titleOf(quote),
    batchNumber,
    because: order.heldBecause,
    parts: quote.parts,
    lines: price.lines.map(({ what, subject, minor }) => ({
      what: subject ? (ingredientById(subject)?.name ?? subject) : LINE_WORDS[what],
      amount: money(minor),
    })),
    jarPrice: money(price.jarMinor),
    events: events.map(({ at, who, what }) => ({ when: when(at), who, what })),
  };
}

function nextThing({ held, waiting, batches, toSend }: BenchLists): string {
  const open = batches.filter(({ state }) => state === "open").length;
  if (held.length > 0) return `${count(held.length, "order")} to look into`;
  if (waiting.length > 0) return `${count(waiting.length, "paid order")} to make`;
  if (open > 0) return open === 1 ? "1 batch on the bench" : `${open} batches on the bench`;
  if (toSend.length > 0) return `${count(toSend.length, "order")} to send`;
  return "Nothing waits for you";
}

function count(n: number, noun: string): string {
  return `${n} ${noun}${n === 1 ? "" : "s"}`;
}

function lineIn(shop: ShopRow) {
  const when = momentIn(shop);
  return ({ order, quote }: OrderWithQuote) => ({
    id: order.id,
    reference: order.reference,
    title: titleOf(quote),
    jars: jarsOf(quote),
    state: stateWords(order.state),
    placed: when(order.placedAt),
    paid: order.paidAt === null ? "" : when(order.paidAt),
    total: helpers.money(order.totalMinor, quote.currency, shop.locale),
  });
}

function titleOf({ product, base }: QuoteSnapshot): string {
  return `${product.name}, from ${base.name}`;
}

function jarsOf({ quantity, jar }: QuoteSnapshot): string {
  return `${quantity} × ${jar.name} ${jar.fillG}\u00a0g`;
}

function stateWords(state: OrderRow["state"]): string {
  return state.replace("-", " ");
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Seconds since 1970 as day and time at the bench. */
export function momentIn(shop: ShopRow): (seconds: number) => string {
  const { timeZone } = ShopParticularsShape.parse(JSON.parse(shop.particulars));
  const format = new Intl.DateTimeFormat(shop.locale, {
    dateStyle: "medium",
    timeStyle: "short",
    timeZone,
  });
  return (seconds) => format.format(seconds * 1000);
}
