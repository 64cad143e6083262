/**
 * The practice till: walks a newcomer through the whole way without an account and without money.
 *
 * Only `choose-till.ts` makes one, and only when no Stripe key is set.
 */
import { sha256 } from "../sha256.ts";
import { checkForm, lineName } from "./charge-form.ts";
import { checkCharge } from "./currency.ts";
import {
  type Charge,
  type DeliveryAddress,
  type Till,
  type TillRefund,
  TillRefusal,
  type TillSession,
  TillUnavailable,
} from "./till.ts";

/** A charge that waits on the practice page. */
export interface PracticeSession extends Omit<Charge, "idempotencyKey"> {
  readonly id: string;
  readonly state: "open" | "paid" | "expired";
  /** Who said they bought it, once paid. */
  readonly customer?: PracticeCustomer;
  /** What was given back, in the order it was asked for. */
  readonly refunds?: readonly PracticeRefund[];
}

/** What the practice page asks, to be tried like the rest; name and address may be empty. */
export interface PracticeCustomer {
  readonly name: string;
  readonly email: string;
  /** Place of the way that was chosen among those offered, from 0; missing when nothing is sent. */
  readonly carriage?: number;
  readonly deliverTo?: DeliveryAddress;
}

export interface PracticeRefund {
  readonly key: string;
  readonly ownId: string;
  readonly minor: number;
}

/** Where practice sessions are kept. */
export interface PracticeSessions {
  /** Keep a session; when one of that id is kept already, leave it as it is. */
  insert(session: PracticeSession): Promise<void>;
  find(id: string): Promise<PracticeSession | undefined>;
  /** Move a session that is still open, in one guarded step; does nothing to one that is not. */
  setState(id: string, state: "paid" | "expired", customer?: PracticeCustomer): Promise<void>;
  /**
   * Keep another refund behind those that are there, in one guarded step.
   * @returns false when somebody kept one meanwhile
   */
  addRefund(
    id: string,
    before: readonly PracticeRefund[],
    refund: PracticeRefund,
  ): Promise<boolean>;
}

export interface PracticeParts {
  readonly sessions: PracticeSessions;
  /**
   * Address of the shop, without a slash at its end; the page of a session is `/till/` + id below
   * it.
   */
  readonly baseUrl: string;
  readonly now: () => Date;
}

export interface PracticeTill extends Till {
  readonly kind: "practice";
  /** What the practice page shows, or undefined. Past its time an open session shows as expired. */
  show(sessionId: string): Promise<PracticeSession | undefined>;
  /**
   * Pay with practice money.
   * @returns where the customer goes next
   * @throws TillRefusal `payment.till.rejected` when the session is unknown or over, or the way to send it is not one
   *   of those offered
   */
  pay(sessionId: string, customer?: PracticeCustomer): Promise<string>;
  /** Walk away: the session expires at once. @returns and @throws as `pay` */
  abandon(sessionId: string): Promise<string>;
}

export function createPracticeTill({ sessions, baseUrl, now }: PracticeParts): PracticeTill {
  async function show(id: string): Promise<PracticeSession | undefined> {
    if (!/^practice_[0-9a-f]{32}$/.test(id)) return undefined;
    const session = await sessions.find(id);
    const isOver = session?.state === "open" && session.expiresAt.getTime() <= now().getTime();
    return session && isOver ? { ...session, state: "expired" } : session;
  }

  async function close(
    id: string,
    state: "paid" | "expired",
    customer?: PracticeCustomer,
  ): Promise<PracticeSession> {
    const before = await show(id);
    if (before?.state === "open") await sessions.setState(id, state, customer);
    const after = await show(id);
    if (after?.state !== state) {
      throw new TillRefusal(
        "payment.till.rejected",
        `practice session is ${after?.state ?? "unknown"}`,
      );
    }
    return after;
  }

  return {
    kind: "practice",
    live: false,
    show,

    async open(charge) {
      checkCharge(charge);
      checkForm(charge, now());
      const opened = await toPracticeSession(charge);
      await sessions.insert(opened);
      const kept = await show(opened.id);
      if (!kept) throw new Error("the practice session was not kept");
      if (!isSameCharge(kept, opened)) {
        throw new TillRefusal("payment.till.rejected", "idempotency key used for another charge");
      }
      return toTillSession(kept, baseUrl);
    },

    async read(sessionId) {
      const session = await show(sessionId);
      return session && toTillSession(session, baseUrl);
    },

    // Nothing outside speaks for the practice till, so whatever claims to is forged.
    readEvent: () =>
      Promise.reject(
        new TillRefusal("payment.signature.invalid", "the practice till has no events"),
      ),

    async close(sessionId) {
      if ((await show(sessionId))?.state === "open") await close(sessionId, "expired");
    },

    async refund({ sessionId, refundId, minor, idempotencyKey: key }) {
      const session = await show(sessionId);
      if (session?.state !== "paid") rejected(`session ${sessionId} took no payment`);
      const { refunds = [] } = session;
      const earlier = refunds.find((each) => each.key === key);
      if (earlier && earlier.minor !== minor) rejected("idempotency key used for another refund");
      if (earlier) return toTillRefund(earlier);
      const sum = refunds.reduce((total, each) => total + each.minor, minor);
      if (!(minor > 0) || sum > totalOf(session)) rejected("more than what is left of the payment");
      const refund = { key, ownId: refundId, minor };
      if (await sessions.addRefund(sessionId, refunds, refund)) return toTillRefund(refund);
      throw new TillUnavailable("somebody gave money back at the same moment");
    },

    async refunds({ id }) {
      return ((await show(id))?.refunds ?? []).map(toTillRefund).reverse();
    },

    // Practice money has no bank behind it that could ask for it back, and nobody sends events.
    disputes: async () => [],
    sessionOfPayment: async () => undefined,
    event: async () => undefined,
    undelivered: async () => [],

    async findSessions(orders) {
      const found = orders.map(async ({ orderId, idempotencyKey }) => {
        const session = await show(await sessionIdOf(idempotencyKey));
        return [orderId, session?.orderId === orderId ? [session.id] : []] as const;
      });
      return new Map((await Promise.all(found)).filter(([, ids]) => ids.length > 0));
    },

    async pay(sessionId, customer) {
      const open = await show(sessionId);
      checkChosen(open, customer);
      const { id, successUrl } = await close(sessionId, "paid", customer);
      return successUrl.replaceAll("{CHECKOUT_SESSION_ID}", id);
    },

    async abandon(sessionId) {
      return (await close(sessionId, "expired")).cancelUrl;
    },
  };
}

