/**
 * A local stand-in for Stripe's API: Checkout Sessions with state, idempotency and faults on
 * demand.
 *
 * It knows what the SDK's types and Stripe's documents say, and was never compared with the real
 * service. What it refuses would be refused; what it lets pass may still not.
 */
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import qs from "qs";
import { createSession, fail, type Refusal, type SessionRecord } from "./stripe-session-record.ts";

/**
 * `-before`: nothing was done; `-after`: the request was carried out and only its answer is lost.
 */
export type Fault =
  | "drop-before"
  | "drop-after"
  | "hang-before"
  | "hang-after"
  | "cut-after" // a whole answer that stops in the middle of its JSON
  | "sever-after" // the connection breaks in the middle of the answer
  | "html-502"
  | "500"
  | "500-kept" // carried out, failed, kept under the key and not to be retried
  | "429"
  | "429-retry"
  | "409";

export interface SeenRequest {
  readonly method: string;
  readonly path: string;
  readonly headers: IncomingMessage["headers"];
  readonly form: Readonly<Record<string, unknown>>;
}

interface Answer {
  readonly status: number;
  readonly body: string;
  readonly headers?: Record<string, string>;
}

interface ListForm {
  created?: { gte?: string; lte?: string };
  limit?: string;
  starting_after?: string;
}

export const SERVER_KEY = "sk_test_51StandInKeyThatMustNeverBeLogged";

export async function startStripeServer(options: { latencyMs?: number } = {}) {
  const sessions = new Map<string, SessionRecord>();
  const seen: SeenRequest[] = [];
  const faults: Fault[] = [];
  const kept = new Map<string, { readonly asked: string; readonly answer: Answer }>();
  const running = new Set<string>();

  /** Newest first, in pages. */
  function listSessions({ created, limit, starting_after: after }: ListForm) {
    const [from, to] = [Number(created?.gte ?? 0), Number(created?.lte ?? Infinity)];
    const all = [...sessions.values()]
      .reverse()
      .filter(({ createdS }) => createdS >= from && createdS <= to);
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
      return { ...earlier.answer, headers: { "idempotent-replayed": "true" } };
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
    return refusal(404, { message: "Unrecognized request URL" });
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
      const fault = faults.shift();
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
    markPaid: (id: string, email = "customer@shop.example") => find(id).pay("paid", email),
    markUnpaid: (id: string) => find(id).pay("unpaid", null),
    markExpired: (id: string) => find(id).set({ status: "expired", url: null }),
    markRefunded: (id: string, minor: number) => find(id).setCharge({ amount_refunded: minor }),
    markDisputed: (id: string) => find(id).setCharge({ disputed: true }),
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

function success(body: unknown): Answer {
  return { status: 200, body: JSON.stringify(body) };
}

function refusal(status: number, error: Refusal["error"], headers = {}): Answer {
  const type = status >= 500 ? "api_error" : "invalid_request_error";
  return { status, body: JSON.stringify({ error: { type, ...error } }), headers };
}

function send(response: ServerResponse, { status, body, headers }: Answer): void {
  response.writeHead(status, {
    "content-type": "application/json",
    "request-id": "req_stand_in",
    ...headers,
  });
  response.end(body);
}

function answerFault(fault: Fault, response: ServerResponse, body = ""): void {
  const half = body.slice(0, Math.floor(body.length / 2));
  if (fault.startsWith("drop")) response.destroy();
  else if (fault === "cut-after") send(response, { status: 200, body: half });
  else if (fault === "sever-after") {
    response.writeHead(200, { "content-length": String(body.length) });
    response.write(half, () => response.destroy());
  } else if (fault === "html-502") {
    response.writeHead(502, { "content-type": "text/html" }).end("<h1>Bad gateway</h1>");
  } else if (fault === "500") send(response, refusal(500, {}));
  else if (fault === "409") send(response, refusal(409, { code: "lock_timeout" }));
  else if (fault.startsWith("429")) {
    const headers = { "retry-after": "7", "stripe-should-retry": String(fault === "429-retry") };
    send(response, refusal(429, { code: "rate_limit" }, headers));
  }
  // What hangs is never answered.
}
