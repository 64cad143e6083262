/**
 * The owner's orders: one list by what is to be done about them, and the search through it.
 */
import { withQuote } from "../batches/groups.ts";
import { helpers } from "../documents/helpers.ts";
import { COUNT_MOST, type ListedOrder, type OrderList } from "../storage/order-lists.ts";
import { type Beginnings, SEARCH_WINDOW } from "../storage/order-search.ts";
import type { ShopRow } from "../storage/shops.ts";
import { jarsOf, momentIn, stateWords, titleOf } from "./maker-pages.ts";

export interface OrderGroup {
  readonly list: OrderList;
  readonly title: string;
  /** What the maker does about them. */
  readonly todo: string;
  /** Work is listed oldest first; what is over, newest first and folded away. */
  readonly isWork: boolean;
}

export const ORDER_GROUPS: readonly OrderGroup[] = [
  { list: "held", title: "Held", todo: "Look into them: release or cancel each.", isWork: true },
  { list: "paid", title: "Paid", todo: "Waiting to be made.", isWork: true },
  { list: "in-making", title: "In making", todo: "In a batch on the bench.", isWork: true },
  { list: "made", title: "Made", todo: "Waiting to be sent.", isWork: true },
  { list: "sent", title: "Sent", todo: "On their way or there.", isWork: false },
  { list: "cancelled", title: "Cancelled", todo: "Not to be made.", isWork: false },
  { list: "refunded", title: "Refunded", todo: "In whole or in part.", isWork: false },
  { list: "placed", title: "At the till", todo: "Not paid yet.", isWork: false },
  { list: "expired", title: "Not paid in time", todo: "Nothing to do.", isWork: false },
];

interface GroupShown extends OrderGroup {
  readonly count: number;
  readonly orders: readonly ListedOrder[];
}

/** All groups, each with its first rows. */
export function ordersPage(shop: ShopRow, groups: readonly GroupShown[]) {
  const row = rowIn(shop);
  const work = groups.filter(({ isWork, count }) => isWork && count > 0);
  return {
    title: "Orders",
    headline: "Orders",
    asked: "",
    whole: false,
    found: false as const,
    none: groups.every(({ count }) => count === 0),
    groups: groups
      .filter(({ count }) => count > 0)
      .map(({ list, title, todo, isWork, count, orders }) => ({
        list,
        title,
        todo,
        count: count > COUNT_MOST ? `more than ${COUNT_MOST}` : String(count),
        open: isWork || work.length === 0,
        rows: orders.map(row),
        more: count > orders.length,
        // Refunded orders stand in several states; in the other lists the heading says it.
        showState: list === "refunded",
        next: "",
      })),
  };
}

/** One group, a page of it. @param next where the next page begins; empty on the last */
export function orderGroupPage(shop: ShopRow, group: GroupShown, next: string) {
  const page = ordersPage(shop, [group]);
  return {
    ...page,
    title: `Orders: ${group.title.toLowerCase()}`,
    headline: `Orders: ${group.title.toLowerCase()}`,
    none: false,
    groups: page.groups.map((each) => ({ ...each, open: true, more: false, next })),
    whole: true,
  };
}

/** Orders found inside words, and the moment to look on before; nothing when all were looked through. */
interface FoundInside {
  readonly found: readonly ListedOrder[];
  readonly before: number | undefined;
}

/** What a search found, by how things begin or by what they hold. */
export function orderSearchPage(shop: ShopRow, asked: string, search: Beginnings | FoundInside) {
  const here = `/maker/orders?q=${encodeURIComponent(asked)}`;
  const next = "next" in search ? search.next : undefined;
  const before = "before" in search ? search.before : undefined;
  return {
    title: "Orders: search",
    headline: "Orders",
    asked,
    whole: true,
    none: false,
    groups: [],
    found: {
      rows: search.found.map(rowIn(shop)),
      byBeginning: "next" in search,
      window: SEARCH_WINDOW.toLocaleString(shop.locale),
      next: next
        ? `${here}&from=${encodeURIComponent(`${next.range}.${next.row}.${next.key}`)}`
        : "",
      inside: "next" in search ? `${here}&before=now` : "",
      earlier: before === undefined ? "" : `${here}&before=${before}`,
    },
  };
}

function rowIn(shop: ShopRow) {
  const when = momentIn(shop);
  return (listed: ListedOrder) => {
    const { quote } = withQuote(listed);
    const money = (minor: number) => helpers.money(minor, quote.currency, shop.locale);
    return {
      reference: listed.reference,
      what: `${titleOf(quote)}, ${jarsOf(quote)}`,
      customer: listed.customerName ?? listed.customerEmail ?? "",
      placed: when(listed.placedAt),
      state: stateWords(listed.state),
      because: listed.heldBecause,
      batch: listed.batchNumber,
      total: money(listed.totalMinor),
      givenBack: listed.refundedMinor > 0 ? money(listed.refundedMinor) : "",
    };
  };
}
