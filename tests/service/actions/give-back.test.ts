/**
 * Money given back by the maker: never twice, never more than was taken, and never lost sight of.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { refunds } from "#data/schema.ts";
import { type PaidShop, openPaidShop } from "../../helpers/paid-shop.ts";

let shop: PaidShop;
let session: string;
let cookie: string;
beforeEach(async () => {
  shop = await openPaidShop();
  ({ session } = await shop.place());
  shop.stripe.markPaid(session);
  await shop.hear(shop.happen("checkout.session.completed", shop.sessionOf(session)));
  cookie = await shop.signIn();
});
afterEach(() => shop.end());

async function press(what: string, fields: Record<string, string>) {
  const { reference } = await shop.order();
  const answer = await shop.request(`/maker/orders/${reference}/${what}`, {
    method: "POST",
    headers: {
      ...{ cookie, "sec-fetch-site": "same-origin", accept: "text/html" },
      "content-type": "application/x-www-form-urlencoded",
    },
    body: new URLSearchParams(fields).toString(),
  });
  return { status: answer.status, text: await answer.text() };
}

const giveBack = (amount: string, id = crypto.randomUUID(), why = "a cracked lid") =>
  press("refund", { id, amount, why });
const rows = async () =>
  (await shop.db.q.select().from(refunds)).map(({ amountMinor, state }) => [amountMinor, state]);
const seenRefunds = () =>
  shop.stripe.seen.filter(({ method, path }) => `${method} ${path}` === "POST /v1/refunds");

describe("giving money back", () => {
  it("in part is carried out once, noted, and shown", async () => {
    expect((await giveBack("5.00")).status).toBe(303);
    expect(await rows()).toEqual([[500, "done"]]);
    expect(await shop.order()).toMatchObject({ state: "paid", refundedMinor: 500 });
    const form = seenRefunds()[0]!.form as { amount: string; metadata: Record<string, string> };
    expect(form.amount).toBe("500");
    expect(form.metadata["order"]).toBe((await shop.order()).id);
    expect(await shop.log()).toContain("give back 5.00 GBP: a cracked lid");
  });

  it("pressed twice at once gives back once", async () => {
    const id = crypto.randomUUID();
    const pressed = await Promise.all([giveBack("5.00", id), giveBack("5.00", id)]);
    expect(pressed.map(({ status }) => status)).toEqual([303, 303]);
    expect(await rows()).toEqual([[500, "done"]]);
    expect(shop.stripe.refunds).toHaveLength(1);
  });

  it("of more than is left is refused, also when two ask at the same moment", async () => {
    const { capturedMinor } = await shop.order();
    const most = (capturedMinor! / 100).toFixed(2);
    const over = await giveBack(((capturedMinor! + 1) / 100).toFixed(2));
    expect(over.status).toBe(422);
    expect(over.text).toContain(`Only ${most} GBP of this order can still be given back`);
    const both = await Promise.all([giveBack(most), giveBack(most)]);
    expect(both.map(({ status }) => status).sort()).toEqual([303, 422]);
    expect((await shop.order()).refundedMinor).toBe(capturedMinor);
    expect((await giveBack("0.01")).status).toBe(422);
    expect(seenRefunds()).toHaveLength(1);
  });

  it.each([
    ["0", "Write the amount"],
    ["-1", "cannot be below nothing"],
    ["1.2345", "no more than that"],
    ["lots", "no amount of money"],
    ["", "Write an amount"],
  ])("of “%s” is refused with a sentence, and what was typed stays", async (amount, sentence) => {
    const { status, text } = await giveBack(amount);
    expect(status).toBe(422);
    expect(text).toContain(sentence);
    expect(text).toContain("a cracked lid");
    expect(await rows()).toEqual([]);
  });

  it("asks why", async () => {
    const { status, text } = await giveBack("5.00", crypto.randomUUID(), "");
    expect([status, text.includes("Write down why")]).toEqual([422, true]);
  });

  it("whose answer is lost is asked again with the same key, and happens once", async () => {
    // The payment is read first; then all three tries at the refund are lost.
    shop.stripe.failNext("none", "drop-after", "drop-before", "drop-before");
    expect((await giveBack("5.00")).status).toBe(303);
    expect(await rows()).toEqual([[500, "asked"]]);
    // What is asked for counts as gone until it is known.
    const { capturedMinor } = await shop.order();
    expect((await giveBack((capturedMinor! / 100).toFixed(2))).status).toBe(422);
    shop.pass(300);
    await shop.reconcile();
    expect(await rows()).toEqual([[500, "done"]]);
    expect(shop.stripe.refunds).toHaveLength(1);
    const keys = seenRefunds().map(({ headers }) => headers["idempotency-key"]);
    expect(new Set(keys).size).toBe(1);
  });

  it("without an answer for longer than a key lives is looked for, not asked again", async () => {
    shop.stripe.failNext("none", "drop-before", "drop-before", "drop-before");
    await giveBack("5.00");
    const asked = seenRefunds().length;
    shop.pass(24 * 3600);
    await shop.reconcile();
    expect(await rows()).toEqual([[500, "failed"]]);
    expect(seenRefunds()).toHaveLength(asked);
    expect((await giveBack("5.00")).status).toBe(303);
  });

  it("that is refused fails, is told, and may be asked for anew", async () => {
    shop.stripe.markRefunded(session, 100); // made in the dashboard, and not heard of yet
    const { capturedMinor } = await shop.order();
    await giveBack((capturedMinor! / 100).toFixed(2));
    expect(await rows()).toEqual([
      [capturedMinor, "failed"],
      [100, "done"],
    ]);
    const { reference } = await shop.order();
    const page = await shop.request(`/maker/orders/${reference}`, { headers: { cookie } });
    expect(await page.text()).toContain("failed.</strong> The money is with you");
    expect((await giveBack("5.00")).status).toBe(303);
  });

  it("that is on its way counts at once, and comes back when it fails", async () => {
    shop.stripe.refundsBecome("pending");
    await giveBack("5.00");
    expect(await rows()).toEqual([[500, "pending"]]);
    expect((await shop.order()).refundedMinor).toBe(500);
    const failed = shop.stripe.endRefund(shop.stripe.refunds[0]!.id, "failed");
    await shop.hear(shop.happen("refund.failed", failed));
    expect(await rows()).toEqual([[500, "failed"]]);
    expect((await shop.order()).refundedMinor).toBe(0);
  });
});

describe("cancelling", () => {
  it("gives all of the money back in the same act", async () => {
    const { capturedMinor } = await shop.order();
    expect((await press("cancel", { why: "no shea to be had", money: "back" })).status).toBe(303);
    expect(await shop.order()).toMatchObject({ state: "cancelled", refundedMinor: capturedMinor });
    expect(await rows()).toEqual([[capturedMinor, "done"]]);
  });

  it("keeps the money when asked to, and says so", async () => {
    await press("cancel", { why: "we talk first", money: "keep" });
    expect(await shop.order()).toMatchObject({ state: "cancelled", refundedMinor: 0 });
    const { reference } = await shop.order();
    const page = await shop.request(`/maker/orders/${reference}`, { headers: { cookie } });
    expect(await page.text()).toContain("is still with you");
  });

  it("of an order in making is refused, and nothing goes back", async () => {
    const { id } = await shop.order();
    await shop.shop.orders.move({ orderId: id, to: "in-making", at: 1, who: "maker", what: "x" });
    const { status } = await press("cancel", { why: "too late", money: "back" });
    expect(status).toBe(409);
    expect((await shop.order()).state).toBe("in-making");
    expect(await rows()).toEqual([]);
  });

  it("is one thing with its refund: a state that changed undoes the asking", async () => {
    const held = press("hold", { why: "wait" });
    const cancelled = press("cancel", { why: "no", money: "back" });
    await Promise.all([held, cancelled]);
    const { state, refundedMinor, capturedMinor } = await shop.order();
    expect(refundedMinor).toBe(state === "cancelled" ? capturedMinor : 0);
  });

  it("of an order held before its money came releases nothing", async () => {
    const other = await shop.place();
    shop.stripe.patch(other.session, { status: "melted" });
    await shop.hear(shop.happen("checkout.session.completed", shop.sessionOf(other.session)));
    const answer = await shop.request(`/maker/orders/${other.placed.reference}/release`, {
      method: "POST",
      headers: {
        ...{ cookie, "sec-fetch-site": "same-origin", accept: "text/html" },
        "content-type": "application/x-www-form-urlencoded",
      },
      body: "why=looks+fine",
    });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain("No payment has come for this order");
  });
});
