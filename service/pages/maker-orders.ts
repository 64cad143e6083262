/**
 * The owner's orders: one list by what is to be done about them, and the search through it.
 */
import type { OrderState } from "#core/order/states.ts";
import { withQuote } from "../batches/groups.ts";
import { helpers } from "../documents/helpers.ts";
import { COUNT_MOST, type ListedOrder, SEARCH_WINDOW } from "../storage/order-lists.ts";
import type { ShopRow } from "../storage/shops.ts";
import { jarsOf, momentIn, stateWords, titleOf } from "./maker-pages.ts";

export interface OrderGroup {
  readonly state: OrderState;
  readonly title: string;
  /** What the maker does about them. */
  readonly todo: string;
  /** Work is listed oldest first; what is over, newest first and folded away. */
  readonly isWork: boolean;
}

export const ORDER_GROUPS: readonly OrderGroup[] = [
  { state: "held", title: "Held", todo: "Look into them: release or cancel each.", isWork: true },
  { state: "paid", title: "Paid", todo: "Waiting to be made.", isWork: true },
  { state: "in-making", title: "In making", todo: "In a batch on the bench.", isWork: true },
  { state: "made", title: "Made", todo: "Waiting to be sent.", isWork: true },
  { state: "sent", title: "Sent", todo: "On their way or there.", isWork: false },
  { state: "cancelled", title: "Cancelled or refunded", todo: "Not to be made.", isWork: false },
  { state: "placed", title: "At the till", todo: "Not paid yet.", isWork: false },
  { state: "expired", title: "Not paid in time", todo: "Nothing to do.", isWork: false },
];

export interface GroupShown extends OrderGroup {
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
    askedUrl: "",
    whole: false,
    found: false as const,
    none: groups.every(({ count }) => count === 0),
    groups: groups
      .filter(({ count }) => count > 0)
      .map(({ state, title, todo, isWork, count, orders }) => ({
        state,
        title,
        todo,
        count: count > COUNT_MOST ? `more than ${COUNT_MOST}` : String(count),
        open: isWork || work.length === 0,
        rows: orders.map(row),
        more: count > orders.length,
        held: state === "held",
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

/** What a search found. @param before where to look on; empty when all was looked through */
export function orderSearchPage(
  shop: ShopRow,
  asked: string,
  found: readonly ListedOrder[],
  before: string,
) {
  return {
    title: "Orders: search",
    headline: "Orders",
    asked,
    askedUrl: encodeURIComponent(asked),
    whole: true,
    none: false,
    groups: [],
    found: {
      rows: found.map(rowIn(shop)),
      before,
      window: SEARCH_WINDOW.toLocaleString("en-GB"),
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
