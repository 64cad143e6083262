/**
 * The Stripe till when calls fail, are refused, or end in doubt: one session, one key, nothing
 * lost.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { STRIPE_RETRIES, STRIPE_TIMEOUT_MS } from "#service/tills/stripe.ts";
import { TillKeySpent, TillUnavailable } from "#service/tills/till.ts";
import type { Fault } from "../../helpers/stripe-answers.ts";
import { startStripeServer, type StripeServer } from "../../helpers/stripe-server.ts";
import { openStripeTill as openTill } from "./stripe-till.fixture.ts";
import { expectRefusal, makeCharge } from "./till.contract.ts";

let server: StripeServer;
beforeEach(async () => {
  server = await startStripeServer();
});
afterEach(() => server.close());

/** Ids of the sessions found for one order. */
async function sessionsOf(till: ReturnType<typeof openTill>, orderId: string, since = new Date()) {
  const found = await till.findSessions([{ orderId, idempotencyKey: "unused" }], since);
  return found.get(orderId) ?? [];
}

async function expectUnavailable(promise: Promise<unknown>): Promise<TillUnavailable> {
  const error = await promise.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(TillUnavailable);
  return error as TillUnavailable;
}

describe("a Stripe till whose calls fail once", () => {
  it.concurrent.each<Fault>(["drop-before", "drop-after", "html-502", "500", "409", "429-retry"])(
    "opens one session in spite of %s",
    async (fault) => {
      const own = await startStripeServer();
      own.failNext(fault);
      const session = await openTill(own).open(makeCharge());
      expect(own.seen).toHaveLength(2);
      expect(new Set(own.seen.map(({ headers }) => headers["idempotency-key"])).size).toBe(1);
      expect([...own.sessions.keys()]).toEqual([session.id]);
      await own.close();
    },
  );

  it.each<Fault>(["cut-after", "sever-after"])(
    "does not know the outcome of %s, and finds the same session when asked again",
    async (fault) => {
      const till = openTill(server);
      const charge = makeCharge();
      server.failNext(fault);
      await expectUnavailable(till.open(charge));
      expect(server.seen).toHaveLength(1);
      const session = await till.open(charge);
      expect([...server.sessions.keys()]).toEqual([session.id]);
    },
  );

  it("is told to wait by 429 and does not press on", async () => {
    server.failNext("429");
    const error = await expectUnavailable(openTill(server).open(makeCharge()));
    expect(error.retryAfterS).toBe(7);
    expect(server.seen).toHaveLength(1);
    expect(server.sessions.size).toBe(0);
  });

  it("does not repeat a failure that the service keeps under the key", async () => {
    const till = openTill(server);
    server.failNext("500-kept");
    await expectUnavailable(till.open(makeCharge()));
    expect(server.seen).toHaveLength(1);
    // The failure that comes back says that it always will.
    expect(await expectUnavailable(till.open(makeCharge()))).toBeInstanceOf(TillKeySpent);
    await till.open(makeCharge({ idempotencyKey: "ord_7h2k9.2" }));
    expect(server.sessions.size).toBe(1);
  });
});

