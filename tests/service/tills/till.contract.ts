/**
 * What every till must do, whichever adapter stands behind it.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CarriageOffers, CarriageWay } from "#core/order/carriage.ts";
import { type Charge, type Till, TillRefusal, type TillRefusalCode } from "#service/tills/till.ts";

export interface TillUnderTest {
  readonly till: Till;
  /** How many sessions exist behind the till. */
  count(): number;
  /** @param way place of the way to send it among those offered */
  pay(id: string, way?: number): Promise<unknown>;
  expire(id: string): Promise<unknown>;
  close(): Promise<unknown>;
}

/** A charge in order in every way, open for an hour. */
export function makeCharge(changed: Partial<Charge> = {}): Charge {
  return {
    orderId: "ord_7h2k9",
    reference: "Q-7H2K9",
    description: "Meadow base, 120 ml jar",
    currency: "GBP",
    unitAmountMinor: 1450,
    quantity: 2,
    taxInclusive: true,
    expiresAt: new Date(Date.now() + 3_600_000),
    successUrl: "https://shop.example/orders/ord_7h2k9?session={CHECKOUT_SESSION_ID}",
    cancelUrl: "https://shop.example/basket",
    idempotencyKey: "ord_7h2k9.1",
    ...changed,
  };
}

/** Two ways to send it. */
export const CARRIAGE: CarriageOffers = {
  ways: [
    { name: "Post", minor: 395, days: { least: 2, most: 4 } },
    { name: "Courier", minor: 795 },
  ],
  countries: ["GB", "IE"],
};

function ways(...those: readonly CarriageWay[]): CarriageOffers {
  return { ways: those, countries: ["GB"] };
}

/** Expect a refusal with this code. */
export async function expectRefusal(promise: Promise<unknown>, code: TillRefusalCode) {
  const error = await promise.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(TillRefusal);
  expect((error as TillRefusal).code).toBe(code);
  return error as TillRefusal;
}

