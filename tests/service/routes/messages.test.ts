/**
 * The page of messages: what it shows, what its buttons do, and what it never shows.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deliverDue } from "#service/messages/deliver.ts";
import { CUSTOMER, SHOP, openToldShop, startReceiver } from "../messages/a-told-shop.ts";

let receiver: Awaited<ReturnType<typeof startReceiver>>;
let test: Awaited<ReturnType<typeof openToldShop>>;
let cookie: string;
let orderId: string;

beforeAll(async () => {
  receiver = await startReceiver((response) => response.writeHead(410).end("inner words"));
  test = await openToldShop();
  cookie = await test.signIn();
  await test.listen(receiver.url);
  orderId = await test.place();
  await test.pay(orderId);
  await deliverDue(test.shop);
});
afterAll(async () => {
  test.close();
  await receiver.close();
});

const look = async (path = "/maker/messages") =>
  await (await test.request(path, { headers: { cookie, accept: "text/html" } })).text();

const press = (path: string, fields: Record<string, string> = {}) =>
  test.request(`/maker/messages${path}`, {
    method: "POST",
    headers: { cookie, "sec-fetch-site": "same-origin", accept: "text/html" },
    body: new URLSearchParams(fields),
  });

const message = async (wanted: (row: Awaited<ReturnType<typeof test.told>>[0]) => boolean) =>
  (await test.told()).find((row) => wanted(row))!;

describe("the page of messages", () => {
  it("shows what waits and what failed, to whom, and never the address of a customer", async () => {
    const page = await look();
    const { reference } = (await test.shop.orders.byId(orderId))!;
    expect(page).toMatch(/2 messages could not be delivered/);
    expect(page).toContain("Mail is not set up.");
    expect(page).toMatch(/<strong>Confirmation<\/strong> to <bdi>the customer<\/bdi>/);
    expect(page).toMatch(/<strong>Work to do<\/strong> to <bdi>you<\/bdi>/);
    expect(page).toContain(`/maker/orders/${reference}`);
    expect(page).toContain("switched off: it answered that it is gone for good");
    expect(page).not.toContain(CUSTOMER);
    expect(page).not.toContain("inner words");
    expect(page).not.toContain("whsec_");
  });

  it("tells the bench's owner that something could not be told", async () => {
    const page = await look("/maker");
    expect(page).toContain(
      "2 messages could not be delivered. A host shop is no longer told of orders.",
    );
  });

  it("sends again what failed, once the address is on", async () => {
    const failed = await message(({ state }) => state === "failed");
    receiver.answerWith((response) => response.end());
    expect((await press("/endpoints/host-1/on")).status).toBe(303);
    expect((await press(`/${failed.id}/again`)).status).toBe(303);
    await deliverDue(test.shop);
    expect((await message(({ id }) => id === failed.id)).state).toBe("sent");
    expect(await look()).toContain("1 message could not be delivered");
  });

  it("drops one, and all mails that wait", async () => {
    const failed = await message(({ state }) => state === "failed");
    await press(`/${failed.id}/drop`);
    expect((await message(({ id }) => id === failed.id)).state).toBe("dropped");
    await press("/drop-mails");
    expect((await test.told()).filter(({ state }) => state === "waiting")).toEqual([]);
    expect(await look()).toContain("All is told");
  });

  it("says what is wrong with an address, keeps what was typed, and adds nothing", async () => {
    const id = test.shop.numbers.id();
    const answer = await press("/endpoints", { id, url: 'https://10.0.0.1/"><script>' });
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toMatch(
      /This address lies inside a private network|must begin with|whole address/,
    );
    expect(page).toContain("https://10.0.0.1/&quot;&gt;&lt;script&gt;");
    expect(await test.shop.eventEndpoints.ofShop(SHOP)).toHaveLength(1);
  });

  it("shows a secret once: when an address is added and when the secret is changed", async () => {
    const id = test.shop.numbers.id();
    const added = await (await press("/endpoints", { id, url: "https://host.example/e" })).text();
    const secret = /whsec_[A-Za-z0-9+/]+=*/.exec(added.replaceAll("&#x3D;", "="))![0];
    expect((await test.shop.eventEndpoints.byId(SHOP, id))!.secret).toBe(secret);
    const twice = await press("/endpoints", { id, url: "https://host.example/e" });
    expect(twice.status).toBe(422);
    const changed = await (await press(`/endpoints/${id}/secret`)).text();
    expect(changed).toMatch(/whsec_/);
    expect(changed.replaceAll("&#x3D;", "=")).not.toContain(secret);
    expect(await look()).not.toMatch(/whsec_/);
    expect((await press(`/endpoints/${id}/trial`)).status).toBe(303);
    expect((await message(({ purpose }) => purpose === "softset.trial")).endpointId).toBe(id);
    await press(`/endpoints/${id}/off`);
    expect(await look()).toMatch(/host\.example<\/bdi><\/strong>, switched off</);
  });

  it.each([
    ...[
      "/endpoints/none/secret",
      "/endpoints/none/trial",
      "/endpoints/none/off",
      "/endpoints/none/on",
    ],
    ...["/none/again", "/none/drop"],
  ])("changes nothing at %s, which is not there", async (path) => {
    expect((await press(path)).status).toBe(404);
  });

  it("refuses a form that is not whole", async () => {
    expect((await press("/endpoints", { url: "https://host.example/" })).status).toBe(404);
  });
});
