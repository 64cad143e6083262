/**
 * A shop in a world of its own: virtual time, the stand-in for the payment service, a host shop, a mail provider, and
 * a database that can fail at any call. Nothing leaves memory, so that a whole order takes some milliseconds.
 */
import { sql } from "drizzle-orm";
import { offersOf } from "#service/actions/offer.ts";
import { createApp } from "#service/app.ts";
import { openShop } from "#service/ports.ts";
import { makeKeys, makeSeals } from "#service/seals.ts";
import { shops } from "#data/schema.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { createStripeTill } from "#service/tills/stripe.ts";
import { WAYS } from "../helpers/paid-shop.ts";
import { MIGRATIONS } from "../helpers/shop.ts";
import { SERVER_KEY, type StripeStandIn, makeStripeStandIn } from "../helpers/stripe-stand-in.ts";
import type { SessionRecord } from "../helpers/stripe-session-record.ts";
import { clientOf } from "./direct-client.ts";
import { Others } from "./others.ts";
import { Process } from "./process.ts";
import { countingNumbers, rememberingSeals } from "./seeded.ts";
import { troubledDatabase } from "./troubled-database.ts";
import { troubledEvents, troubledMail, troubledTill } from "./troubled-ports.ts";

export const SHOP = "quillfen";
export const HOOK_SECRET = "whsec_ofTheSimulator";
const EVENT_SECRET = `whsec_${Buffer.from("a secret of thirty-two bytes, or").toString("base64")}`;
/** When every simulated day begins: 1 June 2026, noon, UTC. */
const BEGINNING_S = Date.UTC(2026, 5, 1, 12) / 1000;

export type World = Awaited<ReturnType<typeof makeWorld>>;

export async function makeWorld() {
  let seconds = BEGINNING_S;
  const numbers = countingNumbers();
  const now = () => seconds;
  const db = openNodeDatabase(":memory:", MIGRATIONS);
  await seedDemo(db, BEGINNING_S);
  const process = new Process();
  const others = new Others(EVENT_SECRET);
  let standIn: StripeStandIn = makeStripeStandIn({ now });
  const till = createStripeTill(
    { secretKey: SERVER_KEY, webhookSecrets: [HOOK_SECRET] },
    () => new Date(seconds * 1000),
    clientOf(() => standIn),
  );
  let keptAt = { seconds, numbers: 0, sessions: [] as SessionRecord[] };
  const logged: Readonly<Record<string, unknown>>[] = [];
  const ports = {
    ...{ numbers, seals: rememberingSeals(await makeSeals(await makeKeys())) },
    url: "https://shop.example",
    ...{ practice: undefined, clock: { seconds: now }, asset: async () => undefined },
    log: (line: Readonly<Record<string, unknown>>) => void logged.push(line),
  };
  const calm = openShop({
    ...{ ...ports, db, till },
    senders: { mail: others.mail, events: others.hostShop },
  });
  const shop = openShop({
    ...{ ...ports, db: troubledDatabase(db, process), till: troubledTill(till, process) },
    senders: {
      mail: troubledMail(others.mail, process),
      events: troubledEvents(others.hostShop, process),
    },
  });
  const [row] = await db.q.select().from(shops);
  const particulars = JSON.stringify({ ...(JSON.parse(row!.particulars) as object), ...WAYS });
  await db.q.update(shops).set({ particulars });
  await calm.eventEndpoints.add({
    ...{ id: "host", shopId: SHOP, secret: EVENT_SECRET, createdAt: BEGINNING_S },
    url: "https://host.example/events",
  });

  return {
    ...{ db, process, others, logged },
    /** The shop whose every call can fail, and the same one when all is well. */
    ...{ shop, calm },
    app: createApp(shop),
    /** What is for sale, made ready once. */
    offers: offersOf(calm),
    stripe: () => standIn,
    now,
    pass: (by: number) => {
      seconds += by;
    },
    /** From here on everything can be undone by `rewind`. */
    keep: async () => {
      await db.q.run(sql`begin`);
      keptAt = { seconds, numbers: numbers.at(), sessions: [...standIn.sessions.values()] };
    },
    /** Back to where `keep` was called; the payment service has the sessions that were open then, as they were. */
    rewind: async () => {
      await db.q.run(sql`rollback`);
      seconds = keptAt.seconds;
      numbers.restart(keptAt.numbers);
      standIn = makeStripeStandIn({ now });
      for (const session of keptAt.sessions) {
        session.reset();
        standIn.sessions.set(session.id, session);
      }
      others.reset();
      process.start();
      logged.length = 0;
    },
    close: () => db.close(),
  };
}
