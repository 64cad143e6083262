/** Named moments of one order's news, each the smallest schedule of its kind. */
import { afterAll, beforeAll, beforeEach, afterEach, expect, it } from "vitest";
import { cancelOrder } from "#service/actions/cancel-order.ts";
import { issueQuote } from "#service/actions/issue-quote.ts";
import { placeOrder } from "#service/actions/place-order.ts";
import { receiveEvent } from "#service/actions/receive-event.ts";
import { reconcile } from "#service/actions/reconcile.ts";
import { settlePayment } from "#service/actions/settle-payment.ts";
import { toTillEvent } from "#service/tills/stripe-event.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import { factsOf } from "./checks.ts";
import { Died } from "./process.ts";
import { SHOP, type World, makeWorld } from "./world.ts";

let world: World;
let orderId: string;
let orderUrl: string;
let session: string;
beforeAll(async () => {
  world = await makeWorld();
  const { token } = await issueQuote(world.calm, world.offers, aQuoteRequest());
  const { order } = await placeOrder(world.calm, world.offers, token);
  orderUrl = order.orderUrl;
  orderId = (await world.calm.orders.byReference(SHOP, order.reference))!.id;
  [session = ""] = world.stripe().sessions.keys();
});
afterAll(() => world.close());
beforeEach(() => world.keep());
afterEach(() => world.rewind());

function news(type: string) {
  const object = world.stripe().sessions.get(session)!.toJson(false);
  const { id } = world.stripe().keepEvent(type, object);
  return toTillEvent(JSON.stringify({ id, type, livemode: false, data: { object } }));
}

const facts = () => factsOf(world, orderId);
const mails = (purpose: string) =>
  facts()
    .messages.filter((each) => each.kind === "mail" && each.purpose === purpose)
    .map(({ to_whom: to }) => to)
    .sort();

it("takes one payment from two different events of one session at once", async () => {
  world.stripe().markPaid(session);
  const both = [
    news("checkout.session.completed"),
    news("checkout.session.async_payment_succeeded"),
  ];
  await Promise.all(both.map((event) => receiveEvent(world.calm, event)));
  expect(facts().log).toEqual(["placed", "paid"]);
  expect(mails("order.paid")).toEqual(["customer", "maker"]);
});

it("takes one payment when the process dies between its effect and its mark", async () => {
  world.stripe().markPaid(session);
  const event = news("checkout.session.completed");
  // Dies one call later each time, until the payment is taken and only the mark is missing.
  for (let at = 1; facts().order.state !== "paid" || facts().unsettled.length === 0; at++) {
    world.process.start({ at, when: "before", what: "dies" });
    await expect(receiveEvent(world.shop, event)).rejects.toBeInstanceOf(Died);
  }
  world.process.start();
  await receiveEvent(world.shop, event);
  expect([facts().log, facts().unsettled.length]).toEqual([["placed", "paid"], 0]);
  expect(mails("order.paid")).toEqual(["customer", "maker"]);
});

it("takes one payment however often the customer reloads the page before any news came", async () => {
  world.stripe().markPaid(session);
  const loads = Array.from({ length: 20 }, async () => (await world.app.request(orderUrl)).status);
  expect(new Set(await Promise.all(loads))).toEqual(new Set([200]));
  expect(facts().log).toEqual(["placed", "paid"]);
});

it("tells the customer whose slow payment did not come", async () => {
  world.stripe().markUnpaid(session, "customer@shop.example");
  await receiveEvent(world.calm, news("checkout.session.completed"));
  world.stripe().endSlowPayment(session, false);
  await receiveEvent(world.calm, news("checkout.session.async_payment_failed"));
  expect(facts().order.state).toBe("expired");
  expect(mails("order.expired")).toEqual(["customer"]);
});

it("takes no payment twice when the maker cancels between two who hear of it at once", async () => {
  world.stripe().markPaid(session);
  const record = world.stripe().sessions.get(session)!;
  world.stripe().patch(session, { amount_total: 1 });
  record.setCharge({ amount: 1 });
  const slow = { ...world.calm, till: { ...world.calm.till } };
  slow.till.read = async (id) => {
    // While this one looks at the till, the other takes the payment and the maker cancels.
    slow.till.read = world.calm.till.read;
    await settlePayment(world.calm, session);
    const order = (await world.calm.orders.byId(orderId))!;
    await cancelOrder(world.calm, order, { who: "maker", why: "too little" });
    return await world.calm.till.read(id);
  };
  await settlePayment(slow, session);
  await reconcile(world.calm, 10);
  expect(facts().order.state).toBe("cancelled");
  expect(facts().log.filter((what) => what.startsWith("paid"))).toHaveLength(1);
});
