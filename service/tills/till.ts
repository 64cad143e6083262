/**
 * The till: the one port through which the shop takes money.
 *
 * Two adapters stand behind it: the payment service (`stripe.ts`) and a practice till for newcomers
 * (`practice.ts`). `choose-till.ts` decides which of them runs.
 */

import type { CarriageOffers } from "#core/order/carriage.ts";

/**
 * What a till must be told to take payment of one order. Amounts are integer minor units of
 * `currency`.
 */
export interface Charge {
  /** Comes back as `orderId` of the session and of its events. At most 200 characters. */
  readonly orderId: string;
  /** What the customer reads, e.g. "Q-7H2K9". */
  readonly reference: string;
  /** Name of the one line, e.g. "Meadow base, 120 ml jar". */
  readonly description: string;
  /** ISO 4217 code, upper case. */
  readonly currency: string;
  /**
   * Per jar [minor units; see `currency-table.ts` for the three currencies that differ from ISO
   * 4217]
   */
  readonly unitAmountMinor: number;
  /** Jars. */
  readonly quantity: number;
  /** Whether the price already holds the tax. */
  readonly taxInclusive: boolean;
  /** Tax on top, for all jars, charged as a line of its own; missing when there is none [minor units] */
  readonly taxMinor?: number;
  /** Ways to send it, of which the customer chooses one; missing when nothing is sent. */
  readonly carriage?: CarriageOffers;
  /** When the session closes: 30 minutes to 24 hours after it is opened. */
  readonly expiresAt: Date;
  /** May hold `{CHECKOUT_SESSION_ID}`; the till puts the session's id there. */
  readonly successUrl: string;
  readonly cancelUrl: string;
  /**
   * Stored by the caller before the call, with every other field of the charge: the same key with
   * the same charge gives the same session, the same key with another charge is refused.
   */
  readonly idempotencyKey: string;
}

/** Where a parcel goes, as the customer told the till. */
export interface DeliveryAddress {
  readonly name: string;
  readonly lines: readonly string[];
  readonly city: string;
  readonly region: string;
  readonly postcode: string;
  /** ISO 3166-1 code. */
  readonly country: string;
}

/**
 * Where a session stands. `unpaid`: the customer has finished, the money is not there yet. `failed`: the customer has
 * finished and the money will not come.
 * `unknown`: the payment service said something this version does not know; the order must be held
 * for a person to look at.
 */
export type TillState = "open" | "paid" | "unpaid" | "failed" | "expired" | "unknown";

export interface TillSession {
  readonly id: string;
  /** Where to send the customer; null once the session is closed. */
  readonly url: string | null;
  readonly state: TillState;
  readonly orderId: string | null;
  /** All lines of the charge, its own tax among them, before anything the service adds [minor units] */
  readonly amountSubtotalMinor: number;
  /** With carriage and whatever else was added [minor units] */
  readonly amountTotalMinor: number;
  /** What was charged for carriage, and the name of the way that was chosen [minor units] */
  readonly carriageMinor: number;
  readonly carriageName: string | null;
  readonly deliverTo: DeliveryAddress | null;
  /** ISO 4217 code, upper case. */
  readonly currency: string;
  /** False for test money and for the practice till. */
  readonly live: boolean;
  /** Id of the payment behind a paid session; refund and dispute events carry it too. */
  readonly paymentId: string | null;
  /** What has gone back to the customer so far, as the payment service counts it [minor units] */
  readonly refundedMinor: number;
  /** Whether the customer's bank contests, or has ever contested, the payment. */
  readonly disputed: boolean;
  /** The name and the address the customer gave the payment service. */
  readonly name: string | null;
  readonly email: string | null;
}

/**
 * News from the till. It says that something happened, never what is true now: read the session for
 * that, because events come late, twice and out of order.
 */
export interface TillEvent {
  readonly id: string;
  readonly type: string;
  /** Set when the news is about a session. */
  readonly sessionId: string | null;
  /** Set when the news names the order, which sessions and charges do. */
  readonly orderId: string | null;
  /** Set when the news is about a payment: charges, refunds, disputes. */
  readonly paymentId: string | null;
  readonly live: boolean;
}

/** Money to be given back. */
export interface RefundAsked {
  readonly sessionId: string;
  readonly orderId: string;
  /** Our own id of it; comes back as `ownId`. */
  readonly refundId: string;
  readonly minor: number;
  /** Stored by the caller before the call, like that of a charge. */
  readonly idempotencyKey: string;
}

