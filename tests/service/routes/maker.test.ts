/**
 * The maker's side: the door, the bench, and a batch from paid orders.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { OrderAnswer } from "#core/wire.ts";
import { batches, orders } from "#data/schema.ts";
import { issueSignInLink } from "#service/actions/sign-in.ts";
import { fieldsOn } from "../../helpers/form-fields.ts";
import { payOrder } from "../../helpers/shop-acts.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeEach(async () => {
  shop = await openTestShop();
});
afterEach(() => shop.close());

const OURS = { "sec-fetch-site": "same-origin" };

const paid = (quantity = 1) => payOrder(shop, { quantity });

function sendForm(path: string, cookie: string, fields: [string, string][] = [], headers = OURS) {
  return shop.request(path, {
    method: "POST",
    headers: { ...headers, cookie, "content-type": "application/x-www-form-urlencoded" },
    body: new URLSearchParams(fields),
  });
}

const pageOf = async (path: string, cookie: string) =>
  (await shop.request(path, { headers: { cookie, accept: "text/html" } })).text();

describe("the door", () => {
  it("stays shut without a session, on every page behind it", async () => {
    for (const path of ["/maker", "/maker/batches/261125-01", "/maker/orders/AAAAAA"]) {
      const answer = await shop.request(path, { headers: { accept: "text/html" } });
      const door = `/maker/enter?to=${encodeURIComponent(path)}`;
      expect([answer.status, answer.headers.get("location")]).toEqual([303, door]);
      expect((await shop.request(path)).status).toBe(401);
    }
  });

  it("opens once by a link, and looking at the link does not use it up", async () => {
    const path = new URL(await issueSignInLink(shop.shop, "quillfen")).pathname;
    expect((await shop.request(path)).status).toBe(200);
    const entered = await shop.request(path, { method: "POST", headers: OURS });
    expect(entered.headers.get("set-cookie")).toMatch(/HttpOnly/);
    expect(entered.headers.get("set-cookie")).toMatch(/SameSite=Lax/);
    expect((await shop.request(path)).status).toBe(410);
    expect((await shop.request(path, { method: "POST", headers: OURS })).status).toBe(410);
  });

  it("refuses a link a day old, an older link, and a made-up one", async () => {
    const older = new URL(await issueSignInLink(shop.shop, "quillfen")).pathname;
    const newer = new URL(await issueSignInLink(shop.shop, "quillfen")).pathname;
    const enter = (path: string) => shop.request(path, { method: "POST", headers: OURS });
    expect((await enter(older)).status).toBe(410);
    expect((await enter("/maker/enter/made-up")).status).toBe(410);
    shop.pass(24 * 3600 + 1);
    expect((await enter(newer)).status).toBe(410);
  });

  it("shuts behind whoever signs out, and after two weeks", async () => {
    const cookie = await shop.signIn();
    const at = () => shop.request("/maker", { headers: { cookie } });
    expect((await at()).status).toBe(200);
    await sendForm("/maker/leave", cookie);
    expect((await at()).status).toBe(401);
    const later = await shop.signIn();
    shop.pass(14 * 24 * 3600 + 1);
    expect((await shop.request("/maker", { headers: { cookie: later } })).status).toBe(401);
  });

  it("takes no form from another site, whatever its type", async () => {
    const cookie = await shop.signIn();
    const { id } = await paid();
    for (const headers of [
      { "sec-fetch-site": "cross-site" },
      { "sec-fetch-site": "same-site" },
      { "sec-fetch-site": "none" },
      { origin: "http://elsewhere.test" },
      {},
    ]) {
      const answer = await sendForm(
        "/maker/batches",
        cookie,
        [["order", id]],
        headers as typeof OURS,
      );
      expect(answer.status).toBe(403);
    }
    expect(await shop.db.q.select().from(batches)).toEqual([]);
  });
});

describe("a batch", () => {
  it("brings paid orders of one blend into making and prints their work order", async () => {
    const cookie = await shop.signIn();
    const one = await paid(2);
    const two = await paid(3);
    const bench = await pageOf("/maker", cookie);
    expect(bench).toContain("2 paid orders to make");
    const answer = await sendForm("/maker/batches", cookie, [
      ["order", one.id],
      ["order", two.id],
    ]);
    expect(answer.status).toBe(303);
    const where = answer.headers.get("location")!;
    const sheet = await pageOf(`${where}/sheets`, cookie);
    for (const word of [one.reference, two.reference, "Shea butter", "Quillfen Workshop"]) {
      expect(sheet).toContain(word);
    }
    // Five jars of 120 g with 4 % loss allowance on a scale of 0.01 g steps.
    expect(sheet).toContain("624.00");
    const states = (await shop.db.q.select().from(orders)).map(({ state }) => state);
    expect(states).toEqual(["in-making", "in-making"]);
    const number = where.split("/").at(-1)!;
    const closing = fieldsOn(await pageOf(`${where}/close`, cookie));
    expect((await sendForm(`${where}/close`, cookie, closing)).status).toBe(303);
    expect((await sendForm(`${where}/close`, cookie, closing)).status).toBe(409);
    expect((await sendForm(`/maker/sent/${one.reference}`, cookie)).status).toBe(303);
    expect((await sendForm(`/maker/sent/${one.reference}`, cookie)).status).toBe(409);
    const log = await pageOf(`/maker/orders/${one.reference}`, cookie);
    for (const what of [
      "placed",
      "paid",
      `batch ${number}`,
      "sent",
      "Price of the jar",
      "Labour",
    ]) {
      expect(log).toContain(what);
    }
  });

  it("takes an order once, though two people write the work order", async () => {
    const cookie = await shop.signIn();
    const { id } = await paid();
    const answers = await Promise.all(
      Array.from({ length: 4 }, () => sendForm("/maker/batches", cookie, [["order", id]])),
    );
    expect(answers.filter(({ status }) => status === 303)).toHaveLength(1);
    expect(await shop.db.q.select().from(batches)).toHaveLength(1);
  });

  it("is refused for no order, an unpaid one, one of nobody's, and blends that differ", async () => {
    const cookie = await shop.signIn();
    const { token } = await shop.quote();
    const unpaid = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
    const unpaidId = new URL(unpaid.orderUrl).pathname.split("/")[2]!;
    for (const ids of [[], [unpaidId], ["nobody"]]) {
      const answer = await sendForm(
        "/maker/batches",
        cookie,
        ids.map((id): [string, string] => ["order", id]),
      );
      expect(answer.status).toBe(422);
    }
    expect(await shop.db.q.select().from(batches)).toEqual([]);
  });
});
