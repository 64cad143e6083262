/**
 * All that follows a purchase, in the languages of shops: the receipt, the wish to cancel, erasing, the file of what is
 * held, and the pages of what goes wrong.
 */
import { eq, sql } from "drizzle-orm";
import { Hono } from "hono";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer } from "#core/wire.ts";
import * as schema from "#data/schema.ts";
import { englishLeft, readable } from "../../helpers/english-left.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeAll(async () => {
  shop = await openTestShop();
});
afterAll(() => shop.close());

const ours = { "sec-fetch-site": "same-origin", accept: "text/html" };

/** As the maker would save it: offers are made anew. */
const speak = async (locale: string) => {
  shop.pass(2);
  await shop.db.q.update(schema.shops).set({ locale, revision: sql`${schema.shops.revision} + 1` });
};

async function look(path: string, init: RequestInit = {}) {
  const answer = await shop.request(path, { headers: ours, ...init });
  const html = await answer.text();
  return { status: answer.status, html, text: readable(html) };
}
const send = (path: string, fields: Record<string, string> = {}) =>
  look(path, { method: "POST", body: new URLSearchParams(fields) });

async function anOrder() {
  const { token } = await shop.quote();
  const placed = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
  const path = new URL(placed.orderUrl).pathname;
  return { path, id: path.split("/")[2]!, till: new URL(placed.payUrl!).pathname, placed };
}

async function aPaidOrder() {
  const order = await anOrder();
  await send(`${order.till}/pay`, { name: "Wren Ashdown", email: "wren@post.example" });
  return order;
}

const quoteForm = (change: Record<string, string>) =>
  send("/shop/everyday/quote", {
    ...{ base: "soft-shea", jar: "jar-120", quantity: "1", zone: "" },
    ...change,
  });

