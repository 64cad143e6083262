/**
 * Finds what events lost, and settles it by the same function as they do: events that a crash left over or the till
 * could not deliver, refunds without an answer, orders whose session nobody told of.
 *
 * One run is bounded. What waits longest comes first; orders that are simply not paid yet are looked at in turns.
 */
import type { Shop } from "../ports.ts";
import type { OrderRow } from "../storage/orders.ts";
import { TillUnavailable } from "../tills/till.ts";
import { TILL_LIFE_S } from "./place-order.ts";
import { receiveEvent, workThrough } from "./receive-event.ts";
import { carryOutRefund } from "./refund.ts";
import { settlePayment } from "./settle-payment.ts";

/** What came less long ago is still in the hands of whoever does it [s] */
const GRACE_S = 120;
/** A refund on its way is asked after this often [s] */
const PENDING_S = 6 * 3600;
/** No session can be opened any more, and any that was opened is over [s] */
const SESSION_OVER_S = TILL_LIFE_S + GRACE_S;
/** The payment service itself tries for three days to deliver an event. */
const UNDELIVERED_S = 3 * 24 * 3600;
/** Length of a turn [s]; whatever the rounds' rhythm, each turn looks at other orders. */
const TURN_S = 60;

/**
 * One run.
 * @param most events, refunds and orders it may look at, together
 * @returns how many it looked at
 */
export async function reconcile(shop: Shop, most: number): Promise<number> {
  const run = { shop, left: most, now: shop.clock.seconds() };
  try {
    await leftOverEvents(run);
    await unansweredRefunds(run);
    await undeliveredEvents(run);
    await ordersWithoutSession(run);
    await ordersWithSession(run);
  } catch (error) {
    if (!(error instanceof TillUnavailable)) throw error;
    shop.log({ note: "the till cannot be reached; what is open waits for the next round" });
  }
  return most - run.left;
}

interface Run {
  readonly shop: Shop;
  left: number;
  readonly now: number;
}

/** Do one thing; a fault that concerns it alone keeps no other from its turn. */
async function each<Thing>(
  run: Run,
  things: readonly Thing[],
  work: (thing: Thing) => Promise<unknown>,
): Promise<void> {
  for (const thing of things) {
    if (run.left < 1) return;
    run.left -= 1;
    try {
      await work(thing);
    } catch (error) {
      if (error instanceof TillUnavailable) throw error;
      run.shop.log({ note: "could not be reconciled now", error: String(error) });
    }
  }
}

async function leftOverEvents(run: Run): Promise<void> {
  const { shop, now } = run;
  await each(run, await shop.events.waiting(now - GRACE_S, run.left), async ({ id, sessionId }) => {
    const event = await shop.till.event(id);
    if (event) return await workThrough(shop, event);
    // Too old to be read again: what it was about is asked for itself.
    if (sessionId) await settlePayment(shop, sessionId);
    await shop.events.settle(id, now);
  });
}

async function unansweredRefunds(run: Run): Promise<void> {
  const { shop, now } = run;
  const asked = await shop.refunds.waiting("asked", now - GRACE_S, run.left);
  await each(run, asked, async (row) => {
    await shop.refunds.touch(row.id, now);
    await carryOutRefund(shop, row);
  });
  const pending = await shop.refunds.waiting("pending", now - PENDING_S, run.left);
  await each(run, pending, async (row) => {
    await shop.refunds.touch(row.id, now);
    const order = await shop.orders.byId(row.orderId);
    if (order?.tillSessionId) await settlePayment(shop, order.tillSessionId);
  });
}

async function undeliveredEvents(run: Run): Promise<void> {
  const { shop, now } = run;
  if (run.left < 1) return;
  const events = await shop.till.undelivered(new Date((now - UNDELIVERED_S) * 1000));
  const unknown = new Set(await shop.events.unknownOf(events.map(({ id }) => id)));
  // The service lists the newest first.
  const fresh = events
    .filter(({ id, live }) => unknown.has(id) && live === shop.till.live)
    .reverse();
  await each(run, fresh, (event) => receiveEvent(shop, event));
}

/** The answer to "open a session" was lost, or never asked for again. */
async function ordersWithoutSession(run: Run): Promise<void> {
  const { shop, now } = run;
  const waiting = await shop.orders.withoutSession(now - GRACE_S, run.left);
  const [oldest] = waiting;
  if (!oldest) return;
  // Sessions are searched through the 24 hours after the oldest; who came later has the next turn.
  const orders = waiting.filter(({ placedAt }) => placedAt - oldest.placedAt < 22 * 3600);
  const lost = orders.map(({ id, tillKey }) => ({ orderId: id, idempotencyKey: tillKey }));
  const found = await shop.till.findSessions(lost, new Date(oldest.placedAt * 1000));
  await each(run, orders, async (order) => {
    const sessions = found.get(order.id) ?? [];
    for (const sessionId of sessions) await settlePayment(shop, sessionId);
    const isOver = now - order.placedAt > SESSION_OVER_S;
    if (sessions.length === 0 && isOver) await neverAtTill(shop, order);
  });
}

async function neverAtTill(shop: Shop, order: OrderRow): Promise<void> {
  const what = "payment not begun in time";
  const at = shop.clock.seconds();
  await shop.orders.move({
    orderId: order.id,
    to: "expired",
    from: ["placed"],
    at,
    who: "service",
    what,
  });
}

async function ordersWithSession(run: Run): Promise<void> {
  const { shop, now } = run;
  const turn = Math.floor(now / TURN_S);
  const orders = await shop.orders.withSession(now - GRACE_S, run.left, turn);
  await each(run, orders, ({ tillSessionId }) => settlePayment(shop, tillSessionId!));
}
