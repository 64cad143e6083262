/**
 * Two shops in one process: what belongs to one is worth nothing at the other. Every route that is guarded is asked at
 * the second shop with what the first knows: its people’s sessions, its keys, its links, its ids, its signatures.
 */
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import type { QuoteAnswer } from "#core/wire.ts";
import { makeApiKey } from "#service/plugin/keys.ts";
import type { Shop } from "#service/ports.ts";
import { allRows } from "../helpers/all-rows.ts";
import { SoftPasskey } from "../helpers/authenticator.ts";
import { runShops, shopsFolder } from "../helpers/many-shops.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import { signEvent } from "../helpers/sign-event.ts";
import { addressOf, fillShop } from "./guarded-shop.ts";
import { RULES, type Rule } from "./route-rules.ts";

const FIRST = "quill.test";
const SECOND = "fern.test";

let shops: Awaited<ReturnType<typeof runShops>>;
let first: Awaited<ReturnType<typeof fillShop>>;
const logged = vi.spyOn(console, "error").mockImplementation(() => undefined);
beforeAll(async () => {
  shops = await runShops(shopsFolder({ [FIRST]: "", [SECOND]: "" }));
  first = await fillShop(shopAt(FIRST), (path, init) => shops.ask(FIRST, path, init));
  // Both are the demo, and each has a key of the same id: only the secrets differ.
  const key = { id: "key-own", shopId: "quillfen", name: "Its own", madeBy: null };
  await makeApiKey(shopAt(SECOND), key);
});
afterAll(async () => {
  await shops.close();
  logged.mockRestore();
});

const shopAt = (host: string): Shop => shops.open.get(host)!.shop;

/** Every row of a shop; visits that ended are swept away by whoever comes to the door. */
async function everything(host: string): Promise<string> {
  return JSON.stringify(await allRows(shopAt(host).db, ["passkey_challenges"]));
}

const under = (...rules: Rule[]) =>
  [...RULES].filter(([, rule]) => rules.includes(rule)).map(([route]) => route);

/** Ask the second shop, at the address of something of the first. */
async function askSecond(route: string, headers: Readonly<Record<string, string>>, body?: string) {
  const [method = "", path = ""] = route.split(" ");
  const address = addressOf(path, first.things);
  const isApi = address.startsWith("/v1");
  const type = isApi ? "application/json" : "application/x-www-form-urlencoded";
  const own = { accept: "application/json", "sec-fetch-site": "same-origin" };
  const answer = await shops.ask(SECOND, address, {
    method,
    headers: { ...own, ...(method === "GET" ? {} : { "content-type": type }), ...headers },
    ...(method === "GET" ? {} : { body: body ?? (isApi ? "{}" : "") }),
  });
  const text = await answer.text();
  return { status: answer.status, text, address };
}

/** What of the first shop an answer shows beside what it was asked for by. */
function shown(text: string, address: string): string[] {
  const { reference, hosted, number } = first.things;
  return ["zqmark", reference, hosted, number].filter(
    (mark) => text.includes(mark) && !address.includes(mark),
  );
}

/** Ask all, and nothing may come of it: no other status, nothing shown, no row changed in either shop. */
async function expectWorthless(
  routes: readonly string[],
  statuses: readonly number[],
  headersOf: () => Promise<Readonly<Record<string, string>>>,
): Promise<void> {
  expect(routes.length).toBeGreaterThan(2);
  const headers = await headersOf();
  const before = [await everything(FIRST), await everything(SECOND)];
  const odd: unknown[] = [];
  for (const route of routes) {
    const { status, text, address } = await askSecond(route, headers);
    const seen = shown(text, address);
    if (!statuses.includes(status) || seen.length > 0) odd.push([route, status, seen]);
  }
  expect(odd).toEqual([]);
  expect([await everything(FIRST), await everything(SECOND)]).toEqual(before);
}

