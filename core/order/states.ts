/**
 * The states of an order and the moves between them, in one table.
 *
 * An order is **placed** when its quote is taken, **paid** when the till says so, **in making** once it stands in a
 * batch, then **made** and **sent**. **Held** means that something does not fit (amount, currency, paid after
 * cancelling) and that the maker must look before anything is made. A batch that is set aside, or that filled fewer
 * jars than it should, gives its orders back to **paid**.
 */
import { type CarriageOffers, isOffered } from "./carriage.ts";

export const ORDER_STATES = [
  "placed",
  "paid",
  "held",
  "in-making",
  "made",
  "sent",
  "cancelled",
  "expired",
] as const;

export type OrderState = (typeof ORDER_STATES)[number];

const MOVES: Readonly<Record<OrderState, readonly OrderState[]>> = {
  placed: ["paid", "held", "cancelled", "expired"],
  paid: ["in-making", "held", "cancelled"],
  held: ["paid", "cancelled"],
  "in-making": ["made", "paid", "held"],
  made: ["sent"],
  sent: [],
  cancelled: ["held"],
  expired: ["held", "paid"],
};

/** Whether an order may go from one state to another. */
export function mayMove(from: OrderState, to: OrderState): boolean {
  return MOVES[from].includes(to);
}

/** States from which a state may be reached; the guard of the single statement that makes the move. */
export function statesBefore(to: OrderState): OrderState[] {
  return ORDER_STATES.filter((from) => mayMove(from, to));
}

/** What the till reports of one payment, against what the order says. */
export interface Takings {
  readonly amountSubtotalMinor: number;
  /** With carriage and whatever else the till added to it. */
  readonly amountTotalMinor: number;
  readonly carriageMinor: number;
  readonly carriageName: string | null;
  readonly currency: string;
}

/** An order as it was frozen: what a payment is held against. */
export interface Owed {
  readonly state: OrderState;
  /** A payment was taken for it already, whatever became of it since. */
  readonly isPaid: boolean;
  /** Without carriage [minor units] */
  readonly totalMinor: number;
  readonly currency: string;
  /** Ways to send it that were offered; missing when nothing is sent. */
  readonly carriage?: CarriageOffers | undefined;
}

/**
 * Which state a payment brings an order to.
 * @param takings what was really paid
 * @returns the next state; nothing when the order has been paid already
 */
export function stateAfterPayment(order: Owed, takings: Takings): "paid" | "held" | undefined {
  const waits = ["placed", "expired", "cancelled"].includes(order.state);
  // A cancelled order whose money came and went back is not paid "after it was cancelled" by news of it.
  if (!waits || order.isPaid) return undefined;
  return isExact(order, takings) && order.state !== "cancelled" ? "paid" : "held";
}

/**
 * Whether a payment is the order's price and one of its ways to send it, to the last unit. Tax is in the order's own
 * total, so anything else that a till adds would be charged twice.
 */
export function isExact(order: Omit<Owed, "state" | "isPaid">, takings: Takings): boolean {
  const { carriageMinor: minor, carriageName: name } = takings;
  return (
    takings.amountSubtotalMinor === order.totalMinor &&
    isOffered(order.carriage, { minor, name }) &&
    takings.amountTotalMinor === order.totalMinor + minor &&
    takings.currency === order.currency
  );
}

/** What of a payment can still go back. */
export interface GivenBack {
  /** What was taken; null until it was [minor units] */
  readonly capturedMinor: number | null;
  /** What has gone back, or is on its way, as the till counts it. */
  readonly refundedMinor: number;
  /** What was asked for and has no answer yet. */
  readonly askedMinor: number;
}

/**
 * Most that can be given back now: never more than was taken, also while a refund has no answer yet.
 * @returns minor units; 0 when nothing was taken
 */
export function refundableMinor({ capturedMinor, refundedMinor, askedMinor }: GivenBack): number {
  return Math.max(0, (capturedMinor ?? 0) - refundedMinor - askedMinor);
}
