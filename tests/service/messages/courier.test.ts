/**
 * Delivery on a machine of one's own, as the running server does it: at once, and without keeping an answer waiting.
 */
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { startCourier } from "#service/messages/courier.ts";
import { TAKEN_MOST } from "#service/messages/deliver.ts";
import { sendTrial } from "#service/messages/endpoints.ts";
import { SHOP, openToldShop, startReceiver } from "./a-told-shop.ts";

let receiver: Awaited<ReturnType<typeof startReceiver>>;
let test: Awaited<ReturnType<typeof openToldShop>>;
beforeEach(async () => {
  receiver = await startReceiver();
  test = await openToldShop();
  await test.listen(receiver.url);
});
afterEach(async () => {
  test.close();
  await receiver.close();
});

const sent = async () => (await test.told()).filter(({ state }) => state === "sent").length;

it("delivers what a crash left over, and all of it when it is asked, however much there is", async () => {
  await test.place();
  const courier = startCourier(test.shop);
  await vi.waitFor(async () => expect(await sent()).toBe(1));
  for (let n = 0; n <= TAKEN_MOST; n++) await sendTrial(test.shop, SHOP, "host-1");
  courier.nudge();
  await vi.waitFor(async () => expect(await sent()).toBe(TAKEN_MOST + 2), 5000);
  await courier.stop();
  expect(receiver.received).toHaveLength(TAKEN_MOST + 2);
});

it("stops at once while a host shop keeps it waiting, and what was cut off comes again", async () => {
  receiver.answerWith(() => undefined);
  await test.place();
  const courier = startCourier(test.shop);
  await vi.waitFor(() => expect(receiver.received).toHaveLength(1));
  await courier.stop();
  expect((await test.told())[0]).toMatchObject({ state: "waiting", lastFault: null });
  receiver.answerWith((response) => response.end());
  test.pass(121);
  const next = startCourier(test.shop);
  await vi.waitFor(async () => expect(await sent()).toBe(1));
  await next.stop();
});
