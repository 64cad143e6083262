/**
 * What an attempt leaves behind: the message's own mark, and what it says about the address it went to.
 */
import type { Shop } from "../ports.ts";
import type { Statement } from "../storage/database.ts";
import type { EndpointRow, OffBecause } from "../storage/event-endpoints.ts";
import type { MessageRow } from "../storage/messages.ts";
import type { Outcome } from "./deliver.ts";
import { FAILING_MOST_S, nextAttempt } from "./schedule.ts";
import { ENDPOINT_OFF } from "./tellings.ts";

/** The statement that marks a message, and when it comes again if it does. */
export function outcomeStatement(
  shop: Shop,
  message: MessageRow,
  outcome: Outcome,
  now: number,
): { readonly statement: Statement; readonly againAt: number | undefined } {
  if (outcome.kind === "sent") {
    return { statement: shop.messages.sentStatement(message.id, now), againAt: undefined };
  }
  const againAt =
    outcome.kind === "again" ? nextAttempt(message, now, outcome.retryAfter) : undefined;
  const state = againAt !== undefined ? "waiting" : outcome.kind === "drop" ? "dropped" : "failed";
  const change = { state, nextAt: againAt ?? now, lastFault: outcome.fault } as const;
  return { statement: shop.messages.faultStatement(message, change), againAt };
}

export interface EventResult {
  readonly message: MessageRow;
  /** As it was read before the attempt. */
  readonly endpoint: EndpointRow;
  readonly outcome: Outcome;
  readonly now: number;
}

/** The statements that note whether an address takes events in, and switch it off with a mail to the maker. */
export function endpointStatements(shop: Shop, result: EventResult): Statement[] {
  const { endpoint, outcome, now } = result;
  if (endpoint.offBecause !== null) return [];
  if (outcome.kind === "sent") {
    return endpoint.failingSince === null ? [] : [shop.eventEndpoints.wellStatement(endpoint.id)];
  }
  const because = offBecause(result);
  if (!because) return [shop.eventEndpoints.failingStatement(endpoint.id, now)];
  return [
    shop.eventEndpoints.offStatement(endpoint.id, because),
    shop.messages.addStatement({
      id: newMessageId(shop),
      shopId: endpoint.shopId,
      kind: "mail",
      purpose: ENDPOINT_OFF,
      toWhom: "maker",
      endpointId: endpoint.id,
      // Several events can fail in the same round, and the maker is told once.
      once: `${ENDPOINT_OFF}:${endpoint.id}:${endpoint.failingSince ?? endpoint.createdAt}`,
      state: "waiting",
      nextAt: now,
      createdAt: now,
    }),
  ];
}

/** Gone when it says so; failing when a message ran through every attempt and nothing was taken in meanwhile. */
function offBecause({ message, endpoint, outcome, now }: EventResult): OffBecause | undefined {
  if (outcome.kind === "never" && outcome.gone) return "gone";
  const isSpent = outcome.kind === "again" && nextAttempt(message, now) === undefined;
  const since = endpoint.failingSince ?? now;
  return isSpent && now - since >= FAILING_MOST_S ? "failing" : undefined;
}

/** An id of the same kind as those the outbox draws for itself. */
export function newMessageId({ numbers }: Pick<Shop, "numbers">): string {
  return `msg_${numbers.id().replaceAll("-", "")}`;
}
