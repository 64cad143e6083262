/**
 * A request done once, however often it is sent: the Idempotency-Key header field by the working group's draft
 * (draft-ietf-httpapi-idempotency-key-header). Keys belong to the host shop that sent them.
 */
import type { Context } from "hono";
import { hashToken } from "../numbers.ts";
import type { Shop } from "../ports.ts";
import { Refusal, problemOf } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { IdempotencyRow, KeyOfRequest } from "../storage/idempotency-keys.ts";

/** How long an answer is kept for the same key [s]; own choice, and published in the API's description. */
export const KEPT_S = 24 * 3600;
/** After this an attempt that has not ended is taken for dead [s]; own choice, longer than any request takes. */
export const ATTEMPT_MOST_S = 60;
export const KEY_LONGEST = 200;

export interface Answer {
  readonly status: number;
  readonly body: object;
}

interface Attempt extends KeyOfRequest {
  readonly startedAt: number;
}

/**
 * Do the work of a request, or say again what was answered.
 *
 * A refusal is an answer like another and is kept. A fault of ours (5xx) is not: the key is free again.
 * @param apiKeyId whose request it is
 * @throws Refusal when the key is missing, malformed, used for another request or still at work
 */
export async function once(
  shop: Shop,
  c: Context,
  apiKeyId: string,
  work: () => Promise<Answer>,
): Promise<Response> {
  const key = readKey(c.req.header("idempotency-key"));
  const requestHash = await hashToken(`${c.req.method} ${c.req.path}\n${await c.req.text()}`);
  const begun = await begin(shop, { apiKeyId, key }, requestHash);
  if ("kept" in begun) return say(c, begun.kept.status, begun.kept.answer);
  try {
    const { status, body } = await work();
    return await keep(shop, c, begun.attempt, status, JSON.stringify(body));
  } catch (error) {
    if (error instanceof Refusal && error.status < 500) {
      const problem = problemOf(error, `urn:uuid:${String(c.get("requestId"))}`);
      return await keep(shop, c, begun.attempt, error.status, JSON.stringify(problem));
    }
    await shop.idempotencyKeys.release(begun.attempt, begun.attempt.startedAt);
    throw error;
  }
}

async function begin(
  shop: Shop,
  of: KeyOfRequest,
  requestHash: string,
): Promise<{ readonly attempt: Attempt } | { readonly kept: { status: number; answer: string } }> {
  const startedAt = shop.clock.seconds();
  try {
    await shop.idempotencyKeys.begin({ ...of, requestHash, startedAt }, startedAt - KEPT_S);
    return { attempt: { ...of, startedAt } };
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
  }
  const before = await shop.idempotencyKeys.find(of);
  if (!before) return await begin(shop, of, requestHash); // it failed and was released meanwhile
  if (before.requestHash !== requestHash) {
    const detail =
      "This Idempotency-Key came with another request before. Draw a new key for a new request.";
    throw new Refusal("request.idempotency-key.reused", detail);
  }
  const { status, answer } = before;
  if (status !== null) return { kept: { status, answer: answer! } };
  return { attempt: await takeOver(shop, before) };
}

async function takeOver(shop: Shop, before: IdempotencyRow): Promise<Attempt> {
  const now = shop.clock.seconds();
  const endsAt = before.startedAt + ATTEMPT_MOST_S;
  if (now < endsAt) throw atWork(endsAt - now);
  try {
    await shop.idempotencyKeys.takeOver(before, before.startedAt, now);
  } catch (error) {
    throw error instanceof Conflict ? atWork(ATTEMPT_MOST_S) : error;
  }
  return { apiKeyId: before.apiKeyId, key: before.key, startedAt: now };
}

async function keep(shop: Shop, c: Context, attempt: Attempt, status: number, answer: string) {
  const { startedAt } = attempt;
  await shop.idempotencyKeys.finish(attempt, { startedAt, status, answer });
  return say(c, status, answer);
}

function say(c: Context, status: number, text: string): Response {
  const type = status >= 400 ? "application/problem+json" : "application/json";
  return c.body(text, status as 200, { "content-type": type, "cache-control": "no-store" });
}

/** A structured field's string, in quotes, or the bare characters that many clients send. */
function readKey(header: string | undefined): string {
  if (header === undefined || header.trim() === "") {
    const detail = "Send an Idempotency-Key, new for each order, so that none is placed twice.";
    throw new Refusal("request.idempotency-key.missing", detail);
  }
  const quoted = /^"((?:[ !#-[\]-~]|\\["\\])*)"$/.exec(header.trim())?.[1];
  const key = quoted?.replaceAll(/\\(["\\])/g, "$1") ?? header.trim();
  const isBare = quoted !== undefined || /^[!#-[\]-~]+$/.test(key);
  if (!isBare || key === "" || key.length > KEY_LONGEST) {
    const detail = `An Idempotency-Key is 1 to ${KEY_LONGEST} printable ASCII characters in quotes.`;
    throw new Refusal("request.idempotency-key.invalid", detail);
  }
  return key;
}

function atWork(retryAfterS: number): Refusal {
  const detail = "The first request with this Idempotency-Key is still at work. Ask again shortly.";
  return new Refusal("request.idempotency-key.running", detail, { retryAfterS });
}
