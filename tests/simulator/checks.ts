/**
 * What must be so in the end, read from the tables themselves and held against the payment service's own objects.
 */
import type SQLite from "better-sqlite3";
import { isDeepStrictEqual } from "node:util";
import type { World } from "./world.ts";

/** A broken promise of the shop; plain, because it is asked a hundred thousand times. */
export class Broken extends Error {}

export function same(what: string, found: unknown, wanted: unknown): void {
  if (Object.is(found, wanted) || isDeepStrictEqual(found, wanted)) return;
  throw new Broken(`${what}: ${JSON.stringify(found)}, not ${JSON.stringify(wanted)}`);
}

export function holds(what: string, isSo: boolean): void {
  if (!isSo) throw new Broken(what);
}

interface OrderFacts {
  readonly state: string;
  readonly captured_minor: number | null;
  readonly refunded_minor: number;
  readonly total_minor: number;
  readonly dispute_state: string | null;
  readonly till_session_id: string | null;
}

interface MessageFacts {
  readonly id: string;
  readonly kind: "mail" | "event";
  readonly purpose: string;
  readonly to_whom: string | null;
  readonly state: string;
  readonly body: string | null;
}

/** An order as the tables have it, without going through the code under test. */
export function factsOf({ db }: World, orderId: string) {
  const sqlite = (db.q as unknown as { $client: SQLite.Database }).$client;
  const rows = <Row>(text: string) => sqlite.prepare(text).all(orderId) as Row[];
  return {
    order: rows<OrderFacts>("select * from orders where id = ?")[0]!,
    refunds: rows<{ amount_minor: number; state: string }>(
      "select amount_minor, state from refunds where order_id = ?",
    ),
    log: rows<{ what: string }>("select what from order_events where order_id = ? order by id").map(
      ({ what }) => what,
    ),
    messages: rows<MessageFacts>("select * from messages where order_id = ?"),
    unsettled: rows<{ id: string }>(
      "select id from payment_events where settled_at is null and ? <> ''",
    ),
  };
}

export type Facts = ReturnType<typeof factsOf>;

/** Money in is what was captured less what went back, to the unit; nothing is under way any more. */
export function checkMoney(world: World, { order, refunds }: Facts, orderId: string): void {
  const paid = [...world.stripe().sessions.values()].filter(
    (session) =>
      session.isPaid && session.toJson(false)["client_reference_id" as never] === orderId,
  );
  holds("no more than one session was paid", paid.length <= 1);
  const [session] = paid;
  const captured = session?.charge.amount ?? null;
  const wentBack = session?.charge.amount_refunded ?? 0;
  same("captured", order.captured_minor, captured);
  same("given back", order.refunded_minor, wentBack);
  holds("nothing below nothing", (order.captured_minor ?? 0) - order.refunded_minor >= 0);
  const counted = refunds.filter(({ state }) => state === "done" || state === "pending");
  const sum = counted.reduce((total, { amount_minor: minor }) => total + minor, 0);
  same("refunds that count", sum, order.refunded_minor);
  holds(
    "every refund has an answer",
    refunds.every(({ state }) => state !== "asked"),
  );
  const dispute = world
    .stripe()
    .disputes.find(({ payment_intent: of }) => of === session?.paymentId);
  same("contested", order.dispute_state, dispute?.status ?? null);
}

/** One payment, one line of it; nobody makes what is not paid for; a state is one its payment can lead to. */
export function checkState({ order, log }: Facts): void {
  const count = (pattern: RegExp) => log.filter((what) => pattern.test(what)).length;
  same("times it was placed", count(/^placed$/), 1);
  const wasPaid = order.captured_minor !== null;
  same("times the money came", count(/^paid\b/), wasPaid ? 1 : 0);
  const cancelled = count(/^cancelled/) > 0;
  const paidStates = ["paid", "held", "in-making", "made", ...(cancelled ? ["cancelled"] : [])];
  const may = wasPaid ? paidStates : cancelled ? ["cancelled"] : ["placed", "expired"];
  holds(`${order.state} is one of ${may.join(", ")}`, may.includes(order.state));
  const hasMoney = order.refunded_minor < (order.captured_minor ?? 0);
  if (order.state === "paid" && count(/^released/) === 0) holds("paid has its money", hasMoney);
}

/** Each change is told once to everyone it concerns. */
export function checkTold({ log, messages }: Facts): void {
  const count = (kind: string, purpose: string, to: string | null) =>
    messages.filter((each) => each.kind === kind && each.purpose === purpose && each.to_whom === to)
      .length;
  const lines = (pattern: RegExp) => log.filter((what) => pattern.test(what)).length;
  const cameToPaid = lines(/^(paid$|released)/);
  const events = (purpose: string) => count("event", purpose, null);
  same("placed, to the host shop", events("order.placed"), 1);
  same("paid, to the host shop", events("order.paid"), cameToPaid);
  for (const to of ["customer", "maker"]) {
    same(`paid, to the ${to}`, count("mail", "order.paid", to), cameToPaid > 0 ? 1 : 0);
  }
  same("given back", count("mail", "order.refunded", "customer"), events("order.refunded"));
  same("held", count("mail", "order.held", "maker"), events("order.held"));
  same("cancelled", events("order.cancelled"), lines(/^cancelled/));
  const waited = lines(/^payment on its way$/) > 0;
  const lapsed = count("mail", "order.expired", "customer");
  same("a slow payment that did not come", lapsed, waited ? events("order.expired") : 0);
  same("in making", events("order.in_making"), lines(/^batch \S+$/));
  same("asked to cancel", events("order.cancel_asked"), lines(/^asked to cancel$/));
}

/** What was told has arrived: every message by its id, with its own words, and nothing else. */
export function checkArrived({ others, logged }: World, { messages }: Facts): void {
  const of = (wanted: string) => messages.filter(({ kind }) => kind === wanted);
  holds(
    "everything is sent",
    messages.every(({ state }) => state === "sent"),
  );
  const told = of("event").map(({ id, body }): [string, string] => [id, body!]);
  same("events that arrived", [...others.events].sort(), told.sort());
  const written = of("mail").map(({ id }) => id);
  same("letters that arrived", [...others.letters.keys()].sort(), written.sort());
  holds(
    "nobody's address in the log",
    !/customer@shop\.example|sk_test_|whsec_/.test(JSON.stringify(logged)),
  );
}
