/**
 * How the stand-in for Stripe's API answers: well, with a refusal, or with a fault on demand.
 */
import type { ServerResponse } from "node:http";
import type { Refusal } from "./stripe-session-record.ts";

/**
 * `-before`: nothing was done; `-after`: the request was carried out and only its answer is lost.
 */
export type Fault =
  | "none" // this one goes well
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

export interface Answer {
  readonly status: number;
  readonly body: string;
  readonly headers?: Record<string, string>;
}

export function success(body: unknown): Answer {
  return { status: 200, body: JSON.stringify(body) };
}

export function refusal(status: number, error: Refusal["error"], headers = {}): Answer {
  const type = status >= 500 ? "api_error" : "invalid_request_error";
  return { status, body: JSON.stringify({ error: { type, ...error } }), headers };
}

export function send(response: ServerResponse, { status, body, headers }: Answer): void {
  response.writeHead(status, {
    "content-type": "application/json",
    "request-id": "req_stand_in",
    ...headers,
  });
  response.end(body);
}

/** Whether a request is carried out although its answer is none or another. */
export function isCarriedOut(fault: Fault): boolean {
  return fault.endsWith("-after") || fault === "500-kept";
}

/** Meet a request with a fault, or with what comes of it. @param carryOut is not called when the fault comes before */
export async function respond(
  response: ServerResponse,
  fault: Fault | undefined,
  carryOut: () => Promise<Answer>,
): Promise<void> {
  if (fault && !isCarriedOut(fault)) return answerFault(fault, response);
  const answer = await carryOut();
  if (fault && fault !== "500-kept") answerFault(fault, response, answer.body);
  else send(response, answer);
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