describe.concurrent("a Stripe till whose calls keep failing", () => {
  it.each<Fault>(["drop-before", "drop-after", "html-502", "500", "409"])(
    "gives up after three of %s, and opens one session later",
    async (fault) => {
      const own = await startStripeServer();
      const till = openTill(own);
      const charge = makeCharge();
      own.failNext(fault, fault, fault);
      await expectUnavailable(till.open(charge));
      const session = await till.open(charge);
      expect(own.seen).toHaveLength(4);
      expect([...own.sessions.keys()]).toEqual([session.id]);
      await own.close();
    },
  );

  it.each<Fault>(["hang-before", "hang-after"])("gives up on %s in time", async (fault) => {
    const own = await startStripeServer();
    const charge = makeCharge();
    own.failNext(fault, fault, fault);
    const startedAt = performance.now();
    await expectUnavailable(openTill(own, { timeoutMs: 200 }).open(charge));
    // Three tries, and the SDK's two pauses of at most 0.5 s and 1 s.
    expect(performance.now() - startedAt).toBeLessThan(3 * 200 + 1500 + 2000);
    expect(own.seen).toHaveLength(3);
    const session = await openTill(own).open(charge);
    expect([...own.sessions.keys()]).toEqual([session.id]);
    await own.close();
  });

  it("would give up within 25 s with its own time limit", () => {
    expect(STRIPE_TIMEOUT_MS).toBeLessThanOrEqual(10_000);
    expect(STRIPE_TIMEOUT_MS * (STRIPE_RETRIES + 1) + 1500).toBeLessThan(25_000);
  });

  it("cannot reach a service that is not there", async () => {
    const own = await startStripeServer();
    await own.close();
    await expectUnavailable(openTill(own).open(makeCharge()));
    await expectUnavailable(openTill(own).read("cs_test_1"));
  });
});

describe("a Stripe till that is refused", () => {
  it("asks the operator, and never tells the key, when the key is revoked", async () => {
    const secretKey = "sk_test_51RevokedKeyThatMustNeverBeLogged";
    const till = openTill(server, { secretKey });
    const calls = [
      () => till.open(makeCharge()),
      () => till.read("cs_test_1"),
      () => sessionsOf(till, "ord_7h2k9"),
    ];
    for (const call of calls) {
      const error = await expectRefusal(call(), "payment.till.unauthorised");
      expect(error.cause).toBeUndefined();
      const told = `${error.stack} ${JSON.stringify(error)}`;
      expect(told).not.toMatch(/sk_test|gged|Invalid API Key/);
    }
  });

  it("calls a charge too small for the account what it is", async () => {
    const charge = makeCharge({ currency: "KES", unitAmountMinor: 1 });
    const error = await expectRefusal(openTill(server).open(charge), "payment.charge.invalid");
    expect(error.message).toContain("amount_too_small");
    expect(server.sessions.size).toBe(0);
  });
});

describe("looking up the sessions of an order", () => {
  it("finds all of them and nothing else, newest first, over several pages", async () => {
    const till = openTill(server);
    const first = await till.open(makeCharge({ idempotencyKey: "first" }));
    const others = Array.from({ length: 120 }, (_, index) =>
      till.open(makeCharge({ orderId: `ord_${index}`, idempotencyKey: `other.${index}` })),
    );
    await Promise.all(others);
    const last = await till.open(makeCharge({ idempotencyKey: "last" }));
    expect(await sessionsOf(till, "ord_7h2k9")).toEqual([last.id, first.id]);
    expect(await sessionsOf(till, "ord_unknown")).toEqual([]);
  });

  it.each([
    [-24 * 3600 - 400, []],
    [-24 * 3600, ["it"]],
    [0, ["it"]],
    [400, []],
  ])("searches the day from %i s from now", async (offsetS, found) => {
    const till = openTill(server);
    const { id } = await till.open(makeCharge());
    const since = new Date(Date.now() + offsetS * 1000);
    const expected = found.map(() => id);
    expect(await sessionsOf(till, "ord_7h2k9", since)).toEqual(expected);
  });

  it("does not take a failed look-up for an empty one", async () => {
    server.failNext("429");
    await expectUnavailable(sessionsOf(openTill(server), "ord_7h2k9"));
  });

  it("shows whether a kept failure had opened a session, before another key is used", async () => {
    const till = openTill(server);
    server.failNext("500-kept");
    await expectUnavailable(till.open(makeCharge()));
    expect(await sessionsOf(till, "ord_7h2k9")).toEqual([]);
    server.failNext("cut-after");
    await expectUnavailable(till.open(makeCharge({ idempotencyKey: "ord_7h2k9.2" })));
    expect(await sessionsOf(till, "ord_7h2k9")).toEqual([...server.sessions.keys()]);
  });
});
