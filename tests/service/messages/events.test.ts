/**
 * Events to a real receiver on this machine: signed, tried again by the schedule, switched off where nobody listens.
 */
import { Webhook } from "standardwebhooks";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { deliverDue } from "#service/messages/deliver.ts";
import { ROTATION_S, addEndpoint, rotateSecret, sendTrial } from "#service/messages/endpoints.ts";
import { ATTEMPTS_MOST, nextAttempt } from "#service/messages/schedule.ts";
import { SECRET, SHOP, openToldShop, startReceiver } from "./a-told-shop.ts";

const HOUR_S = 3600;
/** What the specification proposes, from the first attempt on [s] */
const SCHEDULE_S = [5, 300, 1800].concat([2, 5, 10, 14, 20, 24].map((hours) => hours * HOUR_S));

let receiver: Awaited<ReturnType<typeof startReceiver>>;
let test: Awaited<ReturnType<typeof openToldShop>>;
beforeAll(async () => {
  receiver = await startReceiver();
});
afterAll(() => receiver.close());
beforeEach(async () => {
  test = await openToldShop();
  receiver.received.length = 0;
  receiver.answerWith((response) => response.end());
  await test.listen(receiver.url);
});
afterEach(() => test.close());

const deliver = () => deliverDue(test.shop);
const only = async () => (await test.told()).find(({ kind }) => kind === "event")!;
const endpoint = async () => (await test.shop.eventEndpoints.byId(SHOP, "host-1"))!;
const answer = (status: number, headers: Record<string, string> = {}) =>
  receiver.answerWith((response) => response.writeHead(status, headers).end("not to be shown"));

/** Wait until the message is due and try again. */
async function later(): Promise<void> {
  const { nextAt } = await only();
  test.pass(Math.max(0, nextAt - test.shop.clock.seconds()));
  await deliver();
}

describe("an event", () => {
  it("is signed as another implementation of the specification reads it, over the very bytes", async () => {
    const id = await test.place();
    await deliver();
    const [{ headers, body }] = receiver.received as [(typeof receiver.received)[0]];
    const read = new Webhook(SECRET).verify(body, headers as Record<string, string>);
    expect(read).toMatchObject({ type: "order.placed", data: { id } });
    expect(headers["webhook-id"]).toBe((await only()).id);
    expect(headers["content-type"]).toBe("application/json");
    expect(() =>
      new Webhook(SECRET).verify(`${body} `, headers as Record<string, string>),
    ).toThrow();
    expect(await only()).toMatchObject({ state: "sent", attempts: 1, takenUntil: null });
  });

  it("goes out once: nothing more is due after", async () => {
    await test.place();
    expect((await deliver()).taken).toBe(1);
    expect((await deliver()).taken).toBe(0);
    expect(receiver.received).toHaveLength(1);
  });

  it("refused with 500 comes again by the ten steps, under the same id and bytes, then fails", async () => {
    await test.place();
    answer(500);
    const waits: number[] = [];
    await deliver();
    while ((await only()).state === "waiting") {
      waits.push((await only()).nextAt - test.shop.clock.seconds());
      await later();
    }
    expect(receiver.received).toHaveLength(ATTEMPTS_MOST);
    waits.forEach((wait, at) => {
      expect(wait).toBeGreaterThanOrEqual(SCHEDULE_S[at]!);
      expect(wait).toBeLessThanOrEqual(Math.ceil(SCHEDULE_S[at]! * 1.1));
    });
    expect(waits).toHaveLength(SCHEDULE_S.length);
    expect(new Set(receiver.received.map(({ headers }) => headers["webhook-id"])).size).toBe(1);
    expect(new Set(receiver.received.map(({ body }) => body)).size).toBe(1);
    const stamps = receiver.received.map(({ headers }) => Number(headers["webhook-timestamp"]));
    expect(stamps).toEqual([...new Set(stamps)].sort((a, b) => a - b));
    expect(await only()).toMatchObject({ state: "failed", lastFault: "The address answered 500." });
    expect((await endpoint()).offBecause).toBe("failing");
    const mails = (await test.told()).filter(({ kind }) => kind === "mail");
    expect(mails).toMatchObject([{ purpose: "endpoint.off", toWhom: "maker", state: "waiting" }]);
  });

  it("is not followed where a redirect points", async () => {
    await test.place();
    answer(301, { location: `${receiver.url}/elsewhere` });
    await deliver();
    expect(receiver.received).toHaveLength(1);
    expect((await only()).lastFault).toContain("points elsewhere (301)");
  });

  it("answered 410 switches the address off, and the next change writes nothing for it", async () => {
    await test.place();
    answer(410);
    await deliver();
    expect(await only()).toMatchObject({ state: "failed" });
    expect((await endpoint()).offBecause).toBe("gone");
    const before = (await test.told()).length;
    await test.place();
    expect(await test.told()).toHaveLength(before);
  });

  it("answered 429 waits as long as it was asked to", async () => {
    await test.place();
    answer(429, { "retry-after": "900" });
    await deliver();
    expect((await only()).nextAt).toBe(test.shop.clock.seconds() + 900);
  });

  it("whose answer was lost comes again under the same id", async () => {
    await test.place();
    receiver.answerWith((_, request) => request.socket.destroy());
    await deliver();
    receiver.answerWith((response) => response.end());
    await later();
    const ids = receiver.received.map(({ headers }) => headers["webhook-id"]);
    expect(ids).toHaveLength(2);
    expect(ids[0]).toBe(ids[1]);
    expect(await only()).toMatchObject({ state: "sent", attempts: 2, lastFault: null });
  });

  it("to a receiver that never answers is cut off when its time is over", async () => {
    await test.place();
    receiver.answerWith(() => undefined);
    const post = test.shop.senders.events!.post(
      "" + receiver.url,
      {},
      "{}",
      AbortSignal.timeout(50),
    );
    await expect(post).rejects.toThrow(/abort/i);
  });

  it("does not read an answer that never ends", async () => {
    await test.place();
    receiver.answerWith((response) => {
      response.writeHead(200);
      response.write("drip");
    });
    await deliver();
    expect((await only()).state).toBe("sent");
  });

  it("says what happened when nothing listens", async () => {
    await test.place();
    await test.shop.eventEndpoints.switchOff(SHOP, "host-1");
    await test.listen("http://127.0.0.1:1/", "host-2");
    await test.place();
    await deliver();
    const [off, none] = await Promise.all(
      ["host-1", "host-2"].map(async (id) =>
        (await test.told()).find(({ endpointId }) => endpointId === id),
      ),
    );
    expect(off).toMatchObject({ state: "failed", lastFault: "The address is switched off." });
    expect(none?.lastFault).toContain("nothing listens there");
  });

  it("taken in again clears what was noted of the address", async () => {
    await test.place();
    answer(503);
    await deliver();
    expect((await endpoint()).failingSince).toBe(test.shop.clock.seconds());
    answer(204);
    await later();
    expect((await endpoint()).failingSince).toBeNull();
  });
});

