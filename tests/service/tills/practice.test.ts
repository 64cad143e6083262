/**
 * The practice till over a store in memory.
 */
import { beforeEach, describe, expect, it } from "vitest";
import {
  createPracticeTill,
  type PracticeCustomer,
  type PracticeSession,
  type PracticeSessions,
  type PracticeTill,
} from "#service/tills/practice.ts";
import { CARRIAGE, describeTill, expectRefusal, makeCharge } from "./till.contract.ts";

/** A store as the port describes it: the first of an id stays, and only an open session moves. */
function makeStore() {
  const kept = new Map<string, PracticeSession>();
  const sessions: PracticeSessions = {
    async insert(session) {
      if (!kept.has(session.id)) kept.set(session.id, session);
    },
    async find(id) {
      return kept.get(id);
    },
    async setState(id, state, customer) {
      const session = kept.get(id);
      if (session?.state !== "open") return;
      kept.set(id, { ...session, state, ...(customer ? { customer } : {}) });
    },
    async addRefund(id, before, refund) {
      const session = kept.get(id);
      if (!session || (session.refunds ?? []).length !== before.length) return false;
      kept.set(id, { ...session, refunds: [...before, refund] });
      return true;
    },
  };
  return { kept, sessions };
}

/** Somebody who chooses a way to send it, or from whom none is asked. */
function customerWho(carriage: number | undefined): PracticeCustomer | undefined {
  if (carriage === undefined) return undefined;
  const place = { city: "Ely", region: "", postcode: "CB7 4AA", country: "GB" };
  const deliverTo = { name: "Wren Fenner", lines: ["7 Fen Lane"], ...place };
  return { name: "Wren Fenner", email: "", carriage, deliverTo };
}

const BASE_URL = "http://127.0.0.1:8787";

describeTill("practice", async () => {
  const { kept, sessions } = makeStore();
  let now = new Date();
  const till = createPracticeTill({ sessions, baseUrl: BASE_URL, now: () => now });
  return {
    till,
    count: () => kept.size,
    pay: (id, carriage) => till.pay(id, customerWho(carriage)),
    expire: async () => {
      now = new Date(now.getTime() + 3_600_000);
    },
    close: async () => undefined,
  };
});

