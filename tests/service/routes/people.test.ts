/**
 * Who works in the shop: invited, given a role, removed and put back, by its owners.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { people, shops } from "#data/schema.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let cookie: string;
let ownerId: string;
beforeEach(async () => {
  shop = await openTestShop();
  cookie = await shop.signIn();
  ownerId = (await rows())[0]!.id;
});
afterEach(() => shop.close());

const PEOPLE = "/maker/shop/people";
const rows = () => shop.db.q.select().from(people);

const press = (path: string, fields: Record<string, string> = {}, who = cookie) =>
  shop.request(path, {
    method: "POST",
    headers: { "sec-fetch-site": "same-origin", cookie: who, accept: "text/html" },
    body: new URLSearchParams(fields),
  });

const look = (path: string, who = cookie) =>
  shop.request(path, { headers: { cookie: who, accept: "text/html" } });

/** Invite somebody and let them in by their link. */
async function arrive(name: string, role: "owner" | "bench", id: string = crypto.randomUUID()) {
  const page = await (await press(PEOPLE, { id, name, role })).text();
  const link = /http:\/\/shop\.test(\/maker\/enter\/[\w-]{43})/.exec(page)![1]!;
  expect(await (await look(link, "")).text()).toContain(name);
  const entered = await press(link, {}, "");
  expect(entered.headers.get("location")).toBe("/maker/you");
  return { id, link, cookie: entered.headers.get("set-cookie")!.split(";")[0]! };
}

describe("an invitation", () => {
  it("lets a bench person in by a link of their own, once, and shows who is who", async () => {
    const hand = await arrive("نور 🌿", "bench");
    expect((await press(hand.link, {}, "")).status).toBe(410);
    expect(await (await look("/maker/you", hand.cookie)).text()).toContain("نور 🌿");
    const page = await (await look(PEOPLE)).text();
    for (const words of ["نور 🌿", "Bench", "no passkey or code yet", "(you)"]) {
      expect(page).toContain(words);
    }
    expect(page).not.toContain("/maker/enter/");
    expect((await look(PEOPLE, hand.cookie)).status).toBe(403);
  });

  it("sent twice adds one person, and the first link is void", async () => {
    const form = { id: crypto.randomUUID(), name: "Hand", role: "bench" };
    const links = [];
    for (const _ of [1, 2]) {
      const page = await (await press(PEOPLE, form)).text();
      links.push(/(\/maker\/enter\/[\w-]{43})/.exec(page)![1]!);
    }
    expect(await rows()).toHaveLength(2);
    expect((await look(links[0]!, "")).status).toBe(410);
    expect((await look(links[1]!, "")).status).toBe(200);
  });

  it("expires after a week", async () => {
    const page = await (
      await press(PEOPLE, { id: crypto.randomUUID(), name: "Hand", role: "bench" })
    ).text();
    const link = /(\/maker\/enter\/[\w-]{43})/.exec(page)![1]!;
    shop.pass(7 * 24 * 3600 - 1);
    expect((await look(link, "")).status).toBe(200);
    shop.pass(1);
    expect((await look(link, "")).status).toBe(410);
  });

  it.each([
    ["no name", { name: "" }, 422],
    ["a name that cannot be seen", { name: "\u202e \u0007" }, 422],
    ["a name without end", { name: "x".repeat(81) }, 422],
    ["no id", { id: "" }, 404],
    ["an id of another kind", { id: "'; drop table people" }, 404],
  ])("is not made with %s", async (_, change, status) => {
    const form = { id: crypto.randomUUID(), name: "Hand", role: "bench", ...change };
    const answer = await press(PEOPLE, form);
    expect(answer.status).toBe(status);
    expect(await rows()).toHaveLength(1);
  });

  it("makes nobody an owner by a role it does not know", async () => {
    const form = { id: crypto.randomUUID(), name: "Hand", role: "OWNER" };
    await press(PEOPLE, form);
    expect((await rows()).map(({ role }) => role)).toEqual(["owner", "bench"]);
  });

  it("can be made again for somebody who has lost every way in", async () => {
    const hand = await arrive("Hand", "bench");
    const page = await (await press(`${PEOPLE}/${hand.id}/link`)).text();
    expect(page).toContain("A link for <bdi>Hand</bdi>");
    expect((await press(`${PEOPLE}/none/link`)).status).toBe(404);
  });
});

describe("a person", () => {
  it("is out at once when removed, and comes back when put back", async () => {
    const hand = await arrive("Hand", "bench");
    expect((await look("/maker/you", hand.cookie)).status).toBe(200);
    expect((await press(`${PEOPLE}/${hand.id}/remove`)).status).toBe(303);
    expect((await look("/maker/you", hand.cookie)).status).toBe(303);
    const page = await (await look(PEOPLE)).text();
    expect(page).toContain("signed out everywhere");
    expect((await press(`${PEOPLE}/${hand.id}/restore`)).status).toBe(303);
    expect((await press(`${PEOPLE}/${hand.id}/restore`)).status).toBe(303);
    expect((await look("/maker/you", hand.cookie)).status).toBe(303);
    expect((await rows()).every(({ removedAt }) => removedAt === null)).toBe(true);
  });

  it("sees what their role allows from the next page on", async () => {
    const hand = await arrive("Hand", "bench");
    expect((await look("/maker/shop", hand.cookie)).status).toBe(403);
    await press(`${PEOPLE}/${hand.id}/role`, { role: "owner" });
    expect((await look("/maker/shop", hand.cookie)).status).toBe(200);
    await press(`${PEOPLE}/${hand.id}/role`, { role: "bench" });
    expect((await look("/maker/shop", hand.cookie)).status).toBe(403);
    expect((await press(`${PEOPLE}/${hand.id}/role`, { role: "king" })).status).toBe(404);
  });

  it("is never the last owner to go, nor to be made bench", async () => {
    const second = await arrive("Second", "owner");
    for (const [path, fields] of [
      [`${PEOPLE}/${ownerId}/remove`, {}],
      [`${PEOPLE}/${ownerId}/role`, { role: "bench" }],
    ] as const) {
      const answer = await press(path, fields);
      expect([answer.status, await answer.text()]).toEqual([
        409,
        expect.stringContaining("keeps at least one owner"),
      ]);
    }
    await press("/maker/you/recovery-code", {}, second.cookie);
    expect((await press(`${PEOPLE}/${ownerId}/role`, { role: "bench" })).status).toBe(303);
    expect((await look("/maker/shop")).status).toBe(403);
    const alone = await press(`${PEOPLE}/${second.id}/remove`, {}, second.cookie);
    expect(alone.status).toBe(409);
  });

  it("of another shop is nobody here", async () => {
    const [here] = await rows();
    const shopRow = (await shop.shop.shops.byId("quillfen"))!;
    await shop.db.atomic([shop.db.q.insert(shops).values({ ...shopRow, id: "otherwick" })]);
    const theirs = { ...here!, id: crypto.randomUUID(), shopId: "otherwick", name: "Theirs" };
    await shop.shop.people.add(theirs);
    for (const what of ["link", "role", "remove", "restore"]) {
      const answer = await press(`${PEOPLE}/${theirs.id}/${what}`, { role: "bench" });
      expect([what, answer.status]).toEqual([what, 404]);
    }
    const form = { id: theirs.id, name: "Mine now", role: "bench" };
    expect((await press(PEOPLE, form)).status).toBe(404);
    expect(await (await look(PEOPLE)).text()).not.toContain("Theirs");
    expect(await shop.shop.people.byId("otherwick", theirs.id)).toMatchObject(theirs);
  });
});
