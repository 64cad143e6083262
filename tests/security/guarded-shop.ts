/**
 * A shop whose every name is hostile, with something of each kind in it, and another shop beside it in the same
 * database: what the tests of rights, headers and escaping ask.
 */
import { eq } from "drizzle-orm";
import type { BlendLinkAnswer, OrderAnswer, QuoteAnswer } from "#core/wire.ts";
import * as schema from "#data/schema.ts";
import { DEMO_SHOP } from "#data/seeds/demo.ts";
import { issueBatch } from "#service/actions/issue-batch.ts";
import { issueSignInLink, newSession } from "#service/actions/sign-in.ts";
import { createApp } from "#service/app.ts";
import { deliverDue } from "#service/messages/deliver.ts";
import type { Letter } from "#service/messages/senders.ts";
import { makeApiKey } from "#service/plugin/keys.ts";
import { type Shop, openShop } from "#service/ports.ts";
import type { PersonRow } from "#service/storage/people.ts";
import { aQuoteRequest, openTestShop } from "../helpers/shop.ts";
import { aTestJar } from "../service/storage/contract-rows.ts";
import { HOSTILE, poisonNames } from "./hostile-names.ts";

export const OWN = "quillfen";
export const OTHER = "otherwick";
export const ORIGIN = "https://shop.test";

/** Whoever may knock; "stranger" is the owner of the other shop, and the strange key that shop's. */
export const ROLES = ["nobody", "bench", "owner", "stranger", "key", "strange key"] as const;
export type Role = (typeof ROLES)[number];

export type GuardedShop = Awaited<ReturnType<typeof openGuardedShop>>;

/** What is asked beside method and address. */
export interface Asked {
  readonly accept?: string;
  readonly body?: string | FormData | URLSearchParams;
  readonly headers?: Readonly<Record<string, string>>;
}

export async function openGuardedShop() {
  const letters: Letter[] = [];
  const at = { name: "", email: "post@shop.test" };
  const send = async (letter: Letter) => void letters.push(letter);
  const senders = { mail: { from: at, maker: at, send }, events: undefined };
  const test = await openTestShop({}, ":memory:", senders);
  const shop = openShop({ ...test.shop, url: ORIGIN });
  const app = createApp(shop);
  const request = async (path: string, init: RequestInit = {}) =>
    await app.request(`${ORIGIN}${path}`, init);
  const guarded = await fillShop(shop, request);
  await deliverDue(shop);
  return { ...{ test, shop, app, request, letters }, ...guarded, close: test.close };
}

/** Fill the demo shop with hostile names, people, keys and something of each kind, and put another beside it. */
export async function fillShop(shop: Shop, request: Open["request"]) {
  await setOut(shop);
  await poisonNames(shop.db);
  await addOther(shop);
  const people = await peopleOf(shop);
  const makeKey = async (id: string, shopId: string, name: string) =>
    (await makeApiKey(shop, { id, shopId, name, madeBy: null }))!;
  const keys = {
    own: await makeKey("key-own", OWN, HOSTILE),
    other: await makeKey("key-other", OTHER, "Other"),
  };

  /** Headers somebody comes with; each time with a session of its own, since a route may end it. */
  async function as(role: Role): Promise<Record<string, string>> {
    if (role === "nobody") return {};
    if (role === "key") return { authorization: `Bearer ${keys.own}` };
    if (role === "strange key") return { authorization: `Bearer ${keys.other}` };
    const { token, row } = await newSession(shop, people[role]);
    await shop.db.write(shop.db.q.insert(schema.sessions).values(row));
    return { cookie: `__Host-softset=${token}` };
  }

  /** Ask as somebody, from the shop's own pages; a POST sends an empty form when nothing is said. */
  async function ask(role: Role, method: string, path: string, asked: Asked = {}) {
    const { accept = "text/html", body = new URLSearchParams(), headers = {} } = asked;
    const own = { accept, "sec-fetch-site": "same-origin", ...(await as(role)), ...headers };
    return await request(path, { method, headers: own, ...(method === "GET" ? {} : { body }) });
  }

  const things = await fill({ shop, people, request, ask });
  return { as, ask, people, things };
}

/** What there is of the shop, by what an address may call it. */
export type Things = Awaited<ReturnType<typeof fill>>;

async function addOther({ db: { q, write }, shops }: Shop): Promise<void> {
  const row = (await shops.byId(OWN))!;
  const { zones: _, ...set } = DEMO_SHOP.particulars;
  const particulars = JSON.stringify({ ...set, maker: "Otherwick Workshop" });
  await write(q.insert(schema.shops).values({ ...row, id: OTHER, name: "Otherwick", particulars }));
}