describe("the practice till", () => {
  let kept: Map<string, PracticeSession>;
  let till: PracticeTill;
  let now: Date;
  beforeEach(() => {
    const store = makeStore();
    kept = store.kept;
    now = new Date();
    till = createPracticeTill({ sessions: store.sessions, baseUrl: BASE_URL, now: () => now });
  });

  it("says what it is, and that its money is not real", async () => {
    const session = await till.open(makeCharge());
    expect(till.kind).toBe("practice");
    expect(till.live).toBe(false);
    expect(session.id).toMatch(/^practice_[0-9a-f]{32}$/);
    expect(session.url).toBe(`${BASE_URL}/till/${session.id}`);
  });

  it("shows on its page what is to be paid, and never the key", async () => {
    const { id } = await till.open(makeCharge({ description: "Meadow\nbase" }));
    const shown = await till.show(id);
    expect(shown).toMatchObject({ description: "Meadow base", reference: "Q-7H2K9", quantity: 2 });
    expect(JSON.stringify(shown)).not.toContain("ord_7h2k9.1");
  });

  it("leads who pays to the order, and is paid once however often they tap", async () => {
    const { id } = await till.open(makeCharge());
    const next = `https://shop.example/orders/ord_7h2k9?session=${id}`;
    expect(await till.pay(id)).toBe(next);
    expect(await till.pay(id)).toBe(next);
    expect(kept.get(id)?.state).toBe("paid");
  });

  it("leads a customer who walks away back to the basket", async () => {
    const { id } = await till.open(makeCharge());
    expect(await till.abandon(id)).toBe("https://shop.example/basket");
    expect(await till.read(id)).toMatchObject({ state: "expired" });
  });

  it("takes no payment for a session that was left, and leaves none that was paid", async () => {
    const { id: left } = await till.open(makeCharge());
    await till.abandon(left);
    await expectRefusal(till.pay(left), "payment.till.rejected");
    const { id: paid } = await till.open(makeCharge({ idempotencyKey: "other" }));
    await till.pay(paid);
    await expectRefusal(till.abandon(paid), "payment.till.rejected");
    expect(await till.read(paid)).toMatchObject({ state: "paid" });
  });

  it("lets one of two win when a session is paid and left at once", async () => {
    const { id } = await till.open(makeCharge());
    const ends = await Promise.allSettled([till.pay(id), till.abandon(id)]);
    expect(ends.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
  });

  it("takes payment up to its time and not from then on", async () => {
    const expiresAt = new Date(Math.floor(now.getTime() / 1000) * 1000 + 3_600_000);
    const { id } = await till.open(makeCharge({ expiresAt }));
    now = new Date(expiresAt.getTime() - 1);
    expect(await till.read(id)).toMatchObject({ state: "open" });
    now = expiresAt;
    expect(await till.read(id)).toMatchObject({ state: "expired", url: null });
    await expectRefusal(till.pay(id), "payment.till.rejected");
  });

  it("keeps a payment past its time", async () => {
    const { id } = await till.open(makeCharge());
    await till.pay(id);
    now = new Date(now.getTime() + 86_400_000);
    expect(await till.read(id)).toMatchObject({ state: "paid" });
  });

  it.each(["pay", "abandon"] as const)("cannot %s a session it does not know", async (verb) => {
    await expectRefusal(till[verb](`practice_${"0".repeat(32)}`), "payment.till.rejected");
  });

  it.each([
    ["no way to send it was chosen", { name: "", email: "" }],
    ["a way that was not offered", { ...customerWho(2)! }],
    [
      "a country the shop does not send to",
      { ...customerWho(0)!, deliverTo: { ...customerWho(0)!.deliverTo!, country: "FR" } },
    ],
  ])("takes no payment when %s", async (_, customer) => {
    const { id } = await till.open(makeCharge({ carriage: CARRIAGE }));
    await expectRefusal(till.pay(id, customer), "payment.till.rejected");
    expect(await till.read(id)).toMatchObject({ state: "open" });
  });

  it("says why it refuses", async () => {
    const { id } = await till.open(makeCharge({ carriage: CARRIAGE }));
    const why = async (work: Promise<unknown>) =>
      (await expectRefusal(work, "payment.till.rejected")).message;
    const refund = { sessionId: id, orderId: "ord_7h2k9", refundId: "own-1" };
    const back = (minor: number, idempotencyKey: string) =>
      till.refund({ ...refund, minor, idempotencyKey });
    expect(await why(back(1, "a"))).toBe(`session ${id} took no payment`);
    expect(await why(till.pay(id))).toBe("no way to send it was chosen");
    expect(await why(till.pay(id, { name: "", email: "", carriage: 0 }))).toBe(
      "the parcel would go to a country the shop does not send to",
    );
    expect(await why(till.pay(`practice_${"0".repeat(32)}`))).toBe("practice session is unknown");
    expect(await why(till.open(makeCharge({ quantity: 3 })))).toBe(
      "idempotency key used for another charge",
    );
    await till.pay(id, customerWho(1));
    expect(await why(till.abandon(id))).toBe("practice session is paid");
    // 2900 for the jars and 795 for the courier.
    for (const minor of [0, -1, Number.NaN, 3_696]) {
      expect(await why(back(minor, "b"))).toBe("more than what is left of the payment");
    }
    expect(await back(3_695, "c")).toEqual({
      ...{ id: "practice_own-1", ownId: "own-1", minor: 3_695, state: "done", fault: null },
    });
    expect(await why(back(3_694, "c"))).toBe("idempotency key used for another refund");
    expect(await till.read(id)).toMatchObject({ refundedMinor: 3_695, name: "Wren Fenner" });
  });

  it("has no news of its own, and no bank behind it", async () => {
    const { id } = await till.open(makeCharge());
    await till.pay(id, { name: "Wren", email: "wren@customer.example" });
    const session = (await till.read(id))!;
    expect(session).toMatchObject({ name: "Wren", email: "wren@customer.example" });
    expect(await till.disputes(session)).toEqual([]);
    expect(await till.undelivered(now)).toEqual([]);
    expect(await till.event("evt_1")).toBeUndefined();
    expect(await till.sessionOfPayment("pi_1")).toBeUndefined();
    const forged = await expectRefusal(till.readEvent("{}", "t=1"), "payment.signature.invalid");
    expect(forged.message).toBe("the practice till has no events");
  });

  it("finds its session again in a store that keeps whole seconds only", async () => {
    const charge = makeCharge({ expiresAt: new Date(now.getTime() + 3_600_999) });
    const { id } = await till.open(charge);
    const stored = kept.get(id);
    expect(stored?.expiresAt.getMilliseconds()).toBe(0);
    expect((await till.open(charge)).id).toBe(id);
  });
});
