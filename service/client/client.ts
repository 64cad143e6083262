/**
 * The typed client for host shops, package entry `softset/client`: fetch and Web Crypto alone, so it runs in Node 20,
 * in workerd and in a browser. The key belongs on a server.
 */
import type { HostOrder, HostOrderRequest, HostOrders } from "#core/wire-host.ts";
import type {
  JudgeRequest,
  Problem,
  QuoteAnswer,
  QuoteRequest,
  QuoteSnapshot,
  VerdictAnswer,
} from "#core/wire.ts";
import { keyFinder, verifyToken } from "./quote-token.ts";

export type { HostOrder, HostOrderRequest, HostOrders, OrderEvent } from "#core/wire-host.ts";
export type {
  JudgeRequest,
  Problem,
  QuoteAnswer,
  QuoteRequest,
  QuoteSnapshot,
  VerdictAnswer,
} from "#core/wire.ts";
export { EventRefused, verifyEvent } from "./event.ts";
export { QuoteRefused } from "./quote-token.ts";

export interface ClientSettings {
  /** Address of the shop, with or without a slash at its end. */
  readonly url: string;
  /** Key of the host shop; needed for orders alone. */
  readonly key?: string;
  /** In place of the platform's own, for instance with a time limit of your own. */
  readonly fetch?: typeof globalThis.fetch;
}

export interface ListQuery {
  /** Placed then or later, seconds since 1970. */
  readonly since?: number;
  /** `next` of the page before. */
  readonly after?: string;
  readonly hostReference?: string;
  /** Orders in one answer, 1 to 200. */
  readonly most?: number;
}

/** The shop refused. `problem.code` says why and never changes its meaning. */
export class SoftsetRefused extends Error {
  readonly problem: Problem;
  /** Seconds after which trying again makes sense. */
  readonly retryAfterS: number | undefined;

  constructor(problem: Problem, retryAfterS: number | undefined) {
    super(problem.detail);
    this.name = "SoftsetRefused";
    this.problem = problem;
    this.retryAfterS = retryAfterS;
  }
}

export type SoftsetClient = ReturnType<typeof softsetClient>;

/** A client of one shop. Every method throws SoftsetRefused when the shop refuses, and whatever `fetch` throws. */
export function softsetClient({ url, key, fetch: given }: ClientSettings) {
  const base = url.replace(/\/+$/, "");
  // Called without an owner: a browser's fetch works on its window alone.
  const call: typeof globalThis.fetch = given ?? ((...asked) => globalThis.fetch(...asked));
  const keys = keyFinder(() => ask<{ keys: JsonWebKey[] }>("/v1/quote-keys"));

  async function ask<Answer>(path: string, init: RequestInit = {}): Promise<Answer> {
    const answer = await call(`${base}${path}`, init);
    const text = await answer.text();
    const isJson = /^application\/(\S+\+)?json\b/.test(answer.headers.get("content-type") ?? "");
    if (answer.ok && isJson) return JSON.parse(text) as Answer;
    const problem = isJson ? (JSON.parse(text) as Problem) : strange(answer);
    const wait = answer.headers.get("retry-after");
    throw new SoftsetRefused(problem, wait && /^\d+$/.test(wait) ? Number(wait) : undefined);
  }

  const send = <Answer>(path: string, body: object, headers: Record<string, string> = {}) =>
    ask<Answer>(path, {
      method: "POST",
      headers: { "content-type": "application/json", ...headers },
      body: JSON.stringify(body),
    });

  function withKey(): { authorization: string } {
    if (key === undefined) throw new Error("softset: set `key` to work with orders");
    return { authorization: `Bearer ${key}` };
  }

  const order = (reference: string) => `/v1/orders/${encodeURIComponent(reference)}`;

  return {
    /** The verdict on a choice; nothing is stored. */
    judge: (request: JudgeRequest): Promise<VerdictAnswer> => send("/v1/verdicts", request),
    /** A signed quote, good for an hour. */
    quote: (request: QuoteRequest): Promise<QuoteAnswer> => send("/v1/quotes", request),
    /**
     * What a token says, once its signature and its time have been checked with the shop's public keys. Charge its
     * `totalMinor`, never what a page says.
     * @throws QuoteRefused when it was altered, is another shop's, or has expired
     */
    verifyQuote: (token: string): Promise<QuoteSnapshot> => verifyToken(token, keys),
    /**
     * Place an order that was paid for. Safe to send again with the same `attempt`, whatever became of the answer.
     * @param attempt drawn once for the order, and kept until there is an answer
     */
    placeOrder: (request: HostOrderRequest, attempt: string): Promise<HostOrder> =>
      send("/v1/orders", request, {
        ...withKey(),
        "idempotency-key": `"${attempt.replaceAll(/(["\\])/g, "\\$1")}"`,
      }),
    /** Where an order stands. */
    order: (reference: string): Promise<HostOrder> => ask(order(reference), { headers: withKey() }),
    /** A page of orders, the oldest first. */
    orders: (query: ListQuery = {}): Promise<HostOrders> => {
      const search = new URLSearchParams(
        Object.entries(query).map(([name, value]) => [name, String(value)]),
      );
      return ask(`/v1/orders?${search.toString()}`, { headers: withKey() });
    },
    /** Cancel before making starts; safe to send again. The money is yours to give back. */
    cancel: (reference: string, why?: string): Promise<HostOrder> =>
      send(`${order(reference)}/cancel`, why === undefined ? {} : { why }, withKey()),
  };
}

/** Something between here and the shop has answered in its place. */
function strange({ status }: Response): Problem {
  return {
    type: "about:blank",
    title: "No answer of the shop's",
    status,
    detail: `The answer, with status ${status}, is none of the shop's. Is the address right?`,
    code: "client.answer.strange",
  };
}
