/**
 * A crash at every call to the database, before it and after it: everything is delivered at least once all the same,
 * under one id, and marked in the end.
 */
import { afterAll, beforeAll, expect, it } from "vitest";
import { deliverDue } from "#service/messages/deliver.ts";
import type { MailSender } from "#service/messages/senders.ts";
import type { Shop } from "#service/ports.ts";
import { openToldShop, startReceiver } from "./a-told-shop.ts";

const LEASE_S = 120;
const CALLS_MOST = 60;

class Crash extends Error {}

type When = "before" | "after";

/** The shop, with one call to its database that crashes; `calls` counts them. */
function crashing(shop: Shop, at: number, when: When) {
  let calls = 0;
  async function call<Answer>(work: () => Promise<Answer>): Promise<Answer> {
    calls += 1;
    const crashes = calls === at;
    if (crashes && when === "before") throw new Crash();
    const answer = await work();
    if (crashes) throw new Crash();
    return answer;
  }
  /** Every method of a store that asks the database is asynchronous, and asks it once. */
  const counted = <Store extends object>(store: Store): Store =>
    new Proxy(store, {
      get: (target, name) => {
        const method = Reflect.get(target, name) as unknown;
        if (typeof method !== "function" || method.constructor.name !== "AsyncFunction")
          return method;
        return (...values: unknown[]) => call(() => method(...values) as Promise<unknown>);
      },
    });
  const { db, messages, eventEndpoints, shops, orders } = shop;
  return {
    calls: () => calls,
    shop: {
      ...shop,
      db: { ...db, atomic: (list) => call(() => db.atomic(list)) },
      messages: counted(messages),
      eventEndpoints: counted(eventEndpoints),
      shops: counted(shops),
      orders: counted(orders),
    } satisfies Shop,
  };
}

let receiver: Awaited<ReturnType<typeof startReceiver>>;
let test: Awaited<ReturnType<typeof openToldShop>>;
let mailed: string[];

beforeAll(async () => {
  receiver = await startReceiver();
  mailed = [];
  const mail: MailSender = {
    from: { name: "", email: "post@quillfen.example" },
    maker: { name: "", email: "bench@quillfen.example" },
    send: async ({ id }) => void mailed.push(id),
  };
  test = await openToldShop(mail);
  await test.listen(receiver.url);
});
afterAll(async () => {
  test.close();
  await receiver.close();
});

/** Write two events and two mails, crash once while they go out, and go on after a restart. */
async function crashAt(at: number, when: When): Promise<boolean> {
  const id = await test.place();
  await test.pay(id);
  const faulty = crashing(test.shop, at, when);
  await deliverDue(faulty.shop).catch((error: unknown) => expect(error).toBeInstanceOf(Crash));
  test.pass(LEASE_S + 10);
  await deliverDue(test.shop);
  const rows = (await test.told()).filter(({ orderId }) => orderId === id);
  expect(rows).toHaveLength(4);
  const arrived = [...mailed, ...receiver.received.map(({ headers }) => headers["webhook-id"])];
  for (const { id: message, state, takenUntil } of rows) {
    expect([state, takenUntil]).toEqual(["sent", null]);
    const times = arrived.filter((each) => each === message).length;
    expect(times, `${message} when crashing ${when} call ${at}`).toBeGreaterThanOrEqual(1);
    expect(times).toBeLessThanOrEqual(2);
  }
  return faulty.calls() >= at;
}

it.each(["before", "after"] as const)("loses nothing when it crashes %s any call", async (when) => {
  let at = 1;
  while (await crashAt(at, when)) {
    at += 1;
    expect(at).toBeLessThan(CALLS_MOST);
  }
  // Taking, addresses, and for each mail the shop, the order and the mark.
  expect(at).toBeGreaterThan(9);
});

it("takes for one sender alone, until its time is over", async () => {
  const id = await test.place();
  const now = test.shop.clock.seconds();
  const takes = await Promise.all(
    [1, 2, 3].map(() => test.shop.messages.take(["event", "mail"], now, now + LEASE_S, 10)),
  );
  expect(takes.flat().map(({ orderId }) => orderId)).toEqual([id]);
  expect(
    await test.shop.messages.take(["event"], now + LEASE_S, now + 2 * LEASE_S, 10),
  ).toHaveLength(1);
});

it("stays under what the edge allows a request, however many are due", async () => {
  for (let n = 0; n < 8; n++) await test.pay(await test.place());
  test.pass(3 * LEASE_S);
  const faulty = crashing(test.shop, Number.POSITIVE_INFINITY, "before");
  const { taken } = await deliverDue(faulty.shop);
  expect(taken).toBeGreaterThan(4);
  expect(faulty.calls()).toBeLessThanOrEqual(50);
});