describe.each([
  {
    locale: "de-DE",
    receipt: "Beleg",
    asked: "Sie haben am",
    early: "Ihr Tiegel ist noch zu machen",
    begun: "Die Werkstatt hat gerade mit Ihrer Bestellung begonnen",
    nothing: "Unter dieser Adresse ist nichts.",
    failed: "Bei uns ist etwas schiefgegangen",
    held: "Nichts: Die Zahlung war eine Übung",
  },
  {
    locale: "fr-FR",
    receipt: "Reçu",
    asked: "Vous avez demandé l’annulation",
    early: "Votre pot reste à faire",
    begun: "L’atelier vient de commencer votre commande",
    nothing: "Il n’y a rien à cette adresse.",
    failed: "Un incident s’est produit de notre côté",
    held: "Rien\u00a0: le paiement était un essai",
  },
  {
    locale: "es-ES",
    receipt: "Recibo",
    asked: "Pediste cancelar",
    early: "Tu tarro aún está por hacer",
    begun: "El taller acaba de empezar tu pedido",
    nothing: "En esta dirección no hay nada.",
    failed: "Algo ha fallado por nuestra parte",
    held: "Nada: el pago era de prueba",
  },
])("in a shop of $locale", ({ locale, receipt, asked, early, begun, nothing, failed, held }) => {
  beforeAll(async () => {
    await speak(locale);
  });

  it("the receipt is in its language, with its dates and its way to write money", async () => {
    const { path, id } = await aPaidOrder();
    const { html, text } = await look(`${path}/receipt`);
    const { totalMinor, paidAt } = (await shop.shop.orders.byId(id))!;
    const money = new Intl.NumberFormat(locale, { style: "currency", currency: "GBP" });
    const day = new Intl.DateTimeFormat(locale, { dateStyle: "medium", timeZone: "Europe/London" });
    expect(html).toContain(`<html lang="${locale}">`);
    expect(text).toContain(receipt);
    expect(html).toContain(money.format(totalMinor / 100));
    expect(text).toContain(day.format(paidAt! * 1000));
    expect(englishLeft(text)).toEqual([]);
  });

  it("the wish to cancel and its answers, erasing, and the file of what is held", async () => {
    const { path, id } = await aPaidOrder();
    const erasing = await look(`${path}/erase`);
    expect(erasing.text).toContain(early);
    await send(`${path}/cancel`);
    const wished = await look(path);
    expect(wished.text).toContain(asked);
    const file = await shop.request(`${path}/data.json`);
    expect(((await file.json()) as { heldElsewhere: string }).heldElsewhere).toContain(held);

    const move = { orderId: id, at: shop.shop.clock.seconds(), who: "maker" } as const;
    await shop.db.q
      .update(schema.orders)
      .set({ cancelAskedAt: null })
      .where(eq(schema.orders.id, id));
    await shop.shop.orders.move({ ...move, to: "in-making", what: "begun" });
    const late = await send(`${path}/cancel`);
    expect([late.status, late.text.includes(begun)]).toEqual([409, true]);
    expect(late.html).toContain(`<a class="act" href="${path}">`);
    await shop.shop.orders.move({ ...move, to: "made", what: "made" });
    await shop.shop.orders.move({ ...move, to: "sent", what: "sent" });
    const over = await look(`${path}/erase`);
    for (const { text } of [erasing, wished, late, over]) expect(englishLeft(text)).toEqual([]);
  });

  it("pages of what goes wrong say it by its code, and faults of the form by theirs", async () => {
    const { path, till } = await anOrder();
    const pages = {
      unknown: await look("/nowhere"),
      order: await look(`${path.slice(0, -1)}/receipt`),
      early: await look(`${path}/receipt`),
      product: await look("/shop/moonlight"),
      foreign: await look(`${till}/pay`, {
        method: "POST",
        headers: { ...ours, "sec-fetch-site": "cross-site" },
      }),
      base: await quoteForm({ base: "moon" }),
      many: await quoteForm({ quantity: "9999" }),
      jar: await quoteForm({ jar: "bucket" }),
      zone: await quoteForm({ zone: "moon" }),
    };
    expect(Object.values(pages).map(({ status }) => status)).toEqual([
      ...[404, 404, 409, 404, 403],
      ...[422, 422, 422, 422],
    ]);
    expect(pages.unknown.text).toContain(nothing);
    for (const [name, { html, text }] of Object.entries(pages)) {
      expect([name, html.includes(`<html lang="${locale}">`)]).toEqual([name, true]);
      expect([name, englishLeft(text)]).toEqual([name, []]);
    }
  });

  it("while the shop cannot be read, its page speaks as the browser asks", async () => {
    const { first } = shop.shop.shops;
    shop.shop.shops.first = () => Promise.reject(new Error("the disk is gone"));
    try {
      const asks = { ...ours, "accept-language": `${locale},${locale.slice(0, 2)};q=0.9,en;q=0.1` };
      const { status, html, text } = await look("/", { headers: asks });
      expect([status, text.includes(failed)]).toEqual([500, true]);
      expect(html).toContain(`<html lang="${locale.slice(0, 2)}">`);
      expect(englishLeft(text)).toEqual([]);
    } finally {
      shop.shop.shops.first = first;
    }
  });
});

describe("an order that a host shop sent in a language", () => {
  it("is read in it, whatever the shop speaks; a tag that is none is passed over", async () => {
    await speak("de-AT");
    const { path, id } = await aPaidOrder();
    const inLanguage = async (language: string) => {
      await shop.db.q.update(schema.orders).set({ language }).where(eq(schema.orders.id, id));
      const pages = [await look(path), await look(`${path}/receipt`), await look(`${path}/erase`)];
      return pages.map(({ html }) => /<html lang="([^"]*)"/.exec(html)?.[1]);
    };
    expect(await inLanguage("fr")).toEqual(["fr", "fr", "fr"]);
    expect(await inLanguage("de")).toEqual(["de-AT", "de-AT", "de-AT"]);
    expect(await inLanguage("en-12")).toEqual(["de-AT", "de-AT", "de-AT"]);
  });
});

describe("the maker's side", () => {
  it("stays English in a shop of another language", async () => {
    await speak("de-DE");
    const headers = { ...ours, cookie: await shop.signIn() };
    const { status, html, text } = await look("/maker/orders/unheard-of", { headers });
    expect([status, html.includes('<html lang="en">')]).toEqual([404, true]);
    expect(text).toContain("There is no order of that reference.");
  });
});

it("an address that leads nowhere has its page also where the app stands in another", async () => {
  const outer = new Hono().route("/", shop.app);
  const answer = await outer.request("http://shop.test/nowhere", { headers: ours });
  expect([answer.status, await answer.text()]).toEqual([404, expect.stringContaining("<main>")]);
});

it("English is noticed where it stands", async () => {
  await speak("en-GB");
  expect(englishLeft((await look("/nowhere")).text).length).toBeGreaterThan(2);
});
