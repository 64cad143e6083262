/**
 * The practice till: walks a newcomer through the whole way without an account and without money.
 *
 * Only `choose-till.ts` makes one, and only when no Stripe key is set.
 */
import { checkForm, lineName } from "./charge-form.ts";
import { checkCharge } from "./currency.ts";
import { type Charge, type Till, TillRefusal, type TillSession } from "./till.ts";

/** A charge that waits on the practice page. */
export interface PracticeSession extends Omit<Charge, "idempotencyKey"> {
  readonly id: string;
  readonly state: "open" | "paid" | "expired";
  /** Who said they bought it, once paid. */
  readonly customer?: PracticeCustomer;
}

/** What the practice page asks, to be tried like the rest; either may be empty. */
export interface PracticeCustomer {
  readonly name: string;
  readonly email: string;
}

/** Where practice sessions are kept. */
export interface PracticeSessions {
  /** Keep a session; when one of that id is kept already, leave it as it is. */
  insert(session: PracticeSession): Promise<void>;
  find(id: string): Promise<PracticeSession | undefined>;
  /** Move a session that is still open, in one guarded step; does nothing to one that is not. */
  setState(id: string, state: "paid" | "expired", customer?: PracticeCustomer): Promise<void>;
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
   * @throws TillRefusal `payment.till.rejected` when the session is unknown or over
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

    async pay(sessionId, customer) {
      const { id, successUrl } = await close(sessionId, "paid", customer);
      return successUrl.replaceAll("{CHECKOUT_SESSION_ID}", id);
    },

    async abandon(sessionId) {
      return (await close(sessionId, "expired")).cancelUrl;
    },
  };
}

/** The id follows from the idempotency key, so the same key can never open a second session. */
async function toPracticeSession({ idempotencyKey, ...charge }: Charge): Promise<PracticeSession> {
  const key = new TextEncoder().encode(idempotencyKey);
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", key)).slice(0, 16);
  const hex = Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return {
    ...charge,
    description: lineName(charge.description),
    // Whole seconds, as the payment service counts and as any store keeps.
    expiresAt: new Date(Math.floor(charge.expiresAt.getTime() / 1000) * 1000),
    id: `practice_${hex}`,
    state: "open",
  };
}

function isSameCharge(kept: PracticeSession, asked: PracticeSession): boolean {
  const both = Object.keys({ ...kept, ...asked }) as (keyof PracticeSession)[];
  const names = both.filter((it) => it !== "state" && it !== "customer");
  return names.every((name) => String(kept[name]) === String(asked[name]));
}

function toTillSession(session: PracticeSession, baseUrl: string): TillSession {
  const { id, state, orderId, unitAmountMinor, quantity, taxMinor = 0, currency } = session;
  const totalMinor = unitAmountMinor * quantity + taxMinor;
  const { customer } = session;
  return {
    id,
    url: state === "open" ? `${baseUrl}/till/${id}` : null,
    state,
    orderId,
    amountSubtotalMinor: totalMinor,
    amountTotalMinor: totalMinor,
    currency,
    live: false,
    paymentId: null,
    refundedMinor: 0,
    disputed: false,
    name: customer?.name || null,
    email: customer?.email || null,
  };
}