/** What the demo shop leaves out and a page shows. */
async function setOut({ db: { q, write }, shops }: Shop): Promise<void> {
  const { particulars } = (await shops.byId(OWN))!;
  const responsible = { name: "Quillfen Workshop", address: "1 Long Lane" };
  const carriage = [{ id: "post", name: "Post", minor: 395, days: { least: 2, most: 4 } }];
  const withdrawal = { kind: "own-words", words: "You may send it back." };
  const set = { ...(JSON.parse(particulars) as object), responsible, carriage, withdrawal };
  const values = { particulars: JSON.stringify({ ...set, deliverTo: ["GB"] }) };
  await write(q.update(schema.shops).set(values).where(eq(schema.shops.id, OWN)));
}

async function peopleOf(shop: Shop): Promise<Record<"owner" | "bench" | "stranger", PersonRow>> {
  const join = async (shopId: string, name: string, role: PersonRow["role"]) => {
    const id = crypto.randomUUID();
    await shop.people.add({ id, shopId, name, role, createdAt: 1 });
    return (await shop.people.byId(shopId, id))!;
  };
  return {
    owner: await join(OWN, `Maya ${HOSTILE}`, "owner"),
    bench: await join(OWN, `Hand ${HOSTILE}`, "bench"),
    stranger: await join(OTHER, "Stranger", "owner"),
  };
}

interface Open {
  readonly shop: Shop;
  readonly people: Awaited<ReturnType<typeof peopleOf>>;
  request(path: string, init?: RequestInit): Promise<Response>;
  ask(role: Role, method: string, path: string, asked?: Asked): Promise<Response>;
}

/** Something of each kind that an address can name. */
async function fill(open: Open) {
  const { shop, ask } = open;
  const bought = await buy(open);
  const standing = await buy(open);
  const hosted = await buyAtHost(open);
  const { id: orderId } = (await shop.orders.byReference(OWN, bought.order.reference))!;
  const owner = (await shop.shops.byId(OWN))!;
  const issued = await issueBatch(shop, owner, {
    orderIds: [orderId],
    personId: null,
    goShort: true,
  });
  if (!("number" in issued)) throw new Error("the batch was not issued");
  const { number } = issued;
  const words = new URLSearchParams({ words: HOSTILE, title: HOSTILE, seen: "99" });
  await ask("bench", "POST", `/maker/batches/${number}/record/note`, { body: words });
  const label = { market: "gb", size: "", paper: "a4", because: HOSTILE, "count-0": "1" };
  const printed = await ask("owner", "POST", `/maker/batches/${number}/labels`, {
    body: new URLSearchParams(label),
  });
  const sequence = /printed\/(\d+)/.exec(printed.headers.get("location") ?? "")?.[1];
  if (!sequence) throw new Error(`no labels: ${printed.status} ${await printed.text()}`);
  const jar = aTestJar({ title: HOSTILE, lot: HOSTILE, note: HOSTILE });
  await shop.testJars.add(jar);
  const [lot] = await shop.lots.ofShop(OWN);
  const link = await issueSignInLink(shop, OWN);
  const url = "https://host.example/events";
  await shop.eventEndpoints.add({
    ...{ id: "host-1", shopId: OWN, url },
    secret: "whsec_AA",
    createdAt: 1,
  });
  const [message] = await shop.messages.inState(OWN, "waiting", 1);
  const upload = crypto.randomUUID();
  const text = `ingredient,name\n"${HOSTILE.replaceAll('"', '""')}",x\n`;
  await shop.csvUploads.add({
    ...{ id: upload, shopId: OWN, kind: "ingredients", text },
    receivedAt: 9e9,
  });
  const passkey = { id: "passkey-1", personId: open.people.owner.id, name: HOSTILE };
  const unused = { publicKey: "AA", counter: 0, transports: "[]", createdAt: 1 };
  await shop.db.write(shop.db.q.insert(schema.passkeys).values({ ...passkey, ...unused }));
  return {
    number,
    reference: bought.order.reference,
    hosted,
    order: new URL(bought.order.orderUrl).pathname.slice("/orders/".length),
    another: new URL(standing.order.orderUrl).pathname.slice("/orders/".length),
    till: standing.till,
    quote: bought.quote.quote.id,
    code: bought.code,
    sequence,
    jar: jar.id,
    lot: lot!.id,
    link: link.slice(link.lastIndexOf("/") + 1),
    message: message?.id ?? "none",
    upload,
    passkey: passkey.id,
    hand: open.people.bench.id,
  };
}

