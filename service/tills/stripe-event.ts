/**
 * Signed events from Stripe.
 */
import Stripe from "stripe";
import { type TillEvent, TillRefusal } from "./till.ts";

/**
 * How far the time of signing may lie from now, either way [s]. Never 0: the SDK would skip the
 * check of the age.
 */
const SIGNATURE_TOLERANCE_S = 300;

/**
 * Verify a signed event against each secret in turn and read it.
 *
 * Uses the SDK's verification without its parsing: `constructEventAsync` throws a plain error for
 * events of the newer thin kind, which are signed just as well and are only to be noted.
 * @param secrets more than one while a secret is being rolled
 * @throws TillRefusal `payment.signature.invalid`; `payment.till.rejected` when what was signed is
 *   not an event
 */
export async function readSignedEvent(
  rawBody: string,
  header: string | undefined,
  secrets: readonly string[],
  now: Date,
): Promise<TillEvent> {
  const signedAtS = header === undefined ? undefined : signedAt(header);
  if (header === undefined || signedAtS === undefined) {
    throw new TillRefusal("payment.signature.invalid", "no usable signature header");
  }
  // The SDK tests the age only: a far future time would pass, and could be replayed until it comes.
  if (signedAtS - now.getTime() / 1000 > SIGNATURE_TOLERANCE_S) {
    throw new TillRefusal("payment.signature.invalid", "signed in the future: check the clock");
  }
  for (const secret of secrets) {
    if (await isSignedWith(secret, rawBody, header, now)) return toTillEvent(rawBody);
  }
  throw new TillRefusal("payment.signature.invalid", "signature or age does not match");
}

async function isSignedWith(secret: string, rawBody: string, header: string, now: Date) {
  const { signature } = Stripe.webhooks;
  if (!signature) throw new Error("the Stripe SDK offers no signature check");
  const crypto = Stripe.createSubtleCryptoProvider();
  const tolerance = SIGNATURE_TOLERANCE_S;
  try {
    return await signature.verifyHeaderAsync(
      rawBody,
      header,
      secret,
      tolerance,
      crypto,
      now.getTime(),
    );
  } catch (error) {
    if (error instanceof Stripe.errors.StripeSignatureVerificationError) return false;
    throw error;
  }
}

/** The one time in the header; more than one, or none, is not a header of Stripe's. */
function signedAt(header: string): number | undefined {
  const stamps = header.split(",").filter((item) => item.startsWith("t="));
  const digits = stamps.length === 1 ? stamps[0]?.slice(2) : undefined;
  return digits !== undefined && /^\d{1,12}$/.test(digits) ? Number(digits) : undefined;
}

/**
 * Read an event of any type and version: what this version does not know stays null.
 * @throws TillRefusal `payment.till.rejected` when it is not an event
 */
export function toTillEvent(rawBody: string): TillEvent {
  const event = parse(rawBody);
  const { id, type, livemode } = event;
  if (typeof id !== "string" || typeof type !== "string" || typeof livemode !== "boolean") {
    throw new TillRefusal("payment.till.rejected", "what was signed is not an event");
  }
  const about = fields(fields(event["data"])["object"]);
  const payment = about["payment_intent"];
  const isSession = about["object"] === "checkout.session";
  return {
    id,
    type,
    sessionId: isSession ? text(about["id"]) : null,
    orderId: text(about["client_reference_id"]) ?? text(fields(about["metadata"])["order"]),
    paymentId: text(payment) ?? text(fields(payment)["id"]),
    live: livemode,
  };
}

function parse(rawBody: string): Readonly<Record<string, unknown>> {
  try {
    return fields(JSON.parse(rawBody));
  } catch {
    return {};
  }
}

function fields(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null ? (value as Record<string, unknown>) : {};
}

function text(value: unknown): string | null {
  return typeof value === "string" && value !== "" ? value : null;
}
