/**
 * What customers and a host shop do in a visit: look around, order at the till or at the host shop, come back to look
 * where an order stands. Whoever gets an error at the order tries again, as people do.
 */
import { setTimeout as wait } from "node:timers/promises";
import type { Choice } from "#core/compose/product.ts";
import { startingChoice } from "#core/compose/product.ts";
import type { Chance } from "#core/order/room/sequence.ts";
import type { OrderAnswer, ProductOffer, QuoteAnswer } from "#core/wire.ts";
import { type Answered, type Asked, NotAnswered, type Visitor } from "./ask.ts";

/** An order somebody may come back to, or the bench may make. */
export interface KnownOrder {
  readonly id: string;
  readonly reference: string;
  readonly path: string;
  /** Product and base: what can be made together. */
  readonly base: string;
  isPaid: boolean;
}

/** What was answered and paid, to be looked for afterwards. */
export interface Books {
  readonly placed: Set<string>;
  readonly paid: Set<string>;
  /** The newest, for whoever comes back. */
  readonly orders: KnownOrder[];
  /** Paid and not in a batch yet, by base. */
  readonly toMake: Map<string, string[]>;
}

/** A choice as a customer has it on the page. */
export interface OnOffer {
  readonly product: string;
  readonly choice: Choice;
  readonly jars: readonly string[];
}

export interface Town {
  readonly chance: Chance;
  readonly books: Books;
  /** Choices that can be ordered. */
  readonly offers: readonly OnOffer[];
  /** The payment page: takes the money and hands back the signed news of it. */
  pay(session: string): Promise<{ readonly payload: string; readonly header: string }>;
  /** The news was taken in, so that the payment service does not list it any more. */
  heardOf(session: string): Promise<void>;
  readonly apiKey: string;
}

const PRODUCTS = ["everyday", "featherlight", "deep-winter", "evening"] as const;
const TRIES_MOST = 6;
/** Between tries [ms]; as patient as people who have chosen what they want */
const PAUSE_MS = 2500;
const KNOWN_MOST = 2000;
const ABANDONED_PART = 0.12;
const WITHOUT_SCRIPT_PART = 0.15;

export function draw<Thing>(chance: Chance, things: readonly Thing[]): Thing {
  return things[Math.floor(chance() * things.length)]!;
}

/** What can be ordered: the maker's own bases as they stand. */
export async function lookAtOffers(visitor: Visitor): Promise<OnOffer[]> {
  const found: OnOffer[] = [];
  for (const product of PRODUCTS) {
    const { text } = await visitor.ask({ kind: "offer", path: `/v1/products/${product}` });
    const offer = JSON.parse(text) as ProductOffer;
    const jars = offer.product.jars.map(({ id }) => id);
    for (const base of offer.product.bases) {
      const choice = startingChoice(base);
      const judged = await visitor.ask({
        kind: "verdict",
        path: "/v1/verdicts",
        json: { product, choice },
      });
      const { verdict } = JSON.parse(judged.text) as { verdict: string };
      if (verdict === "orderable") found.push({ product, choice, jars });
    }
  }
  if (found.length < 3) throw new Error("the demo shop offers too little to order");
  return found;
}

/** Looks at a product, moves shares about, and goes. */
export async function lookAround(visitor: Visitor, { chance, offers }: Town): Promise<void> {
  const { product, choice } = draw(chance, offers);
  await visitor.ask({ kind: "product page", path: `/shop/${product}`, mayBreak: true });
  if (chance() < 0.3) await visitor.ask({ kind: "script", path: "/assets/softset.js" });
  await visitor.ask({ kind: "offer", path: `/v1/products/${product}`, mayBreak: true });
  for (let moves = 2 + Math.floor(chance() * 4); moves > 0; moves--) {
    const json = { product, choice: moved(choice, chance) };
    await visitor.ask({ kind: "verdict", path: "/v1/verdicts", json, mayBreak: true });
  }
  if (chance() < 0.15) {
    await visitor.ask({
      ...{ kind: "nearest blend", path: "/v1/nearest", mayBreak: true },
      json: { product, choice: moved(choice, chance) },
      allowed: [422],
    });
  }
}

