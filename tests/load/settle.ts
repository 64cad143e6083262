/**
 * After the server has stopped: the shop goes on with its clock later and nothing in its way. It does by itself what
 * faults left over, sends what still waits, and the bench makes what is paid.
 */
import { issueBatch } from "#service/actions/issue-batch.ts";
import { reconcile } from "#service/actions/reconcile.ts";
import { groupByBase, withQuote } from "#service/batches/groups.ts";
import { ORDERS_MOST } from "#service/batches/plan.ts";
import { deliverDue } from "#service/messages/deliver.ts";
import { createEventSender } from "#service/messages/event-sender-node.ts";
import { createSmtpMail } from "#service/messages/mail-smtp.ts";
import { randomNumbers, systemClock } from "#service/numbers.ts";
import { keptKeys } from "#service/operations/kept-keys.ts";
import { type Shop, openShop } from "#service/ports.ts";
import { makeSeals } from "#service/seals.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { practiceSessionsIn } from "#service/storage/practice-sessions.ts";
import { type TillSettings, chooseTill } from "#service/tills/choose-till.ts";
import { SHOP } from "./shop-file.ts";

/** Whatever was under way when the server stopped is nobody's any more by then [s] */
const LATER_S = 600;
/** Attempts that come hours apart come one after the other. */
const HOUR_S = 3600;
const HOURS_MOST = 12;
const SENT_AT_ONCE = 50;
const ALL = 1_000_000;

export interface Left {
  readonly database: string;
  readonly migrations: string;
  readonly url: string;
  readonly till: TillSettings;
  readonly mailUrl: string;
}

export async function settleAll({ database, migrations, url, till, mailUrl }: Left): Promise<void> {
  const db = openNodeDatabase(database, migrations);
  let later = LATER_S;
  const clock = { seconds: () => systemClock.seconds() + later };
  const now = () => new Date(clock.seconds() * 1000);
  const email = { name: "", email: "post@quillfen.example" };
  const by = { kind: "smtp" as const, url: mailUrl };
  const shop = openShop({
    ...{ db, clock, url, practice: undefined, numbers: randomNumbers },
    till: chooseTill(till, { sessions: practiceSessionsIn(db), baseUrl: url, now }),
    senders: {
      mail: createSmtpMail({ from: email, maker: email, by }, by),
      events: createEventSender(true),
    },
    seals: await makeSeals(await keptKeys(database)),
    asset: async () => undefined,
    log: (line) => console.error(JSON.stringify(line)),
  });
  await reconcile(shop, ALL);
  await makeAll(shop);
  for (let hours = 0; hours < HOURS_MOST; hours++) {
    await sendAll(shop);
    if ((await shop.messages.count(SHOP, "waiting")) === 0) break;
    later += HOUR_S;
  }
  db.close();
}

/** A batch for every base, as long as anything waits. */
async function makeAll(shop: Shop): Promise<void> {
  const owner = (await shop.shops.byId(SHOP))!;
  const waiting = await shop.orders.waiting(SHOP, ALL);
  for (const { blends } of groupByBase(waiting.map((row) => withQuote(row)))) {
    const ids = blends.flatMap(({ orders }) => orders.map(({ order }) => order.id));
    for (let from = 0; from < ids.length; from += ORDERS_MOST) {
      const orderIds = ids.slice(from, from + ORDERS_MOST);
      await issueBatch(shop, owner, { orderIds, personId: null, goShort: true });
    }
  }
}

async function sendAll(shop: Shop): Promise<void> {
  for (;;) {
    const { taken } = await deliverDue(shop, { most: SENT_AT_ONCE });
    if (taken === 0) return;
  }
}