const json = (body: object, headers: Record<string, string> = {}) => ({
  method: "POST",
  headers: { "content-type": "application/json", ...headers },
  body: JSON.stringify(body),
});

/** A customer's own order; paid by somebody of a hostile name. */
async function buy({ request, ask }: Open) {
  const asked = aQuoteRequest();
  const quote = (await (await request("/v1/quotes", json(asked))).json()) as QuoteAnswer;
  const { product, choice, jar } = asked;
  const linked = await request("/v1/blend-links", json({ product, choice, jar }));
  const { code } = (await linked.json()) as BlendLinkAnswer;
  const placed = await request("/v1/orders", json({ quote: quote.token }));
  const order = (await placed.json()) as OrderAnswer;
  const till = new URL(order.payUrl!).pathname;
  const who = { name: HOSTILE, email: "linde@customer.example", way: "0", country: "GB" };
  const where = { street: HOSTILE, city: HOSTILE, postcode: HOSTILE };
  const paid = await ask("nobody", "POST", `${till}/pay`, {
    body: new URLSearchParams({ ...who, ...where }),
  });
  if (paid.status !== 303) throw new Error(`not paid: ${await paid.text()}`);
  return { quote, order, code, till };
}

/** An order that a host shop placed with its key. */
async function buyAtHost({ request, ask }: Open): Promise<string> {
  const quoted = await request("/v1/quotes", json(aQuoteRequest()));
  const { token, quote } = (await quoted.json()) as QuoteAnswer;
  const [name] = HOSTILE.split("\r");
  const paid = { amountMinor: quote.totalMinor, currency: quote.currency.code };
  const address = { lines: [name], city: name, region: name, postcode: "QF1 1AA", country: "GB" };
  const body = {
    ...{ quote: token, hostReference: name, paid, customer: { name } },
    deliverTo: { name, ...address },
  };
  const headers = { "content-type": "application/json", "idempotency-key": "one" };
  const placed = await ask("key", "POST", "/v1/orders", { body: JSON.stringify(body), headers });
  if (placed.status !== 201) throw new Error(await placed.text());
  return ((await placed.json()) as { reference: string }).reference;
}

/** What a parameter of a route stands for, by the part of the address before it; the first line that fits counts. */
const MEETS: readonly (readonly [RegExp, (things: Things) => string])[] = [
  [/^\/v1\/blend-links\/$/, ({ code }) => code],
  [/^\/v1\/orders\/$/, ({ hosted }) => hosted],
  [/^\/assets\//, () => "print.css"],
  [/^\/till\//, ({ till }) => till.slice("/till/".length)],
  [/\/quote\/$/, ({ quote }) => quote],
  [/^\/maker\/enter\/$/, ({ link }) => link],
  [/\/(orders|sent)\/$/, ({ reference }) => reference],
  [/\/batches\/$/, ({ number }) => number],
  [/\/correction\/$/, () => "1"],
  [/\/printed\/$/, ({ sequence }) => sequence],
  [/\/printed\/[^/]*\/$/, () => "0.svg"],
  [/\/kitchen\/jars\/$/, ({ jar }) => jar],
  [/\/(products|shop)\/$/, () => "everyday"],
  [/\/versions\/$/, () => "1"],
  [/\/bases\/$/, () => "soft-shea"],
  [/\/shelf\/files\/$/, ({ upload }) => upload],
  [/\/shelf\/lots\/$/, ({ lot }) => lot],
  [/\/shelf\/$/, () => "shea-butter"],
  [/\/passkeys\/$/, ({ passkey }) => passkey],
  [/\/endpoints\/$/, () => "host-1"],
  [/\/messages\/$/, ({ message }) => message],
  [/\/people\/$/, ({ hand }) => hand],
  [/\/shop\/keys\/$/, () => "key-own"],
  [/\/zones\/$/, () => "near"],
];

/** The address of a route, with something of the shop in place of each parameter. */
export function addressOf(path: string, things: Things): string {
  return path
    .replace(/:file\{(\w+)-.*$/, "$1-a4.pdf")
    .replaceAll(/\{[^}]*\}/g, "")
    .replace(":order/:token", things.order)
    .split("/")
    .reduce((before, step) => {
      if (step === "recall.csv") return `${before}/recall.csv?lot=${things.lot}`;
      if (!step.startsWith(":")) return `${before}/${step}`;
      const meets = MEETS.find(([pattern]) => pattern.test(`${before}/`))?.[1];
      if (!meets) throw new Error(`nothing stands for ${step} in ${path}`);
      return `${before}/${meets(things)}`;
    });
}
