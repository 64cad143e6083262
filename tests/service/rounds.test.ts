/**
 * What the shop does by itself: each work in its turn by the clock, a fault in one no harm to the next, and on a
 * machine of its own a round a minute that no other overtakes.
 */
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from "vitest";
import { issueQuote } from "#service/actions/issue-quote.ts";
import { placeOrder } from "#service/actions/place-order.ts";
import { EDGE_ROUND, goRound, startRounds } from "#service/rounds.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import { SHOP, type World, makeWorld } from "../simulator/world.ts";

const MINUTE_S = 60;

let world: World;
let reference: string;
let session: string;
beforeAll(async () => {
  world = await makeWorld();
  const { token } = await issueQuote(world.calm, world.offers, aQuoteRequest());
  ({ reference } = (await placeOrder(world.calm, world.offers, token)).order);
  [session = ""] = world.stripe().sessions.keys();
});
afterAll(() => world.close());

/** Paid, with no news of it; noon of a day, five minutes after it was placed. */
beforeEach(async () => {
  await world.keep();
  world.stripe().markPaid(session);
  world.pass(5 * MINUTE_S);
});
afterEach(() => world.rewind());

const state = async () => (await world.calm.orders.byReference(SHOP, reference))!.state;

describe("a round", () => {
  it("asks for payments every fifth minute and in no other", async () => {
    for (let minute = 1; minute < 5; minute++) {
      world.pass(MINUTE_S);
      await goRound(world.calm, EDGE_ROUND);
      expect(await state()).toBe("placed");
    }
    world.pass(MINUTE_S);
    await goRound(world.calm, EDGE_ROUND);
    expect(await state()).toBe("paid");
  });

  it("that fails says so in the log, throws nothing, and comes again", async () => {
    world.process.start({ at: 1, when: "before", what: "fails" });
    await goRound(world.shop, EDGE_ROUND);
    expect(world.logged).toEqual([
      {
        note: "the round of payments failed and comes again",
        error: expect.stringContaining("disk") as string,
      },
    ]);
    await goRound(world.shop, EDGE_ROUND);
    expect(await state()).toBe("paid");
  });
});

describe("rounds of a running server", () => {
  beforeEach(() => void vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] }));
  afterEach(() => void vi.useRealTimers());

  /** A shop whose rounds take as long as the test says. */
  function slowShop() {
    const ends: (() => void)[] = [];
    const waiting = () => new Promise<never[]>((end) => ends.push(() => end([])));
    const shop = { ...world.calm, events: { ...world.calm.events, waiting } };
    return { shop, ends };
  }

  it("come once a minute, the first after a minute, until they are stopped", async () => {
    const { shop, ends } = slowShop();
    const stop = startRounds(shop);
    vi.advanceTimersByTime(59_999);
    expect(ends).toHaveLength(0);
    vi.advanceTimersByTime(1);
    expect(ends).toHaveLength(1);
    ends[0]!();
    await stop();
    vi.advanceTimersByTime(600_000);
    expect(ends).toHaveLength(1);
    expect(await state()).toBe("paid");
  });

  it("are not overtaken by the next, and stopping waits for the one under way", async () => {
    const { shop, ends } = slowShop();
    const stop = startRounds(shop);
    vi.advanceTimersByTime(240_000);
    expect(ends).toHaveLength(1);
    let isStopped = false;
    const stopped = stop().then(() => (isStopped = true));
    await Promise.resolve();
    expect(isStopped).toBe(false);
    ends[0]!();
    await stopped;
    expect(await state()).toBe("paid");
  });
});
