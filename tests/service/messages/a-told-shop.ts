/**
 * A shop whose messages go out, for tests: orders as the till would pay them, and a receiver that answers as told.
 */
import { type IncomingMessage, type ServerResponse, createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { createEventSender } from "#service/messages/event-sender-node.ts";
import type { MailSender, Senders } from "#service/messages/senders.ts";
import type { MessageRow } from "#service/storage/messages.ts";
import { messages } from "#data/schema.ts";
import { asc } from "drizzle-orm";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

export const SHOP = "quillfen";
export const CUSTOMER = "linde@customer.example";

/** Events to this machine, mails wherever a test wants them. */
function sendersTo(mail?: MailSender): Senders {
  return { mail, events: createEventSender(true) };
}

export async function openToldShop(mail?: MailSender) {
  const test = await openTestShop({}, ":memory:", sendersTo(mail));
  return { ...test, ...tellingIn(test) };
}

/** What tests of messages do with a shop. */
function tellingIn(test: TestShop) {
  const { shop, post } = test;
  return {
    /** Place an order; its id. */
    place: async (): Promise<string> => {
      const { token } = await test.quote();
      const answer = await post("/v1/orders", { quote: token });
      const { reference } = (await answer.json()) as { reference: string };
      return (await shop.orders.byReference(SHOP, reference))!.id;
    },
    /** Pay it, as the till reports it. */
    pay: async (orderId: string, email: string | null = CUSTOMER): Promise<void> => {
      const at = shop.clock.seconds();
      const paid = { paidAt: at, customerEmail: email, customerName: "Linde" };
      await shop.orders.move({ orderId, to: "paid", at, who: "till", what: "paid", with: paid });
    },
    listen: async (url: string, id = "host-1", secret = SECRET): Promise<void> =>
      await shop.eventEndpoints.add({ id, shopId: SHOP, url, secret, createdAt: 0 }),
    /** All of the outbox, the oldest first. */
    told: async (): Promise<MessageRow[]> =>
      await test.db.q.select().from(messages).orderBy(asc(messages.createdAt), asc(messages.once)),
  };
}

export const SECRET = `whsec_${Buffer.from("a secret of thirty-two bytes, or").toString("base64")}`;

export interface Received {
  readonly headers: IncomingMessage["headers"];
  readonly body: string;
}

type Answer = (response: ServerResponse, request: IncomingMessage) => void;

/** A real HTTP server on this machine that keeps what it got and answers as the test says. */
export async function startReceiver(answer: Answer = (response) => response.end()) {
  const received: Received[] = [];
  let answering = answer;
  const server = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on("data", (chunk: Buffer) => chunks.push(chunk));
    request.on("end", () => {
      received.push({ headers: request.headers, body: Buffer.concat(chunks).toString() });
      answering(response, request);
    });
  });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}/events`,
    received,
    answerWith: (next: Answer) => {
      answering = next;
    },
    close: () => {
      server.closeAllConnections();
      return new Promise((closed) => server.close(closed));
    },
  };
}
