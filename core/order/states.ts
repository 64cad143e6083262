/**
 * The states of an order and the moves between them, in one table.
 *
 * An order is **placed** when its quote is taken, **paid** when the till says so, **in making** once it stands in a
 * batch, then **made** and **sent**. **Held** means that something does not fit (amount, currency, paid after
 * cancelling) and that the maker must look before anything is made. A batch that is set aside, or that filled fewer
 * jars than it should, gives its orders back to **paid**.
 */
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
  /** With whatever the till added to it. */
  readonly amountTotalMinor: number;
  readonly currency: string;
}

/**
 * Which state a payment brings an order to.
 * @param order state, amount [minor units] and currency of the frozen order
 * @param takings what was really paid
 * @returns the next state; nothing when the order has been paid already
 */
export function stateAfterPayment(
  order: { readonly state: OrderState; readonly totalMinor: number; readonly currency: string },
  takings: Takings,
): "paid" | "held" | undefined {
  if (order.state !== "placed" && order.state !== "expired" && order.state !== "cancelled") {
    return undefined;
  }
  // Tax is in the order's own total, so anything a till adds would be charged twice.
  const fits =
    takings.amountSubtotalMinor === order.totalMinor &&
    takings.amountTotalMinor === order.totalMinor &&
    takings.currency === order.currency;
  return fits && order.state !== "cancelled" ? "paid" : "held";
}
