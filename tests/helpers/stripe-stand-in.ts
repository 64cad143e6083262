/**
 * A local stand-in for Stripe's API: Checkout Sessions with state and idempotency, refunds, disputes and events.
 *
 * It knows what the SDK's types and Stripe's documents say, and was never compared with the real
 * service. What it refuses would be refused; what it lets pass may still not.
 */
import type { IncomingHttpHeaders } from "node:http";
import { setTimeout as wait } from "node:timers/promises";
import qs from "qs";
import { type Answer, type Fault, refusal, success } from "./stripe-answers.ts";
import { keepMoneyBack } from "./stripe-money-back.ts";
import { createSession, fail, type SessionRecord } from "./stripe-session-record.ts";
import type { Address } from "./stripe-shipping.ts";

export interface SeenRequest {
  readonly method: string;
  readonly path: string;
  readonly headers: IncomingHttpHeaders;
  readonly form: Readonly<Record<string, unknown>>;
}

interface ListForm {
  created?: { gte?: string; lte?: string };
  limit?: string;
  starting_after?: string;
  payment_intent?: string;
}

/** An event as the service keeps it; one that could not be delivered is listed as such. */
export interface KeptEvent {
  readonly id: string;
  readonly object: "event";
  readonly type: string;
  readonly livemode: boolean;
  readonly created: number;
  readonly data: { readonly object: unknown };
  isDelivered: boolean;
}

export const SERVER_KEY = "sk_test_51StandInKeyThatMustNeverBeLogged";

interface StandInOptions {
  /** How long a POST takes; at once when missing. */
  readonly latencyMs?: number;
  /** Now [s since 1970] */
  readonly now?: () => number;
}

export type StripeStandIn = ReturnType<typeof makeStripeStandIn>;

