/**
 * The maker's page of keys: a secret is shown once, a key can be renewed and revoked, and the bench sees none of it.
 */
import { afterAll, beforeAll, expect, it } from "vitest";
import { apiKeys } from "#data/schema.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let cookie: string;
beforeAll(async () => {
  shop = await openTestShop();
  cookie = await shop.signIn();
});
afterAll(() => shop.close());

const HERE = "/maker/shop/keys";
const open = async () => (await shop.request(HERE, { headers: { cookie } })).text();
const send = (path: string, fields: Record<string, string> = {}) =>
  shop.request(path, {
    method: "POST",
    headers: { cookie, "sec-fetch-site": "same-origin" },
    body: new URLSearchParams(fields),
  });
const secretOn = (page: string) => /softset_[\w-]{43}/.exec(page)?.[0];
const use = (secret: string) =>
  shop.request("/v1/orders", { headers: { authorization: `Bearer ${secret}` } });

it("makes a key, shows its secret once, and never again", async () => {
  const id = /name="id" value="([^"]+)"/.exec(await open())![1]!;
  const made = await send(HERE, { id, name: "Larder & Lane" });
  expect(made.headers.get("cache-control")).toBe("no-store");
  const secret = secretOn(await made.text())!;
  expect((await use(secret)).status).toBe(200);
  const later = await open();
  expect(later).toContain("Larder &amp; Lane");
  expect(later).toContain("last used");
  expect(secretOn(later)).toBeUndefined();
  const twice = await send(HERE, { id, name: "Larder & Lane" });
  expect([twice.status, twice.headers.get("location")]).toEqual([303, HERE]);
  expect(await shop.db.q.select().from(apiKeys)).toHaveLength(1);
  expect((await use(secret)).status).toBe(200);
});

it("gives another secret, then revokes the key for good", async () => {
  const [{ id } = { id: "" }] = await shop.db.q.select().from(apiKeys);
  const renewed = secretOn(await (await send(`${HERE}/${id}/renew`)).text())!;
  expect((await use(renewed)).status).toBe(200);
  expect((await send(`${HERE}/${id}/revoke`)).status).toBe(303);
  expect((await use(renewed)).status).toBe(401);
  for (const step of ["renew", "revoke"]) {
    expect((await send(`${HERE}/${id}/${step}`)).status).toBe(404);
  }
  expect(await open()).toContain("revoked");
});

it("keeps what was typed when a key has no name", async () => {
  const answer = await send(HERE, { id: crypto.randomUUID(), name: "   " });
  expect(answer.status).toBe(422);
  expect(await answer.text()).toContain('role="alert"');
  expect((await send(HERE, { id: "k", name: "Shop" })).status).toBe(404);
});
