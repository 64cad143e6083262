/**
 * The real server, killed at moments nobody chose while customers order and pay, and started again on the same file;
 * and what must be so afterwards. Nothing here is simulated but the customers, the host shop and the mail provider.
 */
import SQLite from "better-sqlite3";
import { createServer } from "node:http";
import { setTimeout as wait } from "node:timers/promises";
import type { OrderAnswer, QuoteAnswer } from "#core/wire.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { eventEndpointsIn } from "#service/storage/event-endpoints.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { type RunningService, runService } from "../helpers/running-shop.ts";
import { MIGRATIONS, aQuoteRequest, freshFile } from "../helpers/shop.ts";
import { SECRET, SHOP, startReceiver } from "../service/messages/a-told-shop.ts";
import { type Aftermath, settleAll } from "./aftermath.ts";

/** Customers who order at once. */
const CUSTOMERS = 6;
/** The server dies this long after it began to be busy, at most [ms] */
const LIFE_MOST_MS = 500;
/** This part of the lives end without waiting for the first order. */
const EARLY_PART = 0.1;

export interface Kills extends Aftermath {
  readonly moments: number;
  /** Orders and payments that were answered before the server died. */
  readonly answeredOrders: number;
  readonly answeredPayments: number;
  /** Requests that had no answer. */
  readonly cutOff: number;
  /** From the start of the process to its first answer, the median [ms] */
  readonly restartMs: number;
}

/**
 * @param random numbers from 0 to 1
 * @param tell is told how many moments are over
 */
export async function killAgainAndAgain(
  moments: number,
  random: () => number,
  tell: (over: number) => void = () => undefined,
): Promise<Kills> {
  const receiver = await startReceiver();
  const database = freshFile();
  const db = openNodeDatabase(database, MIGRATIONS);
  await seedDemo(db, Math.floor(Date.now() / 1000));
  const address = { url: receiver.url, secret: SECRET };
  await eventEndpointsIn(db).add({ id: "host", shopId: SHOP, createdAt: 0, ...address });
  db.close();
  const mail = `${receiver.url}?mail`;
  const environment = {
    ...{ PORT: String(await freePort(random)), SOFTSET_EVENTS_TO_LOOPBACK: "yes" },
    ...{ SOFTSET_MAIL_URL: mail, SOFTSET_MAIL_KEY: "hush" },
    ...{ SOFTSET_MAIL_FROM: "post@quillfen.example", SOFTSET_MAIL_TO: "bench@quillfen.example" },
  };
  const load = { placed: new Set<string>(), paid: new Set<string>(), cutOff: 0 };
  const starts: number[] = [];
  for (let moment = 0; moment < moments; moment++) {
    const began = performance.now();
    const service = await runService(environment, database);
    starts.push(performance.now() - began);
    checkFile(database);
    const life = new Life();
    const customers = Array.from({ length: CUSTOMERS }, () => shopOn(service, load, life));
    // Now and then before anything was bought, else while it goes on.
    if (random() >= EARLY_PART) await life.busy;
    await wait(random() * LIFE_MOST_MS);
    life.isOver = true;
    await service.kill();
    await Promise.all(customers);
    tell(moment + 1);
  }
  const aftermath = await settleAll(database, receiver, load);
  checkFile(database);
  await receiver.close();
  return {
    ...aftermath,
    ...{ moments, answeredOrders: load.placed.size, answeredPayments: load.paid.size },
    cutOff: load.cutOff,
    restartMs: starts.sort((one, other) => one - other)[Math.floor(starts.length / 2)]!,
  };
}

interface Load {
  /** References of orders that were answered, and of those whose payment was. */
  readonly placed: Set<string>;
  readonly paid: Set<string>;
  cutOff: number;
}

/** From one start of the server to its end. */
class Life {
  isOver = false;
  begin: () => void = () => undefined;
  /** Resolved when the first order was answered. */
  readonly busy = new Promise<void>((begun) => {
    this.begin = begun;
  });
}

/** A customer who orders and pays, over and over, until the server is gone. */
async function shopOn({ url }: RunningService, load: Load, life: Life): Promise<void> {
  const json = { "content-type": "application/json" };
  const post = (to: string, body: BodyInit, headers: Record<string, string>) =>
    fetch(to, { method: "POST", body, headers, redirect: "manual" });
  try {
    for (;;) {
      const quoted = await post(`${url}/v1/quotes`, JSON.stringify(aQuoteRequest()), json);
      const { token } = (await quoted.json()) as QuoteAnswer;
      const answer = await post(`${url}/v1/orders`, JSON.stringify({ quote: token }), json);
      const order = (await answer.json()) as OrderAnswer;
      load.placed.add(order.reference);
      life.begin();
      const who = new URLSearchParams({ name: "Linde", email: "linde@customer.example" });
      const paid = await post(`${order.payUrl}/pay`, who, { "sec-fetch-site": "same-origin" });
      if (paid.status !== 303) throw new Error(`paying was answered with ${paid.status}`);
      load.paid.add(order.reference);
    }
  } catch (error) {
    // An error while the server lives is a fault of the server.
    if (!life.isOver) throw error;
    load.cutOff += 1;
  }
}

function checkFile(database: string): void {
  const sqlite = new SQLite(database, { readonly: true });
  const integrity = sqlite.pragma("integrity_check", { simple: true });
  const broken = sqlite.pragma("foreign_key_check") as unknown[];
  sqlite.close();
  if (integrity !== "ok" || broken.length > 0) {
    throw new Error(
      `the file is damaged: ${String(integrity)}, ${broken.length} broken references`,
    );
  }
}

/**
 * A port nobody listens on, below those the system draws for connections: one of these could be in use by somebody's
 * call at the very moment the server starts again.
 */
async function freePort(random: () => number): Promise<number> {
  for (;;) {
    const port = 20_000 + Math.floor(random() * 10_000);
    const server = createServer();
    const isFree = await new Promise<boolean>((found) => {
      server.once("error", () => found(false));
      server.listen(port, "127.0.0.1", () => server.close(() => found(true)));
    });
    if (isFree) return port;
  }
}
