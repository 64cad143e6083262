/**
 * What is stuck in the shop: orders nobody pays, news nobody hears, and a clock that went back.
 */
import { eventEndpoints, messages, orders, paymentEvents } from "#data/schema.ts";
import { and, count, eq, isNotNull, isNull, lt } from "drizzle-orm";
import { TILL_LIFE_S } from "../../actions/place-order.ts";
import type { Database } from "../../storage/database.ts";
import { CLOCK_BEHIND_MOST_S, newestStored } from "../readiness.ts";
import { countWords } from "../../words/count-words.ts";
import { type Word, look, mend, well } from "./word.ts";

const HOUR_S = 3600;
const DAY_S = 24 * HOUR_S;
/** The rounds close an order once its till is; a day for them to catch up is our own choice. */
const UNPAID_MOST_S = TILL_LIFE_S + DAY_S;
/** Own choice: slow payments take days, and rarely more than two weeks. */
const SLOW_MOST_S = 14 * DAY_S;
/** Events are worked through at once, and by the rounds when that failed. */
const EVENT_MOST_S = HOUR_S;
/** Own choice: longer than a mail server is away for its own sake. */
const WAITING_MOST_S = DAY_S;

/** @param now [s since 1970] */
export async function aboutWork({ q, ...db }: Database, now: number): Promise<Word[]> {
  const newest = await newestStored({ q, ...db });
  const [unpaid] = await q
    .select({ n: count() })
    .from(orders)
    .where(
      and(
        eq(orders.state, "placed"),
        isNull(orders.pendingSince),
        lt(orders.placedAt, now - UNPAID_MOST_S),
      ),
    );
  const [slow] = await q
    .select({ n: count() })
    .from(orders)
    .where(and(eq(orders.state, "placed"), lt(orders.pendingSince, now - SLOW_MOST_S)));
  const [held] = await q.select({ n: count() }).from(orders).where(eq(orders.state, "held"));
  const [events] = await q
    .select({ n: count() })
    .from(paymentEvents)
    .where(and(isNull(paymentEvents.settledAt), lt(paymentEvents.receivedAt, now - EVENT_MOST_S)));
  const [failed] = await q
    .select({ n: count() })
    .from(messages)
    .where(eq(messages.state, "failed"));
  const [waiting] = await q
    .select({ n: count() })
    .from(messages)
    .where(and(eq(messages.state, "waiting"), lt(messages.createdAt, now - WAITING_MOST_S)));
  const [off] = await q
    .select({ n: count() })
    .from(eventEndpoints)
    .where(isNotNull(eventEndpoints.offBecause));
  const behind = newest === undefined ? 0 : newest - now;
  const of = (found: { n: number } | undefined) => found?.n ?? 0;
  return [
    behind > CLOCK_BEHIND_MOST_S
      ? mend(
          "clock",
          `The clock is ${countWords(behind, "second")} behind the newest stored event: set it.`,
        )
      : well("clock", "The clock is not behind what is stored."),
    none(of(unpaid), "orders.unpaid", "No order has waited for its payment too long.", (n) =>
      mend(
        "orders.unpaid",
        `${countWords(n, "order")} should have been paid or closed by now: the rounds do not run, or the payment service ` +
          "cannot be reached. Look into the log.",
      ),
    ),
    none(of(slow), "orders.slow", "No slow payment is overdue.", (n) =>
      look(
        "orders.slow",
        `${countWords(n, "slow payment")} on the way for over two weeks: ask the payment service.`,
      ),
    ),
    none(of(held), "orders.held", "No order is held.", (n) =>
      look(
        "orders.held",
        `${countWords(n, "order")} held until the maker has looked: open Orders.`,
      ),
    ),
    none(of(events), "payments.events", "All news of payments is worked through.", (n) =>
      mend(
        "payments.events",
        `${countWords(n, "event")} of the payment service not worked through: look into the log.`,
      ),
    ),
    none(of(failed), "messages.failed", "No message has failed.", (n) =>
      look(
        "messages.failed",
        `${countWords(n, "message")} failed for good: open Messages, which says why.`,
      ),
    ),
    none(of(waiting), "messages.waiting", "No message waits for long.", (n) =>
      look(
        "messages.waiting",
        `${countWords(n, "message")} waiting for over a day: is mail set up, do the rounds run?`,
      ),
    ),
    none(of(off), "messages.endpoints", "No host shop has been given up.", (n) =>
      look(
        "messages.endpoints",
        `${countWords(n, "address", "addresses")} of host shops switched off: open Messages.`,
      ),
    ),
  ];
}

function none(n: number, about: string, sentence: string, otherwise: (n: number) => Word): Word {
  return n === 0 ? well(about, sentence) : otherwise(n);
}
