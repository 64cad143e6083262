/**
 * Messages at the edge, over D1: delivered after the answer, and by cron what was left over; mails by HTTP.
 */
import { afterEach, beforeEach, expect, it } from "vitest";
import type { OrderAnswer, QuoteAnswer } from "#core/wire.ts";
import type { ShopEnv } from "#service/worker-shop.ts";
import { type EdgeWorker, createWorker } from "#service/worker.ts";
import { makeKeys } from "#service/seals.ts";
import { openD1Database } from "#service/storage/d1-database.ts";
import { eventEndpointsIn } from "#service/storage/event-endpoints.ts";
import { type Messages, messagesIn } from "#service/storage/messages.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import { SECRET, SHOP, startReceiver } from "../service/messages/a-told-shop.ts";
import { migrate, startD1 } from "./local-d1.ts";

const URL_OF_SHOP = "https://shop.example";

let d1: Awaited<ReturnType<typeof startD1>>;
let receiver: Awaited<ReturnType<typeof startReceiver>>;
let worker: EdgeWorker;
let env: ShopEnv;
let messages: Messages;
let afterwards: Promise<unknown>[];

// A runtime for each try: the one that lost its connection under load never finds it again.
beforeEach(async () => {
  [d1, receiver] = await Promise.all([startD1(), startReceiver()]);
  await migrate(d1.raw);
  const db = openD1Database(d1.binding);
  await seedDemo(db, Math.floor(Date.now() / 1000));
  messages = messagesIn(db);
  const url = `${receiver.url}?event`;
  await eventEndpointsIn(db).add({ id: "h", shopId: SHOP, url, secret: SECRET, createdAt: 0 });
  env = {
    DB: d1.binding,
    ASSETS: { fetch: async () => new Response("none", { status: 404 }) },
    SOFTSET_KEYS: await makeKeys(),
    SOFTSET_URL: URL_OF_SHOP,
    SOFTSET_EVENTS_TO_LOOPBACK: "yes",
    SOFTSET_MAIL_URL: `${receiver.url}?mail`,
    SOFTSET_MAIL_KEY: "hush",
    SOFTSET_MAIL_FROM: "post@quillfen.example",
  };
  worker = createWorker(); // each test is an isolate of its own
});
afterEach(async () => {
  await Promise.all([d1.close(), receiver.close()]);
});

async function ask(path: string, init: RequestInit): Promise<Response> {
  afterwards = [];
  const context = { waitUntil: (work: Promise<unknown>) => void afterwards.push(work) };
  return await worker.fetch(new Request(`${URL_OF_SHOP}${path}`, init), env, context);
}

const post = async <Answer>(path: string, body: unknown): Promise<Answer> => {
  const headers = { "content-type": "application/json" };
  const answer = await ask(path, { method: "POST", headers, body: JSON.stringify(body) });
  if (!answer.ok) throw new Error(await answer.text());
  return (await answer.json()) as Answer;
};

it("messages at the edge go out after the answer, and what is left over goes by cron once it is due", async () => {
  const { token } = await post<QuoteAnswer>("/v1/quotes", aQuoteRequest());
  expect(afterwards).toHaveLength(0);
  const order = await post<OrderAnswer>("/v1/orders", { quote: token });
  expect(afterwards).toHaveLength(1);
  await Promise.all(afterwards);
  expect(receiver.received.map(({ body }) => (JSON.parse(body) as { type: string }).type)).toEqual([
    "order.placed",
  ]);

  receiver.answerWith((response) => response.writeHead(503).end());
  const fields = { name: "Linde", email: "linde@customer.example" };
  const paid = await ask(new URL(`${order.payUrl}/pay`).pathname, {
    method: "POST",
    headers: { "sec-fetch-site": "same-origin" },
    body: new URLSearchParams(fields),
  });
  expect(paid.status).toBe(303);
  await Promise.all(afterwards);
  expect(await messages.count(SHOP, "waiting")).toBe(3);

  receiver.answerWith((response) => response.end());
  const left = await messages.inState(SHOP, "waiting", 9);
  await Promise.all(left.map(({ id }) => messages.again(SHOP, id, 0)));
  receiver.received.length = 0;
  await worker.scheduled(undefined, env);
  expect(await messages.count(SHOP, "waiting")).toBe(0);
  expect(await messages.count(SHOP, "sent")).toBe(4);
  const mails = receiver.received.filter(
    ({ headers }) => headers["authorization"] === "Bearer hush",
  );
  const to = mails.map(({ body }) => (JSON.parse(body) as { to: { email: string } }).to.email);
  expect(to.sort()).toEqual(["linde@customer.example", "post@quillfen.example"]);
});
