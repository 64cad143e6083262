/** Named moments of one order's news, each the smallest schedule of its kind. */
import { afterAll, beforeAll, beforeEach, afterEach, expect, it } from "vitest";
import { cancelOrder } from "#service/actions/cancel-order.ts";
import { issueQuote } from "#service/actions/issue-quote.ts";
import { placeOrder } from "#service/actions/place-order.ts";
import { receiveEvent } from "#service/actions/receive-event.ts";
import { reconcile } from "#service/actions/reconcile.ts";
import { settlePayment } from "#service/actions/settle-payment.ts";
import { toTillEvent } from "#service/tills/stripe-event.ts";
import { chanceFrom } from "#core/order/room/sequence.ts";
import { deliverDue } from "#service/messages/deliver.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import { checkArrived, checkMoney, checkState, checkTold, factsOf } from "./checks.ts";
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

function news(type: string, about = session) {
  const record = world.stripe().sessions.get(about)!;
  const object = type.startsWith("checkout")
    ? record.toJson(false)
    : { payment_intent: record.paymentId };
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

it("takes a payment by a round while whoever heard of it first waits for the till for ever", async () => {
  world.stripe().markPaid(session);
  let answer: (read: ReturnType<typeof world.calm.till.read>) => void;
  const answered = new Promise<Awaited<ReturnType<typeof world.calm.till.read>>>((resolve) => {
    answer = resolve;
  });
  const waiting = { ...world.calm, till: { ...world.calm.till, read: () => answered } };
  const heard = receiveEvent(waiting, news("checkout.session.completed"));
  await expect.poll(() => facts().unsettled.length).toBe(1); // it is stored before anybody is asked
  world.pass(300);
  await reconcile(world.calm, 10);
  expect([facts().log, facts().unsettled.length]).toEqual([["placed", "paid"], 0]);
  answer!(world.calm.till.read(session));
  await heard;
  expect(facts().log).toEqual(["placed", "paid"]);
  expect(mails("order.paid")).toEqual(["customer", "maker"]);
});

it("takes a payment once when the clock jumps back, and ends no order whose till is open when it jumps on", async () => {
  world.pass(3 * 3600);
  await reconcile(world.calm, 10);
  expect(facts().order.state).toBe("placed");
  world.stripe().markPaid(session);
  world.pass(-5 * 3600);
  await receiveEvent(world.calm, news("checkout.session.completed"));
  world.pass(5 * 3600);
  await receiveEvent(world.calm, news("checkout.session.completed"));
  await reconcile(world.calm, 10);
  expect(facts().log).toEqual(["placed", "paid"]);
  expect(mails("order.paid")).toEqual(["customer", "maker"]);
});

const SILENCE_S = 3 * 24 * 3600;

it.each([1, 2, 3])(
  "comes right after three days without news, when all of it comes at once, twice and in any order: %i",
  async (seed) => {
    const chance = chanceFrom(seed);
    const orders = [{ id: orderId, session }, ...(await placeMore(4))];
    const [first, second, third, fourth] = orders.map((each) => each.session);
    const heard = orders.map((each) => {
      world.stripe().markPaid(each.session);
      return news("checkout.session.completed", each.session);
    });
    world.stripe().markRefunded(first!, 300);
    heard.push(news("charge.refunded", first));
    const { amount } = world.stripe().sessions.get(second!)!.charge;
    world.stripe().markRefunded(second!, amount);
    heard.push(news("charge.refunded", second));
    world.stripe().markDisputed(third!);
    heard.push(news("charge.dispute.created", third), news("checkout.session.expired", fourth));
    world.pass(SILENCE_S);
    const all = [...heard, ...heard]
      .map((event) => ({ event, at: chance() }))
      .sort((one, other) => one.at - other.at)
      .map(({ event }) => event);
    while (all.length > 0) {
      const together = all.splice(0, 1 + Math.floor(chance() * 4));
      const round = chance() < 0.3 ? [reconcile(world.calm, 3)] : [];
      await Promise.all([...together.map((event) => receiveEvent(world.calm, event)), ...round]);
    }
    while ((await deliverDue(world.calm)).taken > 0) world.pass(300);
    for (const { id } of orders) {
      const told = factsOf(world, id);
      checkMoney(world, told, id);
      checkState(told);
      checkTold(told);
      expect(told.unsettled).toEqual([]);
      const confirmed = told.messages.filter(
        ({ kind, purpose }) => kind === "mail" && purpose === "order.paid",
      );
      expect(confirmed.map(({ to_whom: to }) => to).sort()).toEqual(["customer", "maker"]);
    }
    const messages = orders.flatMap(({ id }) => factsOf(world, id).messages);
    checkArrived(world, { ...facts(), messages });
  },
);

async function placeMore(
  count: number,
): Promise<{ readonly id: string; readonly session: string }[]> {
  const more = [];
  for (let n = 0; n < count; n++) {
    const { token } = await issueQuote(world.calm, world.offers, aQuoteRequest());
    const { order } = await placeOrder(world.calm, world.offers, token);
    const { id, tillSessionId } = (await world.calm.orders.byReference(SHOP, order.reference))!;
    more.push({ id, session: tillSessionId! });
  }
  return more;
}