/** The id follows from the idempotency key, so the same key can never open a second session. */
async function sessionIdOf(idempotencyKey: string): Promise<string> {
  return `practice_${(await sha256(idempotencyKey)).slice(0, 32)}`;
}

async function toPracticeSession({ idempotencyKey, ...charge }: Charge): Promise<PracticeSession> {
  return {
    ...charge,
    description: lineName(charge.description),
    // Whole seconds, as the payment service counts and as any store keeps.
    expiresAt: new Date(Math.floor(charge.expiresAt.getTime() / 1000) * 1000),
    id: await sessionIdOf(idempotencyKey),
    state: "open",
  };
}

function isSameCharge(kept: PracticeSession, asked: PracticeSession): boolean {
  const both = Object.keys({ ...kept, ...asked }) as (keyof PracticeSession)[];
  const names = both.filter((it) => it !== "state" && it !== "customer" && it !== "refunds");
  return names.every((name) => JSON.stringify(kept[name]) === JSON.stringify(asked[name]));
}

/** Whoever has something sent chooses a way and says where to; whoever has not, neither. */
function checkChosen(session: PracticeSession | undefined, customer?: PracticeCustomer): void {
  if (!session?.carriage) return;
  const { ways, countries } = session.carriage;
  if (!ways[customer?.carriage ?? Number.NaN]) rejected("no way to send it was chosen");
  if (!countries.includes(customer?.deliverTo?.country ?? "")) {
    rejected("the parcel would go to a country the shop does not send to");
  }
}

/** What was paid, with the carriage that was chosen [minor units] */
function totalOf(session: PracticeSession): number {
  const { unitAmountMinor, quantity, taxMinor = 0 } = session;
  return unitAmountMinor * quantity + taxMinor + (wayOf(session)?.minor ?? 0);
}

function wayOf({ carriage, customer }: PracticeSession) {
  return carriage?.ways[customer?.carriage ?? Number.NaN];
}

function toTillRefund({ ownId, minor }: PracticeRefund): TillRefund {
  return { id: `practice_${ownId}`, ownId, minor, state: "done", fault: null };
}

function rejected(message: string): never {
  throw new TillRefusal("payment.till.rejected", message);
}

function toTillSession(session: PracticeSession, baseUrl: string): TillSession {
  const { id, state, orderId, currency, customer, refunds = [] } = session;
  const amountTotalMinor = totalOf(session);
  const way = wayOf(session);
  return {
    id,
    url: state === "open" ? `${baseUrl}/till/${id}` : null,
    state,
    orderId,
    amountSubtotalMinor: amountTotalMinor - (way?.minor ?? 0),
    amountTotalMinor,
    carriageMinor: way?.minor ?? 0,
    carriageName: way?.name ?? null,
    deliverTo: customer?.deliverTo ?? null,
    currency,
    live: false,
    paymentId: null,
    refundedMinor: refunds.reduce((sum, { minor }) => sum + minor, 0),
    disputed: false,
    name: customer?.name || null,
    email: customer?.email || null,
  };
}
