/**
 * Signed events: what is let in, what is kept out, and what is read from them.
 */
import Stripe from "stripe";
import { describe, expect, it } from "vitest";
import { createStripeTill } from "#service/tills/stripe.ts";
import { signEvent } from "../../helpers/sign-event.ts";
import { expectRefusal } from "./till.contract.ts";

const NOW = new Date("2026-11-25T09:00:00.400Z");
const NOW_S = Math.floor(NOW.getTime() / 1000);
const SECRET = "whsec_current";

function receive(
  payload: string,
  header: string | undefined,
  secrets: readonly string[] = [SECRET],
) {
  const till = createStripeTill(
    { secretKey: "sk_test_1", webhookSecrets: secrets, protocol: "http", host: "127.0.0.1" },
    () => NOW,
  );
  return till.readEvent(payload, header);
}

const SESSION = {
  id: "cs_test_1",
  object: "checkout.session",
  client_reference_id: "ord_1",
  payment_intent: "pi_1",
};
const COMPLETED = { type: "checkout.session.completed", about: SESSION };

describe("a signed event", () => {
  it("is read when its signature is right", async () => {
    const { payload, header } = await signEvent(COMPLETED, SECRET, NOW_S);
    expect(await receive(payload, header)).toEqual({
      id: "evt_1",
      type: "checkout.session.completed",
      sessionId: "cs_test_1",
      orderId: "ord_1",
      paymentId: "pi_1",
      live: false,
    });
  });

  it.each([
    [-299, true],
    [-300, true],
    [-301, false],
    [299, true],
    [300, true],
    [302, false],
    [86_400, false],
  ])("signed %i s from now is let in: %s", async (offsetS, isLetIn) => {
    const { payload, header } = await signEvent(COMPLETED, SECRET, NOW_S + offsetS);
    if (isLetIn) expect((await receive(payload, header)).id).toBe("evt_1");
    else await expectRefusal(receive(payload, header), "payment.signature.invalid");
  });

  it("is refused without a header or a body", async () => {
    const { payload, header } = await signEvent(COMPLETED, SECRET, NOW_S);
    await expectRefusal(receive(payload, undefined), "payment.signature.invalid");
    await expectRefusal(receive(payload, ""), "payment.signature.invalid");
    await expectRefusal(receive("", header), "payment.signature.invalid");
  });

  it("that is refused says why, to whoever reads the log", async () => {
    const { payload, header } = await signEvent(COMPLETED, SECRET, NOW_S);
    const late = await signEvent(COMPLETED, SECRET, NOW_S + 302);
    const why = async (body: string, signed: string | undefined) =>
      (await expectRefusal(receive(body, signed), "payment.signature.invalid")).message;
    expect(await why(payload, undefined)).toBe("no usable signature header");
    expect(await why(payload, "v1=00")).toBe("no usable signature header");
    expect(await why(late.payload, late.header)).toBe("signed in the future: check the clock");
    expect(await why(`${payload} `, header)).toBe("signature or age does not match");
  });

  it.each<[string, (payload: string) => string]>([
    ["one letter changed", (payload) => payload.replace("completed", "completeD")],
    ["written again as JSON", (payload) => JSON.stringify(JSON.parse(payload), null, 1)],
    ["a byte order mark in front", (payload) => `\ufeff${payload}`],
    ["a line break behind", (payload) => `${payload}\n`],
  ])("is refused with %s", async (_what, change) => {
    const { payload, header } = await signEvent(COMPLETED, SECRET, NOW_S);
    expect(change(payload)).not.toBe(payload);
    await expectRefusal(receive(change(payload), header), "payment.signature.invalid");
  });

  it("is refused when another secret signed it, or an empty one", async () => {
    for (const secret of ["whsec_other", `${SECRET}\n`]) {
      const { payload, header } = await signEvent(COMPLETED, secret, NOW_S);
      await expectRefusal(receive(payload, header), "payment.signature.invalid");
    }
    const { payload, header } = await signEvent(COMPLETED, SECRET, NOW_S);
    await expectRefusal(receive(payload, header, []), "payment.signature.invalid");
    await expectRefusal(receive(payload, header, [""]), "payment.signature.invalid");
  });

  it("is let in by either secret while one is being rolled", async () => {
    for (const secret of ["whsec_former", SECRET]) {
      const { payload, header } = await signEvent(COMPLETED, secret, NOW_S);
      expect((await receive(payload, header, [SECRET, "whsec_former"])).id).toBe("evt_1");
    }
  });

  it("is let in when only the second of two signatures is right", async () => {
    const { payload, header } = await signEvent(COMPLETED, SECRET, NOW_S);
    const wrong = `v1=${"0".repeat(64)}`;
    expect((await receive(payload, header.replace(",", `,${wrong},`))).id).toBe("evt_1");
  });

  it.each<[string, (header: string) => string]>([
    ["only the older scheme", (header) => header.replace("v1=", "v0=")],
    ["no time", (header) => header.replace(/^t=\d+,/, "")],
    ["a second time", (header) => `t=1,${header}`],
    ["a time that is not a number", (header) => header.replace(/^t=\d+/, "t=now")],
    ["a later time put in", (header) => header.replace(/^t=\d+/, `t=${NOW_S + 1}`)],
  ])("is refused with %s in the header", async (_what, change) => {
    const { payload, header } = await signEvent(COMPLETED, SECRET, NOW_S);
    expect(change(header)).not.toBe(header);
    await expectRefusal(receive(payload, change(header)), "payment.signature.invalid");
  });

  it("is measured by the clock it is given, never by the machine's", async () => {
    const { payload, header } = await signEvent(COMPLETED, SECRET, Math.floor(Date.now() / 1000));
    const isFar = Math.abs(Date.now() - NOW.getTime()) > 310_000;
    if (isFar) await expectRefusal(receive(payload, header), "payment.signature.invalid");
    else expect((await receive(payload, header)).id).toBe("evt_1");
  });
});

