/**
 * What the page of messages says: to whom something went and what became of it, never an address of a customer.
 */
import { TELLINGS, type Reader, ENDPOINT_OFF, TRIAL_TYPE } from "../messages/tellings.ts";
import type { EndpointRow } from "../storage/event-endpoints.ts";
import type { MessageRow } from "../storage/messages.ts";
import type { ShopRow } from "../storage/shops.ts";
import { countWords } from "../words/count-words.ts";
import { capital } from "../words/capital.ts";
import { momentIn } from "./maker-pages.ts";

export interface MessageLists {
  readonly failed: readonly MessageRow[];
  readonly waiting: readonly MessageRow[];
  readonly sent: readonly MessageRow[];
  readonly dropped: readonly MessageRow[];
  readonly failedCount: number;
  readonly waitingCount: number;
  readonly endpoints: readonly EndpointRow[];
}

export interface MessagesSay {
  /** References of orders by their id. */
  readonly references: ReadonlyMap<string, string>;
  readonly mailIsSet: boolean;
  readonly now: number;
  /** Id of the address that is added next: a form sent twice adds one. */
  readonly newId: string;
  readonly typed: string;
  readonly fault: string;
  /** A secret just made; it is never shown again. */
  readonly secret?: { readonly secret: string; readonly url: string; readonly isNew: boolean };
}

export function messagesPage(shop: ShopRow, lists: MessageLists, say: MessagesSay) {
  const when = momentIn(shop);
  const hosts = new Map(lists.endpoints.map(({ id, url }) => [id, hostOf(url)]));
  const row = (message: MessageRow) => rowOf(message, say, { when, hosts });
  const { failed, waiting, sent, dropped, failedCount, waitingCount, endpoints } = lists;
  return {
    title: "Messages",
    headline: headlineOf(lists),
    mailWaits: !say.mailIsSet && waiting.some(({ kind }) => kind === "mail"),
    mailIsSet: say.mailIsSet,
    failed: failed.map(row),
    failedMore: moreWords(failedCount, failed.length),
    waiting: waiting.map(row),
    waitingMore: moreWords(waitingCount, waiting.length),
    past: [...sent, ...dropped].sort((a, b) => b.createdAt - a.createdAt).map(row),
    endpoints: endpoints.map((each) => endpointModel(each, say.now, when)),
    secret: say.secret ? { ...say.secret, host: hostOf(say.secret.url) } : null,
    form: { id: say.newId, typed: say.typed, fault: say.fault },
  };
}

function headlineOf({ failedCount, waitingCount }: MessageLists): string {
  if (failedCount > 0) return `${countWords(failedCount, "message")} could not be delivered`;
  if (waitingCount === 0) return "All is told";
  return waitingCount === 1 ? "1 message waits" : `${waitingCount} messages wait`;
}

function moreWords(all: number, shown: number): string {
  return all > shown ? `${all} in all; here are the latest ${shown}.` : "";
}

interface Looks {
  readonly when: (seconds: number) => string;
  readonly hosts: ReadonlyMap<string, string>;
}

function rowOf(message: MessageRow, say: MessagesSay, { when, hosts }: Looks) {
  const reference = say.references.get(message.orderId ?? "") ?? "";
  const what = whatWords(message);
  const to =
    message.kind === "event"
      ? (hosts.get(message.endpointId!) ?? "a host shop")
      : READERS[message.toWhom!];
  return {
    id: message.id,
    what,
    to,
    reference,
    name: [what, to, reference].filter((part) => part !== "").join(", "),
    stands: standsWords(message, say, when),
    fault: message.state === "sent" ? "" : (message.lastFault ?? ""),
  };
}

const READERS: Readonly<Record<Reader, string>> = { customer: "the customer", maker: "you" };

const WHAT: Readonly<Record<string, string>> = {
  "order.paid customer": "Confirmation",
  "order.paid maker": "Work to do",
  "order.held maker": "Held, please look",
  "order.sent customer": "On its way",
  "order.cancelled customer": "Cancelled",
  "order.refunded customer": "Money on its way back",
  "order.expired customer": "Payment did not arrive",
  "order.disputed maker": "Payment disputed",
  "order.cancel_asked maker": "Asked to cancel",
  [`${ENDPOINT_OFF} maker`]: "Address switched off",
};

const EVENTS: Readonly<Record<string, string>> = {
  [TRIAL_TYPE]: "Trial",
  ...Object.fromEntries(
    Object.entries(TELLINGS).map(([telling, { type }]) => [
      type,
      `Event: ${telling.replace("-", " ")}`,
    ]),
  ),
};

/** Words for what a message tells; its type where this version knows no words for it. */
function whatWords({ kind, purpose, toWhom }: MessageRow): string {
  const words = kind === "event" ? EVENTS[purpose] : WHAT[`${purpose} ${toWhom}`];
  return words ?? purpose;
}

function standsWords(
  { state, kind, attempts, nextAt, createdAt, sentAt, takenUntil }: MessageRow,
  { mailIsSet, now }: MessagesSay,
  when: (seconds: number) => string,
): string {
  const tries = countWords(attempts, "attempt");
  if (state === "sent") return `Sent ${when(sentAt ?? createdAt)}`;
  if (state === "dropped") return `Not sent; written ${when(createdAt)}`;
  if (state === "failed") return `Gave up after ${tries}; written ${when(createdAt)}`;
  if (kind === "mail" && !mailIsSet)
    return `Waits for mail to be set up; written ${when(createdAt)}`;
  if (takenUntil !== null && takenUntil > now) return `Being sent, ${tries}`;
  const next = nextAt <= now ? "at once" : when(nextAt);
  return attempts === 0 ? "Goes out at once" : `${capital(tries)} so far; next try ${next}`;
}

const OFF_WORDS: Readonly<Record<string, string>> = {
  maker: "switched off",
  gone: "switched off: it answered that it is gone for good",
  failing: "switched off: it took nothing in for three days",
};

function endpointModel(
  { id, url, failingSince, offBecause, olderUntil, createdAt }: EndpointRow,
  now: number,
  when: (seconds: number) => string,
) {
  const isOff = offBecause !== null;
  const fallen = isOff && offBecause !== "maker";
  return {
    id,
    url,
    host: hostOf(url),
    isOff,
    mark: fallen || failingSince !== null ? "!" : isOff ? "○" : "●",
    stands: isOff
      ? (OFF_WORDS[offBecause] ?? "switched off")
      : failingSince === null
        ? "in use"
        : `takes nothing in since ${when(failingSince)}`,
    added: when(createdAt),
    olderUntil: olderUntil !== null && olderUntil > now ? when(olderUntil) : "",
  };
}

function hostOf(url: string): string {
  return new URL(url).host;
}
