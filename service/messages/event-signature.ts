/**
 * Signatures of events, by the Standard Webhooks specification 1.0 (standardwebhooks.com): HMAC-SHA256 over
 * id.timestamp.body, as base64, with the version before it.
 */

const PREFIX = "whsec_";
/** The specification asks for 24 to 64 random bytes. */
const SECRET_BYTES = 32;

/** A new secret, as both sides keep it. */
export function newEventSecret(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(SECRET_BYTES));
  return PREFIX + base64(bytes);
}

/**
 * The headers an event goes out with.
 * @param id same at every attempt
 * @param seconds time of this attempt, since 1970
 * @param secrets every one signs, so that a secret can be changed without a gap
 */
export async function signedHeaders(
  id: string,
  seconds: number,
  body: string,
  secrets: readonly string[],
): Promise<Record<string, string>> {
  const signed = new TextEncoder().encode(`${id}.${seconds}.${body}`);
  const signatures = await Promise.all(secrets.map((secret) => sign(secret, signed)));
  return {
    "content-type": "application/json",
    "webhook-id": id,
    "webhook-timestamp": String(seconds),
    "webhook-signature": signatures.map((each) => `v1,${each}`).join(" "),
  };
}

async function sign(secret: string, signed: Uint8Array<ArrayBuffer>): Promise<string> {
  const raw = Uint8Array.from(atob(secret.slice(PREFIX.length)), (each) => each.charCodeAt(0));
  const key = await crypto.subtle.importKey("raw", raw, { name: "HMAC", hash: "SHA-256" }, false, [
    "sign",
  ]);
  return base64(new Uint8Array(await crypto.subtle.sign("HMAC", key, signed)));
}

function base64(bytes: Uint8Array): string {
  return btoa(String.fromCharCode(...bytes));
}