describe("what is read from a signed event", () => {
  async function read(event: Parameters<typeof signEvent>[0]) {
    const { payload, header } = await signEvent(event, SECRET, NOW_S);
    return receive(payload, header);
  }

  it("names order and payment of a refund made in the dashboard", async () => {
    const charge = {
      id: "ch_1",
      object: "charge",
      payment_intent: "pi_1",
      metadata: { order: "o" },
    };
    expect(await read({ type: "charge.refunded", about: charge })).toMatchObject({
      sessionId: null,
      orderId: "o",
      paymentId: "pi_1",
    });
  });

  it("names the payment of a dispute, also when it comes as a whole object", async () => {
    const dispute = { id: "du_1", object: "dispute", payment_intent: { id: "pi_1" } };
    expect(await read({ type: "charge.dispute.created", about: dispute })).toMatchObject({
      sessionId: null,
      orderId: null,
      paymentId: "pi_1",
    });
  });

  it.each<[string, Parameters<typeof signEvent>[0]]>([
    ["a type yet to come", { type: "freezer.thawed", about: { object: "freezer", id: "fr_1" } }],
    ["a thin event", { type: "v2.core.event_destination.ping", object: "v2.core.event" }],
    ["nothing it is about", { type: "ping" }],
    ["fields of other kinds", { type: "x", about: { metadata: 3, payment_intent: 4, id: 5 } }],
    ["a null", { type: "x", about: null }],
  ])("takes note of %s", async (_what, event) => {
    expect(await read(event)).toEqual({
      id: "evt_1",
      type: event.type,
      sessionId: null,
      orderId: null,
      paymentId: null,
      live: false,
    });
  });

  it("tells live from test", async () => {
    expect(await read({ type: "x", livemode: true })).toMatchObject({ live: true });
  });

  it.each([
    ...["null", "[]", "not JSON", '"evt_1"', '{"id":"evt_1"}'],
    ...['{"id":"evt_1","type":"x"}', '{"id":1,"type":"x","livemode":false}'],
    ...['{"id":"evt_1","type":1,"livemode":false}', '{"id":"evt_1","type":"x","livemode":"no"}'],
  ])("refuses %j, signed or not: it is no event", async (payload) => {
    const signed = { payload, secret: SECRET, timestamp: NOW_S };
    const header = await Stripe.webhooks.generateTestHeaderStringAsync(signed);
    const error = await expectRefusal(receive(payload, header), "payment.till.rejected");
    expect(error.message).toBe("what was signed is not an event");
  });
});
