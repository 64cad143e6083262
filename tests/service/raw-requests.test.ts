/**
 * What no browser sends, over a bare connection to the running service: heads too large or broken, methods nobody uses,
 * and customers who are gone before they have an answer.
 */
import SQLite from "better-sqlite3";
import { connect } from "node:net";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer, QuoteAnswer } from "#core/wire.ts";
import { type RunningService, runService } from "../helpers/running-shop.ts";
import { aQuoteRequest } from "../helpers/shop.ts";

let service: RunningService;
beforeAll(async () => {
  service = await runService();
});
afterAll(() => service.stop());

/** Send bytes and hear what comes, until the other side ends. @param gone hang up once they are sent */
function send(text: string, gone = false): Promise<string> {
  const { hostname, port } = new URL(service.url);
  return new Promise((resolve) => {
    let heard = "";
    const socket = connect(Number(port), hostname);
    socket.on("data", (chunk) => (heard += String(chunk)));
    socket.on("error", () => undefined); // hung up on while it was still writing
    socket.on("close", () => resolve(heard));
    socket.write(text, () => gone && socket.destroy());
  });
}

const head = (method: string, path: string, ...more: string[]) =>
  [`${method} ${path} HTTP/1.1`, "host: shop.test", "connection: close", ...more, "", ""].join(
    "\r\n",
  );

const statusOf = (heard: string) => Number(/^HTTP\/1\.1 (\d+)/.exec(heard)?.[1]);

const post = async <Answer>(path: string, body: unknown) => {
  const headers = { "content-type": "application/json" };
  const answer = await fetch(`${service.url}${path}`, {
    ...{ method: "POST", headers },
    body: JSON.stringify(body),
  });
  return { status: answer.status, body: (await answer.json()) as Answer };
};

/** Orders on one quote, in the file itself. */
function ordersOn(quoteId: string): number {
  const sqlite = new SQLite(service.database, { readonly: true });
  const count = sqlite
    .prepare("select count(*) from orders where quote_id = ?")
    .pluck()
    .get(quoteId);
  sqlite.close();
  return count as number;
}

describe("a request whose head is wrong", () => {
  it.each([
    ["128 KB of headers", head("GET", "/healthz", `x-long: ${"x".repeat(128 * 1024)}`), 431],
    ["an address of 16 KB", head("GET", `/${"x".repeat(16 * 1024)}`), 431],
    ["a line break in a header", head("GET", "/healthz", "x-a: b\rset-cookie: c"), 400],
    ["a zero byte in a header", head("GET", "/healthz", "x-a: b\0c"), 400],
    ["a header without a name", head("GET", "/healthz", ": b"), 400],
    ["two lengths", head("POST", "/v1/quotes", "content-length: 2", "content-length: 3"), 400],
    [
      "ten megabytes told beforehand",
      head("POST", "/v1/quotes", `content-length: ${10 ** 7}`),
      413,
    ],
    ["a method that nobody knows", head("BREW", "/v1/quotes"), 400],
  ])("for %s is refused, and the next is answered", async (_, text, status) => {
    expect(statusOf(await send(text))).toBe(status);
    expect(statusOf(await send(head("GET", "/healthz")))).toBe(200);
  });

  it.each(["TRACE", "PROPFIND", "DELETE"])("for its method %s finds nothing", async (method) => {
    const heard = await send(head(method, "/v1/quotes", "x-secret: hush"));
    expect(statusOf(heard)).toBe(404);
    expect(heard).not.toContain("hush");
  });
});

describe("a customer who is gone", () => {
  it("before the order was sent whole has none, and whoever asks again has one", async () => {
    const { token, quote } = (await post<QuoteAnswer>("/v1/quotes", aQuoteRequest())).body;
    const body = JSON.stringify({ quote: token });
    const json = ["content-type: application/json", `content-length: ${body.length}`];
    await send(head("POST", "/v1/orders", ...json) + body.slice(0, -10), true);
    expect((await fetch(`${service.url}/readyz`)).status).toBe(200);
    expect(ordersOn(quote.id)).toBe(0);
    expect((await post<OrderAnswer>("/v1/orders", { quote: token })).status).toBe(201);
    expect(ordersOn(quote.id)).toBe(1);
  });

  it("before the answer came has one order or none, never half of one or two", async () => {
    const { token, quote } = (await post<QuoteAnswer>("/v1/quotes", aQuoteRequest())).body;
    const body = JSON.stringify({ quote: token });
    const json = ["content-type: application/json", `content-length: ${body.length}`];
    await Promise.all([1, 2, 3].map(() => send(head("POST", "/v1/orders", ...json) + body, true)));
    const { status, body: order } = await post<OrderAnswer>("/v1/orders", { quote: token });
    expect([200, 201]).toContain(status);
    expect(order.payUrl).not.toBeNull();
    expect(ordersOn(quote.id)).toBe(1);
    const again = await post<OrderAnswer>("/v1/orders", { quote: token });
    expect(again.body).toEqual(order);
  });
});
