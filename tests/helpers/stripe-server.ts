/**
 * A local stand-in for Stripe's API: Checkout Sessions with state, idempotency and faults on
 * demand.
 *
 * It knows what the SDK's types and Stripe's documents say, and was never compared with the real
 * service. What it refuses would be refused; what it lets pass may still not.
 */
import { createServer, type IncomingMessage } from "node:http";
import type { AddressInfo } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import qs from "qs";
import { type Answer, type Fault, answerFault, refusal, send, success } from "./stripe-answers.ts";
import { keepMoneyBack } from "./stripe-money-back.ts";
import { createSession, fail, type SessionRecord } from "./stripe-session-record.ts";
import type { Address } from "./stripe-shipping.ts";

export interface SeenRequest {
  readonly method: string;
  readonly path: string;
  readonly headers: IncomingMessage["headers"];
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

export async function startStripeServer(options: { latencyMs?: number } = {}) {
  const sessions = new Map<string, SessionRecord>();
  const seen: SeenRequest[] = [];
  const faults: Fault[] = [];
  const kept = new Map<string, { readonly asked: string; readonly answer: Answer }>();
  const running = new Set<string>();
  const events: KeptEvent[] = [];
  const money = keepMoneyBack(sessions);
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
      await wait(options.latencyMs ?? 0);
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
    const url = new URL(request.path, "http://stand-in");
    const id = /^\/v1\/checkout\/sessions\/(\w+)$/.exec(url.pathname)?.[1];
    if (request.method === "GET") {
      const told = readOther(url);
      if (told) return told;
    }
    if (request.method === "GET" && id !== undefined) {
      const expand = String(url.search).includes("latest_charge");
      const record = sessions.get(id);
      return record
        ? success(record.toJson(expand))
        : refusal(404, { code: "resource_missing", param: "session" });
    }
    if (request.method === "GET" && url.pathname === "/v1/checkout/sessions") {
      return success(listSessions(qs.parse(url.search.slice(1)) as ListForm));
    }
    if (request.method === "POST" && url.pathname === "/v1/checkout/sessions") {
      return once(String(request.headers["idempotency-key"]), raw, () => {
        if (fault === "500-kept") return refusal(500, {}, { "stripe-should-retry": "false" });
        const made = createSession(request.form);
        if ("status" in made) return refusal(made.status, made.error);
        sessions.set(made.id, made);
        return success(made.toJson(false));
      });
    }
    const closed = /^\/v1\/checkout\/sessions\/(\w+)\/expire$/.exec(url.pathname)?.[1];
    if (request.method === "POST" && closed !== undefined) {
      const record = sessions.get(closed);
      if (!record?.isOpen) return refusal(400, { message: "only open sessions can be expired" });
      record.set({ status: "expired", url: null });
      return success(record.toJson(false));
    }
    if (request.method === "POST" && url.pathname === "/v1/refunds") {
      return once(String(request.headers["idempotency-key"]), raw, () => {
        if (fault === "500-kept") return refusal(500, {}, { "stripe-should-retry": "false" });
        const made = money.create(request.form, refundStatus);
        return "error" in made ? refusal(made.status, made.error) : success(made);
      });
    }
    return refusal(404, { message: "Unrecognized request URL" });
  }

  /** Refunds, disputes and events as they are read. */
  function readOther({ pathname, searchParams }: URL): Answer | undefined {
    const payment = searchParams.get("payment_intent") ?? "";
    if (pathname === "/v1/refunds") return success(money.listOf("refunds", payment));
    if (pathname === "/v1/disputes") return success(money.listOf("disputes", payment));
    const eventId = /^\/v1\/events\/(\w+)$/.exec(pathname)?.[1];
    if (eventId) {
      const event = events.find(({ id }) => id === eventId);
      return event ? success(event) : refusal(404, { code: "resource_missing", param: "id" });
    }
    if (pathname !== "/v1/events") return undefined;
    const from = Number(searchParams.get("created[gte]") ?? 0);
    const data = events.filter(({ created, isDelivered }) => created >= from && !isDelivered);
    return success({ object: "list", url: "/v1/events", has_more: false, data });
  }

  const server = createServer((incoming, response) => {
    void (async () => {
      const raw = await readBody(incoming);
      const request = {
        method: incoming.method ?? "",
        path: incoming.url ?? "",
        headers: incoming.headers,
        form: qs.parse(raw, { depth: 20 }),
      };
      seen.push(request);
      const next = faults.shift();
      const fault = next === "none" ? undefined : next;
      if (fault && !fault.endsWith("-after") && fault !== "500-kept") {
        return answerFault(fault, response);
      }
      const answer = await carryOut(request, raw, fault);
      if (fault && fault !== "500-kept") answerFault(fault, response, answer.body);
      else send(response, answer);
    })();
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));

  const find = (id: string) => {
    const record = sessions.get(id);
    if (!record) fail(`no session ${id}`);
    return record;
  };
  return {
    sessions,
    seen,
    settings: {
      secretKey: SERVER_KEY,
      host: "127.0.0.1",
      port: (server.address() as AddressInfo).port,
      protocol: "http",
    } as const,
    /** Meet the next requests with these faults, one each. */
    failNext: (...next: readonly Fault[]) => void faults.push(...next),
    markPaid: (
      id: string,
      email = "customer@shop.example",
      chosen?: { readonly way?: number; readonly address?: Address },
    ) => find(id).pay("paid", email, chosen),
    markUnpaid: (id: string) => find(id).pay("unpaid", null),
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
      const created = Math.floor(Date.now() / 1000);
      const event = { ...own, type, created, data: { object }, isDelivered };
      events.unshift(event);
      return event;
    },
    /** Any field at all, for answers of versions yet to come. */
    patch: (id: string, fields: Record<string, unknown>) => find(id).set(fields),
    async close() {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

export type StripeServer = Awaited<ReturnType<typeof startStripeServer>>;

async function readBody(incoming: IncomingMessage): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of incoming) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString("utf8");
}