/** A refund as the till knows it, whoever asked for it. */
export interface TillRefund {
  readonly id: string;
  /** The id we gave it; null when it was made at the payment service itself. */
  readonly ownId: string | null;
  readonly minor: number;
  readonly state: "pending" | "done" | "failed";
  /** Why it failed, in the payment service's word. */
  readonly fault: string | null;
}

/** A payment that the customer's bank has called back in question. */
export interface TillDispute {
  readonly id: string;
  readonly minor: number;
  readonly currency: string;
  /** As the payment service calls it, also words yet to come. */
  readonly state: string;
  readonly reason: string;
  /** Seconds since 1970. */
  readonly openedAt: number;
}

/** An order whose session is looked for. */
export interface LostSession {
  readonly orderId: string;
  readonly idempotencyKey: string;
}

export interface Till {
  readonly kind: "stripe" | "practice";
  /**
   * Whether this till takes real money: a session or event whose `live` differs belongs to another
   * set-up.
   */
  readonly live: boolean;
  /**
   * Open a session, or find again the one that the same idempotency key opened.
   *
   * A repeated call may answer with the session as it stood when it was opened: `read` it before
   * acting on its state.
   * @throws TillRefusal when the charge cannot be taken, now or later
   * @throws TillUnavailable when it is not known whether a session was opened: call again with the
   *   same charge
   */
  open(charge: Charge): Promise<TillSession>;
  /**
   * The session as it stands now.
   * @returns undefined when there is no such session here, whatever the id looks like
   * @throws TillRefusal, TillUnavailable
   */
  read(sessionId: string): Promise<TillSession | undefined>;
  /**
   * Verify and read a signed event.
   * @param rawBody the body exactly as it came, before any JSON step
   * @throws TillRefusal `payment.signature.invalid` when the signature or its age is wrong
   */
  readEvent(rawBody: string, signatureHeader: string | undefined): Promise<TillEvent>;
  /**
   * End a session that is still open, so that nobody pays it any more. One that is over stays as it is.
   * @throws TillRefusal, TillUnavailable
   */
  close(sessionId: string): Promise<void>;
  /**
   * Give money back, or find again the refund that the same key made.
   * @throws TillRefusal when it cannot be given back; TillUnavailable when it is not known whether it was
   */
  refund(asked: RefundAsked): Promise<TillRefund>;
  /** Everything given back of a session's payment, newest first. @throws TillRefusal, TillUnavailable */
  refunds(session: TillSession): Promise<readonly TillRefund[]>;
  /** Every dispute of a session's payment, newest first. @throws TillRefusal, TillUnavailable */
  disputes(session: TillSession): Promise<readonly TillDispute[]>;
  /** The session a payment belongs to: disputes and refunds name the payment alone. @throws as `read` */
  sessionOfPayment(paymentId: string): Promise<string | undefined>;
  /**
   * Sessions opened for orders, by order, newest first: the look-up that must come before a new idempotency key is used
   * for a call whose outcome is not known, or whose key is older than 24 hours.
   * @param since when the first of the orders was placed; sessions of the 24 hours from then on are searched
   * @throws TillRefusal, TillUnavailable
   */
  findSessions(
    orders: readonly LostSession[],
    since: Date,
  ): Promise<ReadonlyMap<string, readonly string[]>>;
  /** An event once more, as it was sent. @throws as `read` */
  event(id: string): Promise<TillEvent | undefined>;
  /**
   * Events since a moment that the payment service could not deliver, at most 500.
   * @throws TillRefusal, TillUnavailable
   */
  undelivered(since: Date): Promise<readonly TillEvent[]>;
}

/**
 * Why a till refuses. `payment.till.unauthorised` is the operator's to mend (key revoked or lacking
 * rights): the customer did nothing wrong and the order should be kept.
 */
export type TillRefusalCode =
  | "payment.signature.invalid"
  | "payment.charge.invalid"
  | "payment.till.rejected"
  | "payment.till.unauthorised";

/**
 * Trying the same again will not work. The message is for the log and never holds a key or a
 * customer's data.
 */
export class TillRefusal extends Error {
  override readonly name = "TillRefusal";
  constructor(
    readonly code: TillRefusalCode,
    message: string,
  ) {
    super(message);
  }
}

/** Try again later with the same charge; whether the first try took effect is not known. */
export class TillUnavailable extends Error {
  override readonly name: string = "TillUnavailable";
  constructor(
    message: string,
    /** How long the payment service asks to be left alone [s] */
    readonly retryAfterS: number | undefined = undefined,
  ) {
    super(message);
  }
}

/**
 * The answer kept under this idempotency key will never be a session: look for one that was opened under it, and only
 * then use another key.
 */
export class TillKeySpent extends TillUnavailable {
  override readonly name = "TillKeySpent";
}