export function makeStripeStandIn({
  latencyMs,
  now = () => Date.now() / 1000,
}: StandInOptions = {}) {
  const sessions = new Map<string, SessionRecord>();
  const seen: SeenRequest[] = [];
  const kept = new Map<string, { readonly asked: string; readonly answer: Answer }>();
  const running = new Set<string>();
  const events: KeptEvent[] = [];
  const money = keepMoneyBack(sessions, now);
  /** What becomes of the next refunds at once. */
  let refundStatus = "succeeded";

  /** Newest first, in pages. */
  function listSessions({ created, limit, starting_after: after, payment_intent: of }: ListForm) {
    const [from, to] = [Number(created?.gte ?? 0), Number(created?.lte ?? Infinity)];
    const all = [...sessions.values()]
      .reverse()
      .filter(({ createdS }) => createdS >= from && createdS <= to)
      .filter(({ paymentId }) => of === undefined || paymentId === of);
    const start = all.findIndex(({ id }) => id === after) + 1;
    const end = start + Number(limit ?? 10);
    const data = all.slice(start, end).map((record) => record.toJson(false));
    return { object: "list", url: "/v1/checkout/sessions", has_more: end < all.length, data };
  }

  /**
   * Run a POST at most once per idempotency key, the way the documents on idempotent requests
   * describe.
   */
  async function once(key: string, asked: string, work: () => Answer): Promise<Answer> {
    const earlier = kept.get(key);
    if (earlier && earlier.asked !== asked) {
      return refusal(400, { type: "idempotency_error", message: "Keys for idempotent requests" });
    }
    if (earlier) {
      return {
        ...earlier.answer,
        headers: { ...earlier.answer.headers, "idempotent-replayed": "true" },
      };
    }
    if (running.has(key)) return refusal(409, { code: "idempotency_key_in_use" });
    running.add(key);
    try {
      if (latencyMs !== undefined) await wait(latencyMs);
      const answer = work();
      // A refused form was never carried out, so its key stays free.
      if (answer.status !== 400) kept.set(key, { asked, answer });
      return answer;
    } finally {
      running.delete(key);
    }
  }

  async function carryOut(request: SeenRequest, raw: string, fault: Fault | undefined) {
    if (request.headers.authorization !== `Bearer ${SERVER_KEY}`) {
      const sent = String(request.headers.authorization).slice(-4);
      return refusal(401, { message: `Invalid API Key provided: ****${sent}` });
    }
    const [path = "", query = ""] = request.path.split("?");
    const id = /^\/v1\/checkout\/sessions\/(\w+)$/.exec(path)?.[1];
    if (request.method === "GET") {
      const told = readOther(path, query);
      if (told) return told;
    }
    if (request.method === "GET" && id !== undefined) {
      const expand = query.includes("latest_charge");
      const record = sessions.get(id);
      return record
        ? success(record.toJson(expand))
        : refusal(404, { code: "resource_missing", param: "session" });
    }
    if (request.method === "GET" && path === "/v1/checkout/sessions") {
      return success(listSessions(qs.parse(query) as ListForm));
    }
    if (request.method === "POST" && path === "/v1/checkout/sessions") {
      return once(String(request.headers["idempotency-key"]), raw, () => {
        if (fault === "500-kept") return refusal(500, {}, { "stripe-should-retry": "false" });
        const made = createSession(request.form, now());
        if ("status" in made) return refusal(made.status, made.error);
        sessions.set(made.id, made);
        return success(made.toJson(false));
      });
    }
    const closed = /^\/v1\/checkout\/sessions\/(\w+)\/expire$/.exec(path)?.[1];
    if (request.method === "POST" && closed !== undefined) {
      const record = sessions.get(closed);
      if (!record?.isOpen) return refusal(400, { message: "only open sessions can be expired" });
      record.set({ status: "expired", url: null });
      return success(record.toJson(false));
    }
    if (request.method === "POST" && path === "/v1/refunds") {
      return once(String(request.headers["idempotency-key"]), raw, () => {
        if (fault === "500-kept") return refusal(500, {}, { "stripe-should-retry": "false" });
        const made = money.create(request.form, refundStatus);
        return "error" in made ? refusal(made.status, made.error) : success(made);
      });
    }
    return refusal(404, { message: "Unrecognized request URL" });
  }

  /** Refunds, disputes and events as they are read. */
  function readOther(path: string, query: string): Answer | undefined {
    const asked = () => qs.parse(query) as ListForm;
    const payment = () => asked().payment_intent ?? "";
    if (path === "/v1/refunds") return success(money.listOf("refunds", payment()));
    if (path === "/v1/disputes") return success(money.listOf("disputes", payment()));
    const eventId = /^\/v1\/events\/(\w+)$/.exec(path)?.[1];
    if (eventId) {
      const event = events.find(({ id }) => id === eventId);
      return event ? success(event) : refusal(404, { code: "resource_missing", param: "id" });
    }
    if (path !== "/v1/events") return undefined;
    const from = Number(asked().created?.gte ?? 0);
    const data = events.filter(({ created, isDelivered }) => created >= from && !isDelivered);
    return success({ object: "list", url: "/v1/events", has_more: false, data });
  }

  const find = (id: string) => {
    const record = sessions.get(id);
    if (!record) fail(`no session ${id}`);
    return record;
  };
  return {
    sessions,
    seen,
    /** Carry out a request as it would have come over the wire. */
    answer: (asked: Omit<SeenRequest, "form">, raw: string, fault?: Fault): Promise<Answer> => {
      const request = { ...asked, form: qs.parse(raw, { depth: 20 }) };
      seen.push(request);
      return carryOut(request, raw, fault);
    },
    markPaid: (
      id: string,
      email = "customer@shop.example",
      chosen?: { readonly way?: number; readonly address?: Address },
    ) => find(id).pay("paid", email, chosen),
    markUnpaid: (id: string, email: string | null = null) => find(id).pay("unpaid", email),
    /** A slow payment that came, or did not. */
    endSlowPayment: (id: string, came: boolean) => {
      if (came) find(id).set({ payment_status: "paid" });
      find(id).payment.status = came ? "succeeded" : "requires_payment_method";
    },
    markExpired: (id: string) => find(id).set({ status: "expired", url: null }),
    /** Give back in the dashboard. */
    markRefunded: (id: string, minor: number) => money.make(find(id), minor),
    /** A bank calls a payment back in question, or says what has become of it. */
    markDisputed: (id: string, status?: string) => money.dispute(find(id), status),
    /** What becomes of refunds asked for from now on. */
    refundsBecome: (status: "succeeded" | "pending" | "failed") => {
      refundStatus = status;
    },
    endRefund: money.end,
    refunds: money.refunds,
    disputes: money.disputes,
    /** An event was taken in by the shop. */
    deliver: (id: string) => {
      for (const event of events) if (event.id === id) event.isDelivered = true;
    },
    /** Keep an event, as the service does with every one. */
    keepEvent: (type: string, object: unknown, isDelivered = false): KeptEvent => {
      const own = { id: `evt_${events.length + 1}`, object: "event" as const, livemode: false };
      const event = { ...own, type, created: Math.floor(now()), data: { object }, isDelivered };
      events.unshift(event);
      return event;
    },
    /** Any field at all, for answers of versions yet to come. */
    patch: (id: string, fields: Record<string, unknown>) => find(id).set(fields),
  };
}
