/**
 * A signed event checked as the Standard Webhooks specification 1.0 says: HMAC-SHA256 over id, timestamp and body. Any
 * library for that specification does the same with the same secret; this one needs no package.
 */
import type { OrderEvent } from "#core/wire-host.ts";

/** The event is not from the shop, was altered, or is too old to be trusted. */
export class EventRefused extends Error {
  constructor(why: string) {
    super(why);
    this.name = "EventRefused";
  }
}

/** How far the timestamp may lie from now [s]; the specification's advice. */
const TOLERANCE_S = 300;

/**
 * Check an event.
 * @param body the body as it came, before anything parsed it
 * @param headers of the request
 * @param secret `whsec_…`, as the maker's page showed it
 * @returns the event, with the id that tells a second delivery
 * @throws EventRefused
 */
export async function verifyEvent(
  body: string,
  headers: { get(name: string): string | null },
  secret: string,
): Promise<OrderEvent & { readonly id: string }> {
  const id = headers.get("webhook-id");
  const timestamp = headers.get("webhook-timestamp");
  const signatures = headers.get("webhook-signature");
  if (!id || !timestamp || !signatures) throw new EventRefused("The signature is missing.");
  const away = Math.abs(Date.now() / 1000 - Number(timestamp));
  if (!/^\d{1,12}$/.test(timestamp) || away > TOLERANCE_S) {
    throw new EventRefused("The event is too old, or the clock of one of us is wrong.");
  }
  const key = await crypto.subtle.importKey(
    "raw",
    bytesOf(secret.replace(/^whsec_/, "")),
    { name: "HMAC", hash: "SHA-256" },
    false,
    ["verify"],
  );
  const signed = new TextEncoder().encode(`${id}.${timestamp}.${body}`);
  for (const each of signatures.split(" ")) {
    const [version, signature = ""] = each.split(",");
    if (version !== "v1" || !/^[A-Za-z0-9+/]+={0,2}$/.test(signature)) continue;
    // `verify` compares without telling by its time where the difference is.
    if (await crypto.subtle.verify("HMAC", key, bytesOf(signature), signed)) {
      return { ...(JSON.parse(body) as OrderEvent), id };
    }
  }
  throw new EventRefused("The signature does not fit the body and the secret.");
}

function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (each) => each.charCodeAt(0));
}
