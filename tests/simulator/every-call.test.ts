/**
 * A whole purchase with one fault at each of its calls in turn: to the database, to the payment service, to the host
 * shop and to the mail server; before the call took effect and after it; the call alone, and the whole process with it.
 */
import type SQLite from "better-sqlite3";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { issueSignInLink } from "#service/actions/sign-in.ts";
import { deliverDue } from "#service/messages/deliver.ts";
import { checkArrived, checkMoney, checkState, checkTold, factsOf, holds, same } from "./checks.ts";
import type { Trouble } from "./process.ts";
import { LEASE_S, REFUND_MINOR, calmRound, purchase } from "./purchase.ts";
import { SHOP, type World, makeWorld } from "./world.ts";

/** A purchase with fewer calls would not be a whole one. */
const CALLS_LEAST = 80;
/** Rounds of the shop after the last call, each five minutes after the one before. */
const ROUNDS = 2;

let world: World;
let cookie: string;
/** Of a purchase in which nothing goes wrong. */
let callsOfAll: number;
beforeAll(async () => {
  world = await makeWorld();
  const link = await issueSignInLink(world.calm, SHOP);
  const headers = { "sec-fetch-site": "same-origin" };
  const entered = await world.app.request(link, { method: "POST", headers });
  cookie = entered.headers.get("set-cookie")!.split(";")[0]!;
  await play(); // what is for sale is made ready once
  callsOfAll = await play();
});
afterAll(() => world.close());

/** Play a purchase with a fault in it, then let all go well. @returns how many calls it made */
async function play(trouble?: Trouble): Promise<number> {
  await world.keep();
  try {
    world.process.start(trouble);
    const orderId = await purchase(world, cookie).run();
    const { calls } = world.process;
    world.process.start();
    for (let round = 0; round < ROUNDS; round++) {
      world.pass(300);
      await calmRound(world);
    }
    while ((await deliverDue(world.calm)).taken > 0) world.pass(LEASE_S);
    check(orderId);
    return calls;
  } finally {
    await world.rewind();
  }
}

function check(orderId: string): void {
  const facts = factsOf(world, orderId);
  checkMoney(world, facts, orderId);
  checkState(facts);
  checkTold(facts);
  checkArrived(world, facts);
  same("state", facts.order.state, "made");
  same("given back", facts.order.refunded_minor, REFUND_MINOR);
  holds("every event was worked through", facts.unsettled.length === 0);
  const sqlite = (world.db.q as unknown as { $client: SQLite.Database }).$client;
  const one = (text: string) => sqlite.prepare(text).pluck().get();
  same("orders", one("select count(*) from orders"), 1);
  same("batches", one("select count(*) from batches where state = 'made'"), 1);
  same("sheets that name the order", one(NAMED), 1);
  same("what left the shelf, once", one(LEFT), one(USED));
  same("broken references", sqlite.pragma("foreign_key_check"), []);
}

const NAMED = `select count(*) from batches, orders where instr(work_order, reference) > 0`;
const LEFT = `select -coalesce(sum(delta_mg), 0) from stock_movements where batch_id is not null`;
const USED = `select coalesce(sum(used_mg), 0) from batch_lots`;

describe("a whole purchase", () => {
  // That the process dies after a call is the same as that it dies before the next one.
  it.each([
    ["a call fails", "before", "fails"],
    ["a call fails and nobody hears that it had its effect", "after", "fails"],
    ["the process dies between two calls", "before", "dies"],
  ] as const)(
    "comes right when %s, whichever it is",
    async (_words, when, what) => {
      const faults: string[] = [];
      for (let at = 1; at <= callsOfAll; at++) {
        await play({ at, when, what }).catch((error: unknown) =>
          faults.push(`call ${at}: ${String(error).slice(0, 300)}`),
        );
      }
      expect(faults).toEqual([]);
      expect(callsOfAll).toBeGreaterThan(CALLS_LEAST);
    },
    300_000,
  );
});

/** What the edge lets one request ask of the database on the smallest plan: each statement of a list counts. */
const QUERIES_MOST = 50;

describe("each request of a purchase", () => {
  it("asks less of the database than the edge allows", async () => {
    const { db, process } = world;
    const { atomic } = db;
    let more = 0;
    Object.assign(db, {
      atomic: (list: Parameters<typeof atomic>[0]) => {
        more += list.length - 1; // the list itself is a call already
        return atomic(list);
      },
    });
    const asked = new Map<string, number>();
    const request = async (...what: Parameters<typeof world.app.request>) => {
      const before = process.calls + more;
      const answer = await world.app.request(...what);
      const [to, init] = what;
      const route = `${init?.method ?? "GET"} ${new URL(String(to)).pathname}`;
      asked.set(route, process.calls + more - before);
      return answer;
    };
    await world.keep();
    try {
      process.start();
      await purchase({ ...world, app: { ...world.app, request } as World["app"] }, cookie).run();
    } finally {
      Object.assign(db, { atomic });
      await world.rewind();
    }
    expect(asked.size).toBeGreaterThan(7);
    expect([...asked].filter(([, queries]) => queries > QUERIES_MOST)).toEqual([]);
    // A customer's own requests, which come in crowds, take far fewer.
    for (const path of ["/v1/quotes", "/v1/orders"]) {
      expect(asked.get(`POST ${path}`), path).toBeLessThanOrEqual(12);
    }
  });
});
