/**
 * The JSON shapes that host shops exchange with the service: orders they were paid for, and what they are told of them.
 */
import type { OrderState } from "./order/states.ts";

/** POST /v1/orders with a key: an order that a host shop took the money for. */
export interface HostOrderRequest {
  /** Token of the quote. */
  readonly quote: string;
  /** The host shop's own number of the order. */
  readonly hostReference: string;
  /** What the customer paid for the quote: its total, to the last unit. */
  readonly paid: { readonly amountMinor: number; readonly currency: string };
  readonly customer?: { readonly name?: string; readonly email?: string };
  /** Where the maker sends the parcel; missing when the host shop sends it on. */
  readonly deliverTo?: {
    readonly name: string;
    readonly lines: readonly string[];
    readonly city: string;
    readonly region: string;
    readonly postcode: string;
    /** ISO 3166-1 code. */
    readonly country: string;
  };
  /** BCP 47 tag of the language the customer's page is in; the shop's own when missing. */
  readonly language?: string;
}

/** An order as its host shop sees it; it holds nothing personal. */
export interface HostOrder {
  readonly reference: string;
  readonly hostReference: string;
  readonly state: OrderState;
  /** Id of the quote it was made from. */
  readonly quote: string;
  /** [minor units] */
  readonly totalMinor: number;
  readonly currency: string;
  /** Seconds since 1970. */
  readonly placedAt: number;
  /** When the customer asked on their page to cancel, seconds since 1970; null when they did not. */
  readonly cancelAskedAt: number | null;
  /** Page with the order's state, for the customer alone. */
  readonly orderUrl: string;
}

/** GET /v1/orders */
export interface HostOrders {
  /** The oldest first. */
  readonly orders: readonly HostOrder[];
  /** Asks for the next page as `after`; null when this is the last. */
  readonly next: string | null;
}

/** Body of a signed event about an order (Standard Webhooks); it holds nothing personal. */
export interface OrderEvent {
  /** Such as order.paid, order.made, order.sent, order.cancelled; more may be added. */
  readonly type: string;
  /** ISO 8601, UTC. */
  readonly timestamp: string;
  readonly data: {
    readonly id: string;
    readonly reference: string;
    readonly hostReference: string | null;
    readonly state: OrderState;
    /** [minor units] */
    readonly totalMinor: number;
    readonly refundedMinor: number;
    readonly currency: string;
    /** State of a dispute, as the payment service calls it. */
    readonly dispute: string | null;
  };
}
