/**
 * What is told of an order, and to whom: one table. Each line becomes a signed event for every host shop that listens,
 * and a mail for each reader it names.
 */
import type { OrderState } from "#core/order/states.ts";

/** What can be told: that an order came into a state, or something that happens within one. */
export type Telling = OrderState | "refunded" | "disputed" | "cancel-asked";

export type Reader = "customer" | "maker";

export interface Mail {
  readonly to: Reader;
  /** Told once in an order's life, or at every change: an order can be held twice, but is confirmed once. */
  readonly once: "order" | "change";
  /** Only when the customer waits for a slow payment; nobody else was promised anything. */
  readonly whenPending?: true;
}

export interface Told {
  /** Type of the event: names and full stops, as the Standard Webhooks specification asks. */
  readonly type: string;
  readonly mails: readonly Mail[];
}

const customerOnce: Mail = { to: "customer", once: "order" };
const makerEach: Mail = { to: "maker", once: "change" };

export const TELLINGS: Readonly<Record<Telling, Told>> = {
  placed: { type: "order.placed", mails: [] },
  paid: { type: "order.paid", mails: [customerOnce, { to: "maker", once: "order" }] },
  held: { type: "order.held", mails: [makerEach] },
  "in-making": { type: "order.in_making", mails: [] },
  made: { type: "order.made", mails: [] },
  sent: { type: "order.sent", mails: [customerOnce] },
  cancelled: { type: "order.cancelled", mails: [customerOnce] },
  expired: { type: "order.expired", mails: [{ ...customerOnce, whenPending: true }] },
  refunded: { type: "order.refunded", mails: [{ to: "customer", once: "change" }] },
  disputed: { type: "order.disputed", mails: [makerEach] },
  "cancel-asked": { type: "order.cancel_asked", mails: [makerEach] },
};

/** A trial that the maker sends to see whether an address takes events in. */
export const TRIAL_TYPE = "softset.trial";

/** The maker is told that nothing more goes to an address. */
export const ENDPOINT_OFF = "endpoint.off";
