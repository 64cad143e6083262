/**
 * What every till must do, whichever adapter stands behind it.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { type Charge, type Till, TillRefusal, type TillRefusalCode } from "#service/tills/till.ts";

export interface TillUnderTest {
  readonly till: Till;
  /** How many sessions exist behind the till. */
  count(): number;
  pay(id: string): Promise<unknown>;
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
