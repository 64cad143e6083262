/**
 * The money of one order, for the owner: what was taken, what went back, what can still go back, and whether a bank has
 * called it in question.
 */
import type { QuoteSnapshot } from "#core/wire.ts";
import { CANCELLABLE } from "../actions/cancel-order.ts";
import { leftToRefund } from "../actions/refund.ts";
import { countryName } from "../documents/formats.ts";
import { helpers } from "../documents/helpers.ts";
import { DeliveryAddressShape } from "../shapes.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { RefundRow } from "../storage/refunds.ts";
import type { ShopRow } from "../storage/shops.ts";
import { plainAmount } from "../typed/read-money.ts";
import { momentIn } from "./maker-pages.ts";

export interface OrderMoney {
  readonly refunds: readonly RefundRow[];
  /** Id of the refund that the form on the page would ask for: pressed twice, it is asked for once. */
  readonly nextRefundId: string;
  /** What stands against what was asked for, with what was typed. */
  readonly refundFault: string;
  readonly typedRefund: { readonly amount: string; readonly why: string } | undefined;
}

const REFUND_WORDS: Readonly<Record<RefundRow["state"], string>> = {
  asked: "asked for, no answer yet",
  pending: "on its way",
  done: "given back",
  failed: "failed",
};

/** Whether a dispute in a state is open, and what it asks of the maker. */
const DISPUTE_WORDS = new Map<string, readonly [isOpen: boolean, words: string]>([
  ["warning_needs_response", [true, "The bank has a question. Answer it at the payment service."]],
  ["warning_under_review", [true, "The bank is reading your answer."]],
  ["warning_closed", [false, "The bank asked, and let it rest."]],
  ["needs_response", [true, "The bank waits for your answer at the payment service."]],
  ["under_review", [true, "The bank is looking into it."]],
  ["appeal_needs_response", [true, "It was appealed. Answer at the payment service."]],
  ["appeal_under_review", [true, "The bank is looking into the appeal."]],
  ["prevented", [false, "It was settled before it began."]],
  ["won", [false, "The bank decided for you: the money stays with you."]],
  ["lost", [false, "The bank decided for the customer: the money went back to them."]],
]);

/** What a dispute's state asks of the maker; a word this version does not know is shown as it is. */
export function disputeWords(state: string): { readonly isOpen: boolean; readonly words: string } {
  const unknown = `The payment service calls it “${state}”. Look there.`;
  const [isOpen, words] = DISPUTE_WORDS.get(state) ?? [true, unknown];
  return { isOpen, words };
}

export function orderMoneyModel(
  shop: ShopRow,
  order: OrderRow,
  quote: QuoteSnapshot,
  { refunds, nextRefundId, refundFault, typedRefund }: OrderMoney,
) {
  const when = momentIn(shop);
  const money = (minor: number) => helpers.money(minor, quote.currency, shop.locale);
  const { state, totalMinor, carriageMinor, carriageName, capturedMinor, refundedMinor } = order;
  const left = leftToRefund(order, refunds);
  const isTaken = order.paidAt !== null;
  const isOdd = capturedMinor !== null && capturedMinor !== totalMinor + carriageMinor;
  // One that failed is spoken of until all of the money is back by another.
  const isAllBack = refundedMinor >= (capturedMinor ?? 0);
  const lastFailed = isAllBack
    ? []
    : refunds.filter(({ state: its }) => its === "failed").slice(-1);
  return {
    carriage: carriageName ? { name: carriageName, amount: money(carriageMinor) } : undefined,
    taken: isOdd ? money(capturedMinor) : "",
    takenElsewhere: isTaken && capturedMinor === null && order.tillKind !== "host",
    dispute: order.disputeState === null ? undefined : disputeWords(order.disputeState),
    pending: state === "placed" && order.pendingSince !== null ? when(order.pendingSince) : "",
    owed: state === "cancelled" && left > 0 ? money(left) : "",
    canCancel: CANCELLABLE.includes(state),
    isUnpaid: !isTaken,
    left: left > 0 ? money(left) : "",
    failed: lastFailed.map(({ amountMinor, fault }) => ({ amount: money(amountMinor), fault })),
    waiting: refunds.some(({ state: its }) => its === "asked"),
    refunds: refunds.map(({ amountMinor, askedAt, why, state: its }) => ({
      ...{ amount: money(amountMinor), when: when(askedAt), why, state: REFUND_WORDS[its] },
    })),
    refundForm: {
      id: nextRefundId,
      fault: refundFault,
      amount: typedRefund?.amount ?? plainAmount(left, quote.currency.exponent),
      why: typedRefund?.why ?? "",
      code: quote.currency.code,
    },
    address: addressLines(order, shop),
  };
}

function addressLines({ deliverTo }: OrderRow, { locale }: ShopRow): readonly string[] {
  if (deliverTo === null) return [];
  const read = DeliveryAddressShape.parse(JSON.parse(deliverTo));
  const { name, lines, city, region, postcode, country } = read;
  const where = country === "" ? "" : countryName(locale, country);
  return [name, ...lines, [postcode, city].filter(Boolean).join(" "), region, where].filter(
    Boolean,
  );
}