/** Some hundredths of a percent from the first butter to the first oil; not every such choice can be ordered. */
function moved(choice: Choice, chance: Chance): Choice {
  const by = Math.floor(chance() * 6) * 50;
  const [butter, ...butters] = choice.butters;
  const [oil, ...oils] = choice.oils;
  if (!butter || !oil || butter.share <= by) return choice;
  return {
    ...choice,
    butters: [{ ...butter, share: butter.share - by }, ...butters],
    oils: [{ ...oil, share: oil.share + by }, ...oils],
  };
}

/** Orders and pays at the till. */
export async function buyAtTill(visitor: Visitor, town: Town): Promise<void> {
  const { chance, offers, books } = town;
  const on = draw(chance, offers);
  const order = await (chance() < WITHOUT_SCRIPT_PART
    ? orderByForms(visitor, town, on)
    : orderByScript(visitor, town, on));
  remember(books, order);
  books.placed.add(order.reference);
  if (order.session === undefined || chance() < ABANDONED_PART) {
    await visitor.ask({ kind: "order page", path: order.path });
    return;
  }
  // From here the money is taken, whatever the shop hears of it.
  const { payload, header } = await town.pay(order.session);
  books.paid.add(order.reference);
  const news = persist(() =>
    visitor.ask({
      ...{ kind: "payment event", path: "/v1/payment-events", mayBreak: true },
      json: payload,
      headers: { "stripe-signature": header },
    }),
  );
  // The customer is often back before the news.
  const [isHeard] = await Promise.all([
    isAnswered(news),
    chance() < 0.5 &&
      isAnswered(visitor.ask({ kind: "order page", path: order.path, mayBreak: true })),
  ]);
  if (!isHeard) return; // the shop will find it by itself
  await town.heardOf(order.session);
  paidFor(books, order);
  await visitor.ask({ kind: "order page", path: order.path, mayBreak: true });
}

interface Ordered extends KnownOrder {
  /** Of the till; nothing when there is nothing to pay. */
  readonly session: string | undefined;
}

async function orderByScript(visitor: Visitor, town: Town, on: OnOffer): Promise<Ordered> {
  const quoted = await quote(visitor, town, on);
  const answer = await persist(() =>
    visitor.ask({
      kind: "order",
      path: "/v1/orders",
      json: { quote: quoted.token },
      mayBreak: true,
    }),
  );
  const { reference, orderUrl, payUrl } = JSON.parse(answer.text) as OrderAnswer;
  return known(on, new URL(orderUrl).pathname, reference, payUrl ?? undefined);
}

async function orderByForms(visitor: Visitor, { chance }: Town, on: OnOffer): Promise<Ordered> {
  const page = `/shop/${on.product}`;
  await visitor.ask({ kind: "product page", path: page, mayBreak: true });
  const form: Asked["form"] = [
    ["base", on.choice.base],
    ["jar", draw(chance, on.jars)],
    ["quantity", String(1 + Math.floor(chance() * 3))],
    ["zone", ""],
  ];
  const asked = { kind: "quote by form", path: `${page}/quote`, form, mayBreak: true };
  const quoted = await persist(() => visitor.ask(asked));
  const quotePath = locationOf(quoted);
  await visitor.ask({ kind: "quote page", path: quotePath, mayBreak: true });
  const ordered = await persist(() =>
    visitor.ask({ kind: "order by form", path: `${quotePath}/order`, form: [], mayBreak: true }),
  );
  const path = locationOf(ordered);
  const { text } = await visitor.ask({ kind: "order page", path, mayBreak: true });
  const payUrl = /https:\/\/checkout\.example\/c\/pay\/\w+/.exec(text)?.[0];
  const standing = await visitor.ask({ kind: "order standing", path: `/v1${path}` });
  const { reference } = JSON.parse(standing.text) as { reference: string };
  return known(on, path, reference, payUrl);
}

