/**
 * The payment service's signed events, 200 a second at moments drawn by chance, each of them the news of a payment that
 * the shop has yet to hear of: signature, inbox, question to the till, order paid, tellings written.
 *
 * The till is the stand-in of the tests, in this process, so its answers take of the same processors. Times count from
 * the moment an event was due.
 */
import SQLite from "better-sqlite3";
import { chanceFrom } from "#core/order/room/sequence.ts";
import { exponential } from "../helpers/exponential.ts";
import { signEvent } from "../helpers/sign-event.ts";
import { type StripeServer, startStripeServer } from "../helpers/stripe-server.ts";
import { type Figure, figure, sayNumber, under } from "./figures.ts";
import type { Options } from "./options.ts";
import { type Sent, load, startBare, startService } from "./processes.ts";
import { placed } from "./service-acts.ts";

const PER_SECOND = 200;
const SECRET = "whsec_ofTheBench";
/** So many are heard before the clock runs. */
const WARM_UP = 100;

/** How soon news of a payment is answered [ms] */
export async function webhookSpeed({ isQuick }: Options): Promise<Figure[]> {
  const events = PER_SECOND * (isQuick ? 1 : 10);
  const stripe = await startStripeServer();
  const { secretKey, host, port } = stripe.settings;
  const service = await startService({
    STRIPE_SECRET_KEY: secretKey,
    STRIPE_WEBHOOK_SECRETS: SECRET,
    STRIPE_API: `http://${host}:${port}`,
  });
  const hono = await startBare("hono");
  try {
    const orders = await placed(service, WARM_UP + events);
    const sessions = orders.map(({ payUrl }) => payUrl!.split("/").at(-1)!);
    const news = await Promise.all(sessions.map((session) => paidNews(stripe, session)));
    const [first, rest] = [news.slice(0, WARM_UP), news.slice(WARM_UP)];
    const url = `${service.url}/v1/payment-events`;
    await load({ ...steadily(first), url });
    const limit = await load({ ...steadily(rest), url: `${hono.url}/bytes/100` });
    const { p50, p95, p99 } = await load({ ...steadily(rest), url });
    const count = paidOrders(service.database);
    if (count !== news.length) throw new Error(`${count} orders are paid of ${news.length}`);
    return [
      figure(`payment news answered, ${PER_SECOND}/s, p99`, p99, "ms", {
        more: `p50 ${sayNumber(p50)} ms, p95 ${sayNumber(p95)} ms`,
        beside: [figure("bare Hono, p99", limit.p99, "ms")],
        promise: under(p99, 20),
      }),
    ];
  } finally {
    await Promise.all([service.stop(), hono.stop(), stripe.close()]);
  }
}

async function paidNews(stripe: StripeServer, session: string): Promise<Sent> {
  stripe.markPaid(session);
  const about = stripe.sessions.get(session)!.toJson(false);
  const event = { id: `evt_${session}`, type: "checkout.session.completed", about };
  const { payload, header } = await signEvent(event, SECRET);
  return {
    headers: { "stripe-signature": header, "content-type": "application/json" },
    body: payload,
  };
}

/** Arrivals that know nothing of each other, the same in each run. */
function steadily(requests: readonly Sent[]) {
  const draw = chanceFrom(1);
  let at = 0;
  const atMs = requests.map(() => (at += exponential(draw, 1000 / PER_SECOND)));
  return { kind: "arrivals", method: "POST", requests, atMs } as const;
}

function paidOrders(database: string): number {
  const sqlite = new SQLite(database, { readonly: true });
  try {
    return sqlite
      .prepare<[], number>("select count(*) from orders where paid_at > 0")
      .pluck()
      .get()!;
  } finally {
    sqlite.close();
  }
}
