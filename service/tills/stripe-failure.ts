/**
 * What a failure of Stripe's API means for the caller: never again, or later.
 */
import Stripe from "stripe";
import { TillKeySpent, TillRefusal, type TillRefusalCode, TillUnavailable } from "./till.ts";

/**
 * Throw an error of the SDK as one of the till's; any other error is a fault of ours and is thrown
 * as it is.
 *
 * The message names type, code, parameter and request id, and leaves out Stripe's own sentence: for
 * a wrong key that sentence holds part of the key.
 */
export function throwTillError(error: unknown): never {
  if (!(error instanceof Stripe.errors.StripeError)) throw error;
  const what = [error.type, error.code, error.param, error.requestId].filter(Boolean).join(" ");
  if (isKeySpent(error)) throw new TillKeySpent(what);
  const code = refusalCode(error);
  if (code) throw new TillRefusal(code, what);
  throw new TillUnavailable(what, secondsOf(error.headers?.["retry-after"]));
}

/** A failure that was kept under the key comes back for ever, and says so in a header. */
function isKeySpent({
  statusCode,
  headers,
}: InstanceType<typeof Stripe.errors.StripeError>): boolean {
  return (statusCode ?? 0) >= 500 && headers?.["idempotent-replayed"] === "true";
}

/**
 * Undefined when trying again may work. No status at all: the answer was lost, cut off or not
 * Stripe's.
 */
function refusalCode({
  statusCode,
  code,
}: InstanceType<typeof Stripe.errors.StripeError>): TillRefusalCode | undefined {
  if (statusCode === undefined || statusCode >= 500) return undefined;
  // 409: a twin of this call still runs. 429: too many calls, also sent as 400 with this code.
  if (statusCode === 409 || statusCode === 429 || code === "rate_limit") return undefined;
  if (statusCode === 401 || statusCode === 403) return "payment.till.unauthorised";
  return code?.startsWith("amount_too_") ? "payment.charge.invalid" : "payment.till.rejected";
}

function secondsOf(header: string | undefined): number | undefined {
  return header !== undefined && /^\d{1,6}$/.test(header) ? Number(header) : undefined;
}
