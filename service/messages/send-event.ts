/**
 * One event to one host shop.
 */
import type { Shop } from "../ports.ts";
import type { EndpointRow } from "../storage/event-endpoints.ts";
import type { MessageRow } from "../storage/messages.ts";
import type { Outcome } from "./deliver.ts";
import { signedHeaders } from "./event-signature.ts";
import { ForbiddenAddress } from "./senders.ts";

/** Post an event and read what the answer means; the answer's own words are never kept or shown. */
export async function sendEvent(
  shop: Shop,
  { id, body }: MessageRow,
  endpoint: EndpointRow,
  signal: AbortSignal,
): Promise<Outcome> {
  if (endpoint.offBecause !== null) return { kind: "never", fault: "The address is switched off." };
  const seconds = shop.clock.seconds();
  const headers = await signedHeaders(id, seconds, body!, secretsOf(endpoint, seconds));
  try {
    const { status, retryAfter } = await shop.senders.events!.post(
      ...([endpoint.url, headers, body!, signal] as const),
    );
    if (status >= 200 && status < 300) return { kind: "sent" };
    if (status === 410) {
      return { kind: "never", fault: "The address answered that it is gone (410).", gone: true };
    }
    return { kind: "again", fault: faultOf(status), retryAfter };
  } catch (error) {
    if (error instanceof ForbiddenAddress) return { kind: "again", fault: error.message };
    if (signal.aborted) return { kind: "again", fault: "No answer came in time." };
    return { kind: "again", fault: `The address could not be reached${reasonOf(error)}.` };
  }
}

/** The secret, and the one before while its time is not over. */
function secretsOf({ secret, olderSecret, olderUntil }: EndpointRow, now: number): string[] {
  return olderSecret !== null && olderUntil !== null && olderUntil > now
    ? [secret, olderSecret]
    : [secret];
}

function faultOf(status: number): string {
  if (status >= 300 && status < 400) {
    return `The address points elsewhere (${status}). Events follow no redirect: enter the final address.`;
  }
  if (status === 429) return "The address asked for fewer events at once (429).";
  return `The address answered ${status}.`;
}

/** Names of faults that say something to whoever reads them. */
const REASONS: Readonly<Record<string, string>> = {
  ECONNREFUSED: ": nothing listens there",
  ECONNRESET: ": the connection broke off",
  ENOTFOUND: ": the name is not known",
  EAI_AGAIN: ": the name could not be looked up",
  CERT_HAS_EXPIRED: ": its certificate has expired",
  DEPTH_ZERO_SELF_SIGNED_CERT: ": its certificate is not from a known authority",
  ERR_TLS_CERT_ALTNAME_INVALID: ": its certificate is for another name",
};

function reasonOf(error: unknown): string {
  return REASONS[(error as NodeJS.ErrnoException).code ?? ""] ?? "";
}