describe("at another shop of the same process", () => {
  it("a session opens no route of the maker’s side", async () => {
    const owner = () => first.as("owner");
    expect((await shops.ask(FIRST, "/maker/shop", { headers: await owner() })).status).toBe(200);
    await expectWorthless(under("inside", "owner"), [401], owner);
  });

  it("a key opens nothing, though there is one of the same id", async () => {
    const key = () => first.as("key");
    expect((await shops.ask(FIRST, "/v1/orders", { headers: await key() })).status).toBe(200);
    await expectWorthless(under("key"), [401], key);
    const placed = await askSecond("POST /v1/orders", await key());
    expect(placed.status).toBe(401);
  });

  it("a link opens nothing, whoever holds it", async () => {
    const { order, code } = first.things;
    expect((await shops.ask(FIRST, `/orders/${order}`)).status).toBe(200);
    expect((await shops.ask(FIRST, `/v1/blend-links/${code}`)).status).toBe(200);
    for (const role of ["nobody", "owner"] as const) {
      await expectWorthless(under("link"), [400, 404, 410], () => first.as(role));
    }
  });

  it("a signed quote is taken for altered, and its keys are others", async () => {
    const asked = (host: string) =>
      shops.ask(host, "/v1/quotes", {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify(aQuoteRequest()),
      });
    const { token } = (await (await asked(FIRST)).json()) as QuoteAnswer;
    const before = await everything(SECOND);
    const { status, text } = await askSecond(
      "POST /v1/orders",
      {},
      JSON.stringify({ quote: token }),
    );
    expect([status, text]).toEqual([400, expect.stringContaining("order.quote.altered")]);
    expect(await everything(SECOND)).toBe(before);
    const keys = async (host: string) => await (await shops.ask(host, "/v1/quote-keys")).text();
    expect(await keys(FIRST)).not.toBe(await keys(SECOND));
  });

  it("a passkey is bound to a name that is not this one, and its challenge is unknown here", async () => {
    const enter = async (host: string, path: string, body: object) =>
      await shops.ask(host, `/maker/enter/${path}`, {
        method: "POST",
        headers: { "content-type": "application/json", "sec-fetch-site": "same-origin" },
        body: JSON.stringify(body),
      });
    const options = async (host: string) =>
      (await (await enter(host, "options", {})).json()) as { challenge: string; rpId: string };
    expect([(await options(FIRST)).rpId, (await options(SECOND)).rpId]).toEqual([FIRST, SECOND]);

    const here = { origin: `https://${FIRST}`, rpId: FIRST };
    const passkey = new SoftPasskey();
    const cookie = await first.as("owner");
    const mine = { ...cookie, "sec-fetch-site": "same-origin", "content-type": "application/json" };
    const make = async (path: string, body: object) =>
      await shops.ask(FIRST, `/maker/you/passkeys${path}`, {
        ...{ method: "POST", headers: mine, body: JSON.stringify(body) },
      });
    const made = passkey.create((await (await make("/options", {})).json()) as never, {
      ...{ ...here, counter: 1 },
    });
    expect((await make("", { name: "Tablet", response: made })).status).toBe(201);
    const signed = passkey.get(await options(FIRST), { ...here, counter: 2 });
    const refused = await enter(SECOND, "passkey", { to: "", response: signed });
    expect([refused.status, await refused.text()]).toEqual([
      403,
      expect.stringContaining("maker.passkey.refused"),
    ]);
    // Signed for the first shop and the other's own challenge.
    const forged = passkey.get(await options(SECOND), { ...here, counter: 3 });
    expect((await enter(SECOND, "passkey", { to: "", response: forged })).status).toBe(403);
    expect((await enter(FIRST, "passkey", { to: "", response: signed })).status).toBe(200);
  });
});

it("news of payments signed for one shop is not believed by another", async () => {
  const till = (name: string) =>
    `STRIPE_SECRET_KEY=sk_test_${name}\nSTRIPE_WEBHOOK_SECRETS=whsec_${name}\n`;
  const paid = await runShops(shopsFolder({ "a.test": till("a"), "b.test": till("b") }));
  const { payload, header } = await signEvent({ type: "customer.created" }, "whsec_a");
  const tell = async (host: string) => {
    const headers = { "content-type": "application/json", "stripe-signature": header };
    const answer = await paid.ask(host, "/v1/payment-events", {
      ...{ method: "POST", headers, body: payload },
    });
    return [answer.status, await answer.text()];
  };
  expect(await tell("b.test")).toEqual([400, expect.stringContaining("payment.signature.invalid")]);
  expect(await tell("a.test")).toEqual([200, expect.stringContaining('"received":true')]);
  await paid.close();
});