describe("a secret", () => {
  it("is told once, fits the specification, and the trial is signed with it", async () => {
    const id = test.shop.numbers.id();
    const added = await addEndpoint(test.shop, SHOP, { id, typed: `${receiver.url}/new` });
    if ("fault" in added) throw new Error(added.fault);
    expect(added.secret).toMatch(/^whsec_[A-Za-z0-9+/]{43}=$/);
    await sendTrial(test.shop, SHOP, id);
    await deliver();
    const [{ headers, body }] = receiver.received as [(typeof receiver.received)[0]];
    const read = new Webhook(added.secret).verify(body, headers as Record<string, string>);
    expect(read).toMatchObject({ type: "softset.trial" });
    const again = await addEndpoint(test.shop, SHOP, {
      id: test.shop.numbers.id(),
      typed: added.url,
    });
    expect(again).toHaveProperty("fault");
  });

  it("signs beside the new one for a day, and no longer", async () => {
    const { secret } = await rotateSecret(test.shop, SHOP, "host-1");
    for (const [at, older] of [true, false].entries()) {
      await test.place();
      await deliver();
      const { headers, body } = receiver.received.at(-1)!;
      const signatures = String(headers["webhook-signature"]).split(" ");
      expect(signatures).toHaveLength(older ? 2 : 1);
      // The verifier looks at its own clock, which the test's has left behind.
      const stamp = new Date(Number(headers["webhook-timestamp"]) * 1000);
      const id = String(headers["webhook-id"]);
      expect(signatures).toContain(new Webhook(secret).sign(id, stamp, body));
      expect(signatures.includes(new Webhook(SECRET).sign(id, stamp, body))).toBe(older);
      expect(at).toBe(receiver.received.length - 1);
      test.pass(ROTATION_S);
    }
  });
});

describe("the schedule", () => {
  it("never asks for more patience than a day, and reads dates as well as seconds", () => {
    const message = { id: "msg_0000", attempts: 1 };
    expect(nextAttempt(message, 1000)).toBe(1005);
    expect(nextAttempt({ id: "msg_ffff", attempts: 1 }, 1000)).toBe(1006);
    expect(nextAttempt(message, 1000, "60")).toBe(1060);
    expect(nextAttempt(message, 1000, "999999999")).toBe(1000 + 24 * HOUR_S);
    expect(nextAttempt(message, 1000, new Date(2_000_000).toUTCString())).toBe(2000);
    expect(nextAttempt(message, 1000, "soon")).toBe(1005);
    expect(nextAttempt(message, 1000, "-5")).toBe(1005);
    expect(nextAttempt({ ...message, attempts: ATTEMPTS_MOST }, 1000)).toBeUndefined();
  });
});
