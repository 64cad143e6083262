/**
 * Delivers what is due: taken for one sender alone, sent, marked. A crash in between is harmless, as whatever was taken
 * can be taken again once its time is over: everything goes out at least once, and under the same id.
 */
import type { Shop } from "../ports.ts";
import type { EndpointRow } from "../storage/event-endpoints.ts";
import type { Statement } from "../storage/database.ts";
import type { MessageKind, MessageRow } from "../storage/messages.ts";
import { endpointStatements, outcomeStatement } from "./marks.ts";
import { sendEvent } from "./send-event.ts";
import { sendMail } from "./send-mail.ts";

/** What came of one attempt. */
export type Outcome =
  | { readonly kind: "sent" }
  /** To be tried again, unless every attempt was made. */
  | { readonly kind: "again"; readonly fault: string; readonly retryAfter?: string | undefined }
  /** Will never be taken; `gone` when the whole address is. */
  | { readonly kind: "never"; readonly fault: string; readonly gone?: true }
  /** There is nobody to tell any more. */
  | { readonly kind: "drop"; readonly fault: string };

/** Most taken at once: the statements of a round must stay under the 50 that the edge allows a small plan. */
export const TAKEN_MOST = 12;
/** One attempt is cut off after this; the specification asks for 15 to 30 seconds. */
const ATTEMPT_MOST_MS = 20_000;
/** How long what is taken belongs to its sender [s]: well over the longest attempt. */
const LEASE_S = 120;

export interface Delivered {
  readonly taken: number;
  /** When the first of those that did not go out comes again. */
  readonly againAt: number | undefined;
}

/**
 * Deliver what is due, one round of it.
 * @param stop cuts attempts off; what was cut off comes again after its lease
 */
export async function deliverDue(
  shop: Shop,
  { most = TAKEN_MOST, stop }: { readonly most?: number; readonly stop?: AbortSignal } = {},
): Promise<Delivered> {
  const kinds: MessageKind[] = [
    ...(shop.senders.mail ? ["mail" as const] : []),
    ...(shop.senders.events ? ["event" as const] : []),
  ];
  if (kinds.length === 0) return { taken: 0, againAt: undefined };
  const now = shop.clock.seconds();
  const taken = await shop.messages.take(kinds, now, now + LEASE_S, most);
  const endpoints = new Map(
    (await shop.eventEndpoints.byIds(distinct(taken.map(({ endpointId }) => endpointId)))).map(
      (row) => [row.id, row],
    ),
  );
  const agains = await Promise.all(
    taken.map((message) => deliverOne(shop, message, endpoints, stop)),
  );
  const times = agains.filter((at) => at !== undefined);
  return { taken: taken.length, againAt: times.length > 0 ? Math.min(...times) : undefined };
}

async function deliverOne(
  shop: Shop,
  message: MessageRow,
  endpoints: ReadonlyMap<string, EndpointRow>,
  stop: AbortSignal | undefined,
): Promise<number | undefined> {
  const endpoint = endpoints.get(message.endpointId ?? "");
  const limit = AbortSignal.timeout(ATTEMPT_MOST_MS);
  const signal = stop ? AbortSignal.any([limit, stop]) : limit;
  try {
    const outcome = await attempt(shop, message, endpoint, signal);
    if (stop?.aborted && outcome.kind === "again") return undefined;
    const now = shop.clock.seconds();
    const { statement, againAt } = outcomeStatement(shop, message, outcome, now);
    const marks: Statement[] = [
      statement,
      ...(endpoint && message.kind === "event"
        ? endpointStatements(shop, { message, endpoint, outcome, now })
        : []),
    ];
    await shop.db.atomic(marks);
    return againAt;
  } catch (error) {
    // One that cannot be marked comes again after its lease; the others of the round go on.
    shop.log({ message: message.id, note: "could not be marked", error: String(error) });
    return undefined;
  }
}

async function attempt(
  shop: Shop,
  message: MessageRow,
  endpoint: EndpointRow | undefined,
  signal: AbortSignal,
): Promise<Outcome> {
  try {
    return message.kind === "event"
      ? await sendEvent(shop, message, endpoint!, signal)
      : await sendMail(shop, message, endpoint, signal);
  } catch (error) {
    // A fault of our own, such as an order that cannot be read: kept and shown, never lost.
    shop.log({ message: message.id, note: "could not be sent", error: String(error) });
    return { kind: "again", fault: "It could not be put together; the log says why." };
  }
}

function distinct(ids: readonly (string | null)[]): string[] {
  return [...new Set(ids.filter((id) => id !== null))];
}
