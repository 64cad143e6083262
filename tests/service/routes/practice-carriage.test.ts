/**
 * Carriage at the practice till: set by the maker, chosen by the customer, and on the order's pages.
 */
import { afterEach, beforeEach, expect, it } from "vitest";
import type { OrderAnswer } from "#core/wire.ts";
import { orders, practiceSessions, shops } from "#data/schema.ts";
import { englishLeft, readable } from "../../helpers/english-left.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let cookie: string;
beforeEach(async () => {
  shop = await openTestShop();
  cookie = await shop.signIn();
});
afterEach(() => shop.close());

async function press(path: string, fields: Record<string, string>) {
  const answer = await shop.request(path, {
    method: "POST",
    headers: {
      ...{ cookie, "sec-fetch-site": "same-origin", accept: "text/html" },
      "content-type": "application/x-www-form-urlencoded",
    },
    body: new URLSearchParams(fields).toString(),
  });
  return { status: answer.status, text: await answer.text() };
}

const page = async (path: string) =>
  (await shop.request(path, { headers: { cookie, accept: "text/html" } })).text();

async function setCarriage(change: Record<string, string> = {}) {
  const revision = (await shop.shop.shops.first())!.revision;
  const post = { "name-0": "Post", "price-0": "3.95", "least-0": "2", "most-0": "4" };
  const courier = { "name-1": "Courier", "price-1": "0" };
  const all = { revision: String(revision), ...post, ...courier, countries: "gb, IE", ...change };
  return await press("/maker/shop/carriage", all);
}

async function placed() {
  const { token } = await shop.quote();
  const order = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
  return { order, till: new URL(order.payUrl!).pathname };
}

const WHERE = {
  name: "Wren",
  street: "7 Fen Lane",
  city: "Ely",
  postcode: "CB7 4AA",
  country: "IE",
};

it("is set by the maker, chosen and paid by the customer, and stands on both pages", async () => {
  expect((await setCarriage()).status).toBe(303);
  const { order, till } = await placed();
  const asked = await page(till);
  expect(asked).toContain("Post, £3.95");
  expect(asked).toContain("2 to 4 working days");
  expect(asked).toContain("Total before carriage");
  expect((await press(`${till}/pay`, { ...WHERE, way: "0" })).status).toBe(303);
  const [row] = await shop.db.q.select().from(orders);
  expect(row).toMatchObject({ state: "paid", carriageMinor: 395, carriageName: "Post" });
  expect(row!.capturedMinor).toBe(row!.totalMinor + 395);
  const customers = await page(new URL(order.orderUrl).pathname);
  expect(customers).toContain("Carriage: Post");
  const makers = await page(`/maker/orders/${order.reference}`);
  expect(makers).toContain("Carriage: Post");
  expect(makers).toContain("7 Fen Lane");
  expect(makers).toContain("Ireland");
});

it.each([
  ["no way", { ...WHERE }, "Choose how it is to be sent"],
  ["a way nobody offers", { ...WHERE, way: "2" }, "Choose how it is to be sent"],
  ["a country nobody sends to", { ...WHERE, way: "0", country: "FR" }, "Choose the country"],
  ["no street", { ...WHERE, way: "0", street: "" }, "Say where it goes"],
])("takes no payment with %s, and keeps what was typed", async (_, fields, sentence) => {
  await setCarriage();
  const { till } = await placed();
  const { status, text } = await press(`${till}/pay`, fields);
  expect(status).toBe(422);
  expect(text).toContain(sentence);
  expect(text).toContain('value="CB7 4AA"');
  expect((await shop.db.q.select().from(practiceSessions))[0]?.state).toBe("open");
});

it.each([
  ["de-DE", "Wählen Sie, wie verschickt werden soll.", "Geben Sie an, wohin es geht"],
  ["fr-FR", "Choisissez le mode d’envoi.", "Indiquez la destination"],
  ["es-ES", "Elige cómo se envía.", "Di adónde va"],
])("says what is missing in the language of a shop of %s", async (locale, way, where) => {
  await setCarriage();
  await shop.db.q.update(shops).set({ locale });
  const { till } = await placed();
  const noWay = await press(`${till}/pay`, { ...WHERE });
  const nowhere = await press(`${till}/pay`, { ...WHERE, way: "0", street: "" });
  expect(noWay.text).toContain(way);
  expect(nowhere.text).toContain(where);
  expect(englishLeft(readable(noWay.text + nowhere.text))).toEqual([]);
});

it.each([
  [{ "name-0": "" }, "Give way 1 a name"],
  [{ "name-1": "Post" }, "Two ways are called “Post”"],
  [{ "price-0": "" }, "0 when it is free"],
  [{ "price-0": "-1" }, "cannot be below nothing"],
  [{ "least-0": "5" }, "fewer days first"],
  [{ "most-0": "" }, "The most days on the way"],
  [{ countries: "" }, "at least one country"],
  [{ countries: "GB, XX" }, "“XX” is no country"],
  [{ countries: "CU" }, "takes no addresses in Cuba"],
])("is not saved with %o, and says what to mend", async (change, sentence) => {
  const { status, text } = await setCarriage(change);
  expect(status).toBe(422);
  expect(text).toContain(sentence);
  const { particulars } = (await shop.shop.shops.first())!;
  expect(JSON.parse(particulars)).not.toHaveProperty("carriage");
});

it("is not saved over what somebody else saved meanwhile, nor lost by saving the other settings", async () => {
  expect((await setCarriage({ revision: "0" })).status).toBe(409);
  await setCarriage();
  const { name, revision } = (await shop.shop.shops.first())!;
  const saved = await press("/maker/shop", { revision: String(revision), name: `${name} & Co` });
  expect(saved.status).toBe(303);
  const { particulars } = (await shop.shop.shops.first())!;
  expect(JSON.parse(particulars)).toMatchObject({
    deliverTo: ["GB", "IE"],
    carriage: [{ name: "Post" }, {}],
  });
});

it("practises giving money back as the real till does", async () => {
  await setCarriage();
  const { order, till } = await placed();
  await press(`${till}/pay`, { ...WHERE, way: "0" });
  const path = `/maker/orders/${order.reference}/refund`;
  const form = { id: crypto.randomUUID(), amount: "3.95", why: "sent late" };
  expect((await press(path, form)).status).toBe(303);
  expect((await press(path, form)).status).toBe(303);
  expect((await shop.db.q.select().from(orders))[0]).toMatchObject({
    refundedMinor: 395,
    state: "paid",
  });
  expect(await page(new URL(order.orderUrl).pathname)).toContain("Given back to you");
});
