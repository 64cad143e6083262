/**
 * After the last kill: the shop goes on with its clock ten minutes later, does what it does by itself, and everything
 * that was answered, paid or told is looked for.
 */
import SQLite from "better-sqlite3";
import { deliverDue } from "#service/messages/deliver.ts";
import { createEventSender } from "#service/messages/event-sender-node.ts";
import { createHttpMail } from "#service/messages/mail-http.ts";
import { randomNumbers, systemClock } from "#service/numbers.ts";
import { openShop } from "#service/ports.ts";
import { goRound } from "#service/rounds.ts";
import { makeKeys, makeSeals } from "#service/seals.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { practiceSessionsIn } from "#service/storage/practice-sessions.ts";
import { chooseTill } from "#service/tills/choose-till.ts";
import { MIGRATIONS } from "../helpers/shop.ts";
import type { startReceiver } from "../service/messages/a-told-shop.ts";

/** Whatever was under way when the server died is nobody's any more by then [s] */
const LATER_S = 600;
const ROUNDS_MOST = 400;

export interface Aftermath {
  readonly orders: number;
  readonly paid: number;
  /** Mails and events, each counted once. */
  readonly messages: number;
  /** Of these, how many arrived more than once under their one id. */
  readonly arrivedTwice: number;
  /** Everything that is wrong, in words. */
  readonly faults: readonly string[];
}

interface Answered {
  readonly placed: ReadonlySet<string>;
  readonly paid: ReadonlySet<string>;
}

type Receiver = Awaited<ReturnType<typeof startReceiver>>;

export async function settleAll(
  database: string,
  receiver: Receiver,
  answered: Answered,
): Promise<Aftermath> {
  await goOn(database, receiver);
  const sqlite = new SQLite(database, { readonly: true });
  const all = <Row>(text: string) => sqlite.prepare(text).all() as Row[];
  const orders = all<{ id: string; reference: string; state: string; session: string | null }>(
    `select o.id, reference, o.state, s.state session from orders o
      left join practice_sessions s on s.id = o.till_session_id`,
  );
  const messages = all<MessageRow>(
    "select id, order_id, kind, purpose, to_whom, state from messages",
  );
  sqlite.close();
  const arrived = arrivals(receiver);
  const faults = [
    ...faultsOfOrders(orders, answered),
    ...faultsOfMessages(orders, messages, arrived),
  ];
  const twice = messages.filter(({ id }) => (arrived.get(id) ?? 0) > 1);
  const paid = orders.filter(({ state }) => state === "paid").length;
  return {
    ...{ orders: orders.length, paid, messages: messages.length },
    ...{ arrivedTwice: twice.length, faults },
  };
}

/** The shop's own rounds and deliveries, later. */
async function goOn(database: string, receiver: Receiver): Promise<void> {
  const db = openNodeDatabase(database, MIGRATIONS);
  let later = LATER_S;
  const clock = { seconds: () => systemClock.seconds() + later };
  const url = "http://localhost";
  const sessions = practiceSessionsIn(db);
  const till = chooseTill(
    {},
    { sessions, baseUrl: url, now: () => new Date(clock.seconds() * 1000) },
  );
  const email = { name: "", email: "post@quillfen.example" };
  const by = { kind: "http" as const, url: `${receiver.url}?mail`, key: "hush" };
  const shop = openShop({
    ...{ db, till, clock, url, practice: undefined, numbers: randomNumbers },
    senders: {
      mail: createHttpMail({ from: email, maker: email, by }, by),
      events: createEventSender(true),
    },
    seals: await makeSeals(await makeKeys()),
    asset: async () => undefined,
    log: (line) => console.error(JSON.stringify(line)),
  });
  // A practice session that was paid a moment before the end is found by a round.
  for (let round = 0; round < 5; round++) {
    await goRound(shop, { paymentsMost: 1000 });
    later += 60;
  }
  for (let round = 0; round < ROUNDS_MOST; round++) {
    const { taken } = await deliverDue(shop, { most: 50 });
    if (taken === 0) break;
  }
  db.close();
}

interface MessageRow {
  readonly id: string;
  readonly order_id: string;
  readonly kind: string;
  readonly purpose: string;
  readonly to_whom: string | null;
  readonly state: string;
}

/** How often each message arrived, by its id. */
function arrivals({ received }: Receiver): Map<string, number> {
  const times = new Map<string, number>();
  for (const { headers, body } of received) {
    const event = headers["webhook-id"] as string | undefined;
    const mail = event ?? (JSON.parse(body) as { messageId: string }).messageId;
    const id = event ?? /^<(.+)@/.exec(mail)![1]!;
    times.set(id, (times.get(id) ?? 0) + 1);
  }
  return times;
}

function faultsOfOrders(
  orders: readonly { reference: string; state: string; session: string | null }[],
  { placed, paid }: Answered,
): string[] {
  const known = new Map(orders.map((order) => [order.reference, order.state]));
  return [
    ...[...placed].filter((reference) => !known.has(reference)).map((it) => `order ${it} is lost`),
    ...[...paid]
      .filter((reference) => known.get(reference) !== "paid")
      .map((it) => `the payment of ${it} is lost`),
    ...orders
      .filter(({ state, session }) => (state === "paid") !== (session === "paid"))
      .map(({ reference, state, session }) => `${reference} is ${state}, its session ${session}`),
  ];
}

/** Of every paid order: one work order to the maker, one mail to the customer, one event; each arrived. */
function faultsOfMessages(
  orders: readonly { id: string; reference: string; state: string }[],
  messages: readonly MessageRow[],
  arrived: ReadonlyMap<string, number>,
): string[] {
  const counted = new Map<string, number>();
  for (const { order_id: order, kind, purpose, to_whom: to } of messages) {
    const key = [order, kind, purpose, to].join(" ");
    counted.set(key, (counted.get(key) ?? 0) + 1);
  }
  const wanted = ["mail order.paid maker", "mail order.paid customer", "event order.paid "];
  return [
    ...orders.flatMap(({ id, reference, state }) =>
      wanted.flatMap((what) => {
        const times = counted.get(`${id} ${what}`) ?? 0;
        return times === (state === "paid" ? 1 : 0)
          ? []
          : [`${reference}, which is ${state}, has ${times} x ${what}`];
      }),
    ),
    ...messages
      .filter(({ id, state }) => state !== "sent" || !arrived.has(id))
      .map(
        ({ id, state, purpose }) =>
          `${purpose} ${id} is ${state} and arrived ${arrived.get(id) ?? 0} x`,
      ),
  ];
}
