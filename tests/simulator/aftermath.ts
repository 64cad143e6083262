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
import {
  type Answered,
  arrivedTwice,
  isPaid,
  lostOf,
  readBooks,
  untoldOf,
} from "../helpers/books.ts";
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

type Receiver = Awaited<ReturnType<typeof startReceiver>>;

export async function settleAll(
  database: string,
  receiver: Receiver,
  answered: Answered,
): Promise<Aftermath> {
  await goOn(database, receiver);
  const sqlite = new SQLite(database, { readonly: true });
  const books = readBooks(sqlite);
  const sessions = sqlite
    .prepare(
      `select reference, o.state, s.state session from orders o
        left join practice_sessions s on s.id = o.till_session_id`,
    )
    .all() as SessionRow[];
  sqlite.close();
  const arrived = arrivals(receiver);
  const { orders, messages } = books;
  return {
    ...{ orders: orders.length, paid: orders.filter(isPaid).length, messages: messages.length },
    arrivedTwice: arrivedTwice(books, arrived),
    faults: [
      ...lostOf(books, answered),
      ...sessions
        .filter(({ state, session }) => (state === "paid") !== (session === "paid"))
        .map(({ reference, state, session }) => `${reference} is ${state}, its session ${session}`),
      ...untoldOf(books, arrived),
    ],
  };
}

interface SessionRow {
  readonly reference: string;
  readonly state: string;
  /** The till's own word; nothing when there is no such session. */
  readonly session: string | null;
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