/** A host shop's customer: quoted by the page, paid at the host shop, ordered by its server. */
export async function buyAtHostShop(visitor: Visitor, town: Town): Promise<void> {
  const { chance, offers, books, apiKey } = town;
  const on = draw(chance, offers);
  const { token, quote: quoted } = await quote(visitor, town, on);
  const hostReference = `H-${quoted.id.slice(0, 13)}`;
  const headers = { authorization: `Bearer ${apiKey}` };
  const json = {
    ...{ quote: token, hostReference },
    paid: { amountMinor: quoted.totalMinor, currency: quoted.currency.code },
    customer: { name: "Linde", email: "linde@customer.example" },
  };
  const answer = await persist(async () => {
    const asked = await visitor.ask({
      ...{ kind: "host order", path: "/v1/orders", json, mayBreak: true },
      headers: { ...headers, "idempotency-key": hostReference },
      allowed: [409],
    });
    // One that was broken off may still be at work.
    if (asked.status === 409) throw new NotAnswered("still at work");
    return asked;
  });
  const { reference, orderUrl } = JSON.parse(answer.text) as {
    reference: string;
    orderUrl: string;
  };
  const order = known(on, new URL(orderUrl).pathname, reference, undefined);
  remember(books, order);
  books.placed.add(reference);
  books.paid.add(reference);
  paidFor(books, order);
  const path = `/v1/orders/${reference}`;
  await visitor.ask({ kind: "order of host", path, headers, mayBreak: true });
}

/** Comes back to an order. */
export async function comeBack(visitor: Visitor, { chance, books }: Town): Promise<void> {
  if (books.orders.length === 0) return;
  const { path, isPaid } = draw(chance, books.orders);
  await visitor.ask({ kind: "order page", path, mayBreak: true });
  if (isPaid && chance() < 0.3) await visitor.ask({ kind: "receipt", path: `${path}/receipt` });
  if (chance() < 0.2) await visitor.ask({ kind: "order standing", path: `/v1${path}` });
}

async function quote(visitor: Visitor, { chance }: Town, on: OnOffer): Promise<QuoteAnswer> {
  const { product, choice, jars } = on;
  const json = { product, choice, jar: draw(chance, jars), quantity: 1 + Math.floor(chance() * 3) };
  const answer = await persist(() =>
    visitor.ask({ kind: "quote", path: "/v1/quotes", json, mayBreak: true }),
  );
  return JSON.parse(answer.text) as QuoteAnswer;
}

/** Try again after an error, which is counted each time. */
async function persist(work: () => Promise<Answered>): Promise<Answered> {
  for (let tries = 1; ; tries++) {
    try {
      return await work();
    } catch (error) {
      if (!(error instanceof NotAnswered) || tries === TRIES_MOST) throw error;
      await wait(PAUSE_MS * tries);
    }
  }
}

async function isAnswered(asked: Promise<Answered>): Promise<boolean> {
  try {
    await asked;
    return true;
  } catch (error) {
    if (!(error instanceof NotAnswered)) throw error;
    return false;
  }
}

function known(on: OnOffer, path: string, reference: string, payUrl: string | undefined): Ordered {
  return {
    ...{ id: path.split("/")[2]!, reference, path, isPaid: false },
    base: `${on.product} ${on.choice.base}`,
    session: payUrl?.split("/").at(-1),
  };
}

function remember({ orders }: Books, order: KnownOrder): void {
  orders.push(order);
  if (orders.length > KNOWN_MOST) orders.shift();
}

function paidFor({ toMake }: Books, order: KnownOrder): void {
  order.isPaid = true;
  toMake.set(order.base, [...(toMake.get(order.base) ?? []), order.id]);
}

export function locationOf({ headers }: Answered): string {
  const { location } = headers;
  if (!location) throw new Error("the answer leads nowhere");
  return new URL(location, "http://shop.example").pathname;
}