export function describeTill(name: string, start: () => Promise<TillUnderTest>): void {
  describe(`${name}, as a till`, () => {
    let subject: TillUnderTest;
    beforeEach(async () => {
      subject = await start();
    });
    afterEach(() => subject.close());

    it("opens a session that holds the order and its money", async () => {
      const session = await subject.till.open(makeCharge());
      expect(session).toMatchObject({
        state: "open",
        orderId: "ord_7h2k9",
        amountSubtotalMinor: 2900,
        amountTotalMinor: 2900,
        currency: "GBP",
        live: false,
        paymentId: null,
        carriageMinor: 0,
        carriageName: null,
        deliverTo: null,
        refundedMinor: 0,
        disputed: false,
        name: null,
        email: null,
      });
      expect(session.url).toMatch(new RegExp(`^https?://.+/${session.id}$`));
      expect(await subject.till.read(session.id)).toEqual(session);
    });

    it("opens one session however often the same charge is sent", async () => {
      const charge = makeCharge();
      const first = await subject.till.open(charge);
      const again = await subject.till.open(charge);
      expect(again.id).toBe(first.id);
      expect(again.url).toBe(first.url);
      expect(subject.count()).toBe(1);
    });

    it("opens one session for two taps at the same moment", async () => {
      const charge = makeCharge();
      const [one, other] = await Promise.all([
        subject.till.open(charge),
        subject.till.open(charge),
      ]);
      expect(other.id).toBe(one.id);
      expect(subject.count()).toBe(1);
    });

    it("charges tax on top as it was shown, and no more", async () => {
      const charge = makeCharge({ taxInclusive: false, taxMinor: 580 });
      const opened = await subject.till.open(charge);
      expect(opened).toMatchObject({ amountSubtotalMinor: 3480, amountTotalMinor: 3480 });
      expect(await subject.till.read(opened.id)).toMatchObject({ amountTotalMinor: 3480 });
      expect((await subject.till.open(charge)).id).toBe(opened.id);
    });

    it("charges carriage as the customer chose it, and is told where the parcel goes", async () => {
      const { id } = await subject.till.open(makeCharge({ carriage: CARRIAGE }));
      expect(await subject.till.read(id)).toMatchObject({
        amountTotalMinor: 2900,
        carriageMinor: 0,
      });
      await subject.pay(id, 1);
      expect(await subject.till.read(id)).toMatchObject({
        amountSubtotalMinor: 2900,
        amountTotalMinor: 3695,
        carriageMinor: 795,
        carriageName: "Courier",
        deliverTo: {
          name: "Wren Fenner",
          postcode: "CB7 4AA",
          country: "GB",
          lines: ["7 Fen Lane"],
        },
      });
    });

    it("gives money back once a key, and never more than was taken", async () => {
      const { id: sessionId } = await subject.till.open(makeCharge());
      const asked = { sessionId, orderId: "ord_7h2k9", refundId: "own-1", minor: 900 };
      await expectRefusal(
        subject.till.refund({ ...asked, idempotencyKey: "early" }),
        "payment.till.rejected",
      );
      await subject.pay(sessionId);
      const first = await subject.till.refund({ ...asked, idempotencyKey: "back.1" });
      expect(first).toMatchObject({ ownId: "own-1", minor: 900, state: "done", fault: null });
      expect(await subject.till.refund({ ...asked, idempotencyKey: "back.1" })).toEqual(first);
      const more = { ...asked, refundId: "own-2", minor: 2001, idempotencyKey: "back.2" };
      await expectRefusal(subject.till.refund(more), "payment.till.rejected");
      await subject.till.refund({ ...more, minor: 2000, idempotencyKey: "back.3" });
      const session = (await subject.till.read(sessionId))!;
      expect(session.refundedMinor).toBe(2900);
      const list = await subject.till.refunds(session);
      expect(list.map(({ ownId, minor }) => [ownId, minor])).toEqual([
        ["own-2", 2000],
        ["own-1", 900],
      ]);
      expect(await subject.till.disputes(session)).toEqual([]);
    });

    it("closes a session that is open, and leaves one that is over as it is", async () => {
      const { id } = await subject.till.open(makeCharge());
      await subject.till.close(id);
      await subject.till.close(id);
      expect(await subject.till.read(id)).toMatchObject({ state: "expired", url: null });
      const { id: paid } = await subject.till.open(makeCharge({ idempotencyKey: "other" }));
      await subject.pay(paid);
      await subject.till.close(paid);
      expect(await subject.till.read(paid)).toMatchObject({ state: "paid" });
    });

    it("finds the session of an order again by what was stored before the call", async () => {
      const { id } = await subject.till.open(makeCharge());
      const ours = { orderId: "ord_7h2k9", idempotencyKey: "ord_7h2k9.1" };
      const other = { orderId: "ord_other", idempotencyKey: "ord_other.1" };
      const found = await subject.till.findSessions([ours, other], new Date());
      expect([...found]).toEqual([["ord_7h2k9", [id]]]);
    });

    it("opens another session under another key", async () => {
      const first = await subject.till.open(makeCharge());
      const second = await subject.till.open(makeCharge({ idempotencyKey: "ord_7h2k9.2" }));
      expect(second.id).not.toBe(first.id);
      expect(subject.count()).toBe(2);
    });

    it.each<Partial<Charge>>([
      { unitAmountMinor: 1451 },
      { quantity: 3 },
      { currency: "EUR" },
      { orderId: "ord_other" },
      { taxInclusive: false },
      { taxInclusive: false, taxMinor: 580 },
      { carriage: CARRIAGE },
    ])("refuses a key that was used for another charge: %o", async (changed) => {
      const first = await subject.till.open(makeCharge());
      const other = subject.till.open(
        makeCharge({ expiresAt: makeCharge().expiresAt, ...changed }),
      );
      await expectRefusal(other, "payment.till.rejected");
      expect(await subject.till.read(first.id)).toMatchObject({ amountTotalMinor: 2900 });
      expect(subject.count()).toBe(1);
    });

    it.each<Partial<Charge>>([
      { unitAmountMinor: Number.NaN },
      { unitAmountMinor: 10.5 },
      { unitAmountMinor: -1 },
      { unitAmountMinor: -0 },
      { unitAmountMinor: 1e21 },
      { quantity: 0 },
      { taxMinor: 580 }, // the price holds it already
      { taxInclusive: false, taxMinor: 0 },
      { taxInclusive: false, taxMinor: 0.5 },
      { taxInclusive: false, taxMinor: 99_999_999 },
      { carriage: { ...CARRIAGE, ways: [] } },
      { carriage: { ...CARRIAGE, countries: [] } },
      { carriage: { ...CARRIAGE, countries: ["gb"] } },
      { carriage: ways({ name: "Post", minor: -1 }) },
      { carriage: ways({ name: "Post", minor: -0 }) },
      { carriage: ways({ name: "Post", minor: 0.5 }) },
      { carriage: ways({ name: "Post", minor: Number.NaN }) },
      { carriage: ways({ name: "Post", minor: 99_999_999 }) }, // the jars come on top
      { carriage: ways({ name: " ", minor: 1 }) },
      { carriage: ways({ name: "x".repeat(101), minor: 1 }) },
      { carriage: ways({ name: "Post", minor: 1 }, { name: "Post", minor: 2 }) },
      { carriage: ways({ name: "Post", minor: 1, days: { least: 3, most: 2 } }) },
      { carriage: ways(...["a", "b", "c", "d", "e", "f"].map((name) => ({ name, minor: 1 }))) },
      { currency: "gbp" },
      { currency: "XXX" },
      { idempotencyKey: "" },
      { idempotencyKey: "k".repeat(256) },
      { orderId: "ord é" },
      { orderId: "o".repeat(201) },
      { description: "\u0000\u202e " },
      { successUrl: "javascript:alert(1)" },
      { cancelUrl: "/basket" },
      { expiresAt: new Date(Date.now() - 1000) },
      { expiresAt: new Date(Date.now() + 25 * 3_600_000) },
      { expiresAt: new Date(Number.NaN) },
    ])("refuses a charge that cannot be taken and opens nothing: %o", async (changed) => {
      await expectRefusal(subject.till.open(makeCharge(changed)), "payment.charge.invalid");
      expect(subject.count()).toBe(0);
    });

    it("reads a paid session as paid, and leads nowhere from there", async () => {
      const { id } = await subject.till.open(makeCharge());
      await subject.pay(id);
      expect(await subject.till.read(id)).toMatchObject({ state: "paid", url: null });
    });

    it("reads an expired session as expired, and leads nowhere from there", async () => {
      const { id } = await subject.till.open(makeCharge());
      await subject.expire(id);
      expect(await subject.till.read(id)).toMatchObject({ state: "expired", url: null });
    });

    it.each([
      "",
      "cs_test_nothing",
      `practice_${"0".repeat(32)}`,
      "..",
      "cs_a/../b",
      "cs_%2e",
      "%",
    ])("knows no session called %j", async (id) => {
      expect(await subject.till.read(id)).toBeUndefined();
    });

    it.each([undefined, "", "t=1,v1=00", `t=${Math.floor(Date.now() / 1000)},v1=00`])(
      "refuses an event that is not signed: header %j",
      async (header) => {
        const body = '{"id":"evt_1","type":"checkout.session.completed","livemode":false}';
        await expectRefusal(subject.till.readEvent(body, header), "payment.signature.invalid");
      },
    );
  });
}
