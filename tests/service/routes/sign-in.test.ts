/**
 * Coming in at the maker's door and keeping a way in: passkeys by an authenticator in software, the recovery code, and
 * who is sent where.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { passkeys, people, sessions } from "#data/schema.ts";
import type { Problem } from "#core/wire.ts";
import { issueSignInLink } from "#service/actions/sign-in.ts";
import { createApp } from "#service/app.ts";
import { openShop } from "#service/ports.ts";
import { type Behaviour, SoftPasskey } from "../../helpers/authenticator.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

const ORIGIN = "http://localhost:8787";
const HERE: Behaviour = { origin: ORIGIN };
const OURS = { "sec-fetch-site": "same-origin" };

let shop: TestShop;
let app: ReturnType<typeof createApp>;
beforeEach(async () => {
  shop = await openTestShop();
  app = createApp(openShop({ ...shop.shop, url: ORIGIN }));
});
afterEach(() => shop.close());

const ask = (path: string, init: RequestInit = {}) =>
  Promise.resolve(app.request(`${ORIGIN}${path}`, init));

const look = (path: string, cookie = "") => ask(path, { headers: { cookie, accept: "text/html" } });

const press = (path: string, cookie = "", fields: Record<string, string> = {}) =>
  ask(path, {
    method: "POST",
    headers: { ...OURS, cookie, accept: "text/html" },
    body: new URLSearchParams(fields),
  });

const send = (path: string, body: unknown, cookie = "", headers: Record<string, string> = OURS) =>
  ask(path, {
    method: "POST",
    headers: { ...headers, cookie, "content-type": "application/json" },
    body: JSON.stringify(body),
  });

const cookieOf = (answer: Response) => answer.headers.get("set-cookie")?.split(";")[0] ?? "";

async function comeByLink(name = "Maya", personId: string | null = null): Promise<Response> {
  const link = await issueSignInLink({ ...shop.shop, url: ORIGIN }, "quillfen", personId);
  return await press(new URL(link).pathname, "", { name });
}

/** Add a passkey to whoever is signed in. */
async function added(cookie: string, behaviour: Behaviour = HERE) {
  const passkey = new SoftPasskey();
  const options = await (await send("/maker/you/passkeys/options", {}, cookie)).json();
  const response = passkey.create(options, behaviour);
  const answer = await send("/maker/you/passkeys", { name: "Tablet", response }, cookie);
  return { passkey, answer, options, response };
}

async function enterBy(passkey: SoftPasskey, behaviour: Behaviour = HERE, to = "/maker") {
  const options = await (await send("/maker/enter/options", {})).json();
  const response = passkey.get(options, behaviour);
  return { answer: await send("/maker/enter/passkey", { to, response }), response };
}

const codeOf = async (answer: Response) =>
  ((await answer.json()) as Problem & { code: string }).code;

async function recoveryCode(cookie: string): Promise<string> {
  const page = await (await press("/maker/you/recovery-code", cookie)).text();
  return [...page.matchAll(/<span>([0-9A-Z]{4})<\/span>/g)].map(([, group]) => group).join("-");
}

describe("the first visit", () => {
  it("makes the shop's first owner, once, and invites to a way in that lasts", async () => {
    const first = await comeByLink("Maya \u202e 🧈");
    expect([first.status, first.headers.get("location")]).toEqual([303, "/maker/you"]);
    const page = await (await look("/maker/you", cookieOf(first))).text();
    expect(page).toContain("You have no way to come back yet");
    expect(page).toContain("Maya 🧈");
    await comeByLink("Somebody else");
    expect(await shop.db.q.select().from(people)).toMatchObject([
      { name: "Maya 🧈", role: "owner", shopId: "quillfen" },
    ]);
    await added(cookieOf(first));
    expect((await comeByLink()).headers.get("location")).toBe("/maker");
  });
});

describe("a passkey", () => {
  it("is added by name, and lets its person in where they wanted to go", async () => {
    const cookie = cookieOf(await comeByLink());
    const { passkey, answer, options } = await added(cookie);
    expect(answer.status).toBe(201);
    expect(options).toMatchObject({
      rp: { id: "localhost", name: "Quillfen" },
      attestation: "none",
      authenticatorSelection: { residentKey: "required", userVerification: "required" },
    });
    const { answer: entered } = await enterBy(passkey, HERE, "/maker/orders?state=paid");
    expect(await entered.json()).toEqual({ to: "/maker/orders?state=paid" });
    expect(entered.headers.get("set-cookie")).toMatch(/HttpOnly.*SameSite=Lax/);
    const page = await (await look("/maker/you", cookieOf(entered))).text();
    for (const words of ["Maya", "Tablet", "last used", "2 browsers"])
      expect(page).toContain(words);
  });

  it.each<[string, Behaviour]>([
    ["made on another site", { origin: "http://localhost:9999" }],
    ["made for another site", { ...HERE, rpId: "elsewhere.test" }],
    ["made without asking for finger, face or PIN", { ...HERE, verifiesUser: false }],
  ])("is not added: %s", async (_, behaviour) => {
    const cookie = cookieOf(await comeByLink());
    const { answer } = await added(cookie, behaviour);
    expect([answer.status, await codeOf(answer)]).toEqual([403, "maker.passkey.refused"]);
    expect(await shop.db.q.select().from(passkeys)).toEqual([]);
  });

  it.each<[string, Behaviour]>([
    ["used on another site", { origin: "http://localhost:9999" }],
    ["used for another site", { ...HERE, rpId: "elsewhere.test" }],
    ["used without asking for finger, face or PIN", { ...HERE, verifiesUser: false }],
  ])("lets nobody in: %s", async (_, behaviour) => {
    const { passkey } = await added(cookieOf(await comeByLink()));
    const { answer } = await enterBy(passkey, behaviour);
    expect([answer.status, await codeOf(answer)]).toEqual([403, "maker.passkey.refused"]);
    expect(answer.headers.get("set-cookie")).toBeNull();
    expect((await enterBy(passkey)).answer.status).toBe(200);
  });

  it("answers a question once, within five minutes, and not another's", async () => {
    const cookie = cookieOf(await comeByLink());
    const { passkey, response } = await added(cookie);
    const again = await send("/maker/you/passkeys", { name: "Twice", response }, cookie);
    expect(await codeOf(again)).toBe("maker.passkey.refused");
    const { response: used } = await enterBy(passkey);
    const replayed = await send("/maker/enter/passkey", { to: "/maker", response: used });
    expect(await codeOf(replayed)).toBe("maker.passkey.refused");
    const options = await (await send("/maker/enter/options", {})).json();
    shop.pass(301);
    const late = passkey.get(options, HERE);
    expect((await send("/maker/enter/passkey", { to: "/maker", response: late })).status).toBe(403);
    const own = await (await send("/maker/you/passkeys/options", {}, cookie)).json();
    const made = passkey.get({ ...own, rpId: "localhost" }, HERE);
    expect((await send("/maker/enter/passkey", { to: "/maker", response: made })).status).toBe(403);
  });

  it("is refused, and noted for the operator, when its counter goes backwards", async () => {
    const { passkey } = await added(cookieOf(await comeByLink()), { ...HERE, counter: 1 });
    expect((await enterBy(passkey, { ...HERE, counter: 7 })).answer.status).toBe(200);
    for (const counter of [7, 3, 0]) {
      const { answer } = await enterBy(passkey, { ...HERE, counter });
      expect([answer.status, await codeOf(answer)]).toEqual([403, "maker.passkey.copied"]);
      expect(answer.headers.get("set-cookie")).toBeNull();
    }
    expect(shop.logged).toContainEqual({ passkey: "counter went backwards", shop: "quillfen" });
    expect((await enterBy(passkey, { ...HERE, counter: 8 })).answer.status).toBe(200);
  });

  it("is refused with another's signature or another's name in it", async () => {
    const cookie = cookieOf(await comeByLink());
    const { passkey: one } = await added(cookie);
    const { passkey: two } = await added(cookie);
    const options = await (await send("/maker/enter/options", {})).json();
    const mine = one.get(options, HERE);
    const theirs = two.get(options, HERE);
    const mixed = { ...mine, response: { ...mine.response, signature: theirs.response.signature } };
    expect((await send("/maker/enter/passkey", { to: "", response: mixed })).status).toBe(403);
    const other = await (await send("/maker/enter/options", {})).json();
    const named = one.get(other, HERE);
    const handle = Buffer.from("somebody else").toString("base64url");
    const renamed = { ...named, response: { ...named.response, userHandle: handle } };
    expect((await send("/maker/enter/passkey", { to: "", response: renamed })).status).toBe(403);
  });

  it("is renamed, removed and put back; the last way in is not removed", async () => {
    const cookie = cookieOf(await comeByLink());
    const { passkey } = await added(cookie);
    const at = `/maker/you/passkeys/${passkey.id.toString("base64url")}`;
    await press(`${at}/name`, cookie, { name: "هاتف قديم" });
    expect((await press(`${at}/name`, cookie, { name: " \u200b " })).status).toBe(422);
    expect(await (await look("/maker/you", cookie)).text()).toContain("هاتف قديم");
    const last = await press(`${at}/remove`, cookie);
    expect([last.status, await last.text()]).toEqual([
      409,
      expect.stringContaining("your only way in"),
    ]);
    await added(cookie);
    expect((await press(`${at}/remove`, cookie)).status).toBe(303);
    expect((await enterBy(passkey)).answer.status).toBe(403);
    expect((await press(`${at}/restore`, cookie)).status).toBe(303);
    expect((await enterBy(passkey)).answer.status).toBe(200);
    expect((await press("/maker/you/passkeys/none/remove", cookie)).status).toBe(404);
  });

  it("is asked for and answered on our own pages only", async () => {
    const cookie = cookieOf(await comeByLink());
    const foreign = { "sec-fetch-site": "cross-site" };
    for (const path of [
      ...["/maker/enter/options", "/maker/enter/passkey"],
      ...["/maker/you/passkeys/options", "/maker/you/passkeys"],
    ]) {
      const answer = await send(path, {}, cookie, foreign);
      expect([path, await codeOf(answer)]).toEqual([path, "request.origin.foreign"]);
    }
  });

  it.each([
    ["nothing", {}, 422],
    ["no credential", { to: "/maker", response: { id: "x" } }, 422],
    ["an endless id", { to: "/maker", response: { id: "x".repeat(2000) } }, 422],
  ])("is not made of %s", async (_, body, status) => {
    expect((await send("/maker/enter/passkey", body)).status).toBe(status);
  });

  it.each([
    "",
    "%%%",
    Buffer.from("[]").toString("base64url"),
    Buffer.from("{").toString("base64"),
  ])("is not read from the client data %j", async (clientDataJSON) => {
    const fields = { clientDataJSON, authenticatorData: "", signature: "" };
    const named = { id: "x", rawId: "x", type: "public-key", clientExtensionResults: {} };
    const body = { to: "/maker", response: { ...named, response: fields } };
    expect(await codeOf(await send("/maker/enter/passkey", body))).toBe("maker.passkey.refused");
  });

  it("is not offered where browsers hold none, and the page says why", async () => {
    const page = await (await shop.request("/maker/enter")).text();
    expect(page).toContain("Passkeys need an address that begins with https");
    expect(page).toContain("recovery code");
    const asked = await shop.post("/maker/enter/options", {}, OURS);
    expect([asked.status, await codeOf(asked)]).toEqual([422, "maker.passkey.impossible"]);
  });
});

describe("the recovery code", () => {
  it("is shown once, is kept as a hash, works once, ends every other visit, and then asks for a new one", async () => {
    const cookie = cookieOf(await comeByLink());
    const code = await recoveryCode(cookie);
    expect(code).toMatch(/^([0-9A-HJKMNP-TV-Z]{4}-){6}[0-9A-HJKMNP-TV-Z]{4}$/);
    const [row] = await shop.db.q.select().from(people);
    expect(JSON.stringify(row)).not.toContain(code.replaceAll("-", ""));
    expect(await (await look("/maker/you", cookie)).text()).not.toContain(code.slice(0, 4));
    const sloppy = ` ${code.toLowerCase().replaceAll("-", " – ").replaceAll("1", "l").replaceAll("0", "o")} `;
    const entered = await press("/maker/enter/code", "", { code: sloppy, to: "/maker/orders" });
    expect([entered.status, entered.headers.get("location")]).toEqual([
      303,
      "/maker/you?code=used",
    ]);
    const page = await (await look("/maker/you?code=used", cookieOf(entered))).text();
    expect(page).toContain("that code is void now. Print a new one");
    // Whoever holds what was lost is out.
    expect((await look("/maker/you", cookie)).headers.get("location")).toMatch(/^\/maker\/enter/);
    const again = await press("/maker/enter/code", "", { code });
    expect([again.status, await again.text()]).toEqual([
      403,
      expect.stringContaining("not a recovery code that is still good"),
    ]);
  });

  it("is void when a new one is made or its person removed, and nothing else opens", async () => {
    const cookie = cookieOf(await comeByLink());
    const older = await recoveryCode(cookie);
    const newer = await recoveryCode(cookie);
    for (const code of [older, "", "null", "0".repeat(28), "x".repeat(60_000), newer.slice(1)]) {
      expect((await press("/maker/enter/code", "", { code })).status).toBe(403);
    }
    await shop.db.atomic([shop.db.q.update(people).set({ removedAt: 1 })]);
    expect((await press("/maker/enter/code", "", { code: newer })).status).toBe(403);
  });
});

describe("somebody who is not signed in", () => {
  it("is shown the door and comes back to where they wanted to go", async () => {
    const asked = await look("/maker/batches/251125-01?print=1&x=a%20b");
    expect(asked.status).toBe(303);
    const door = asked.headers.get("location")!;
    expect(door).toBe("/maker/enter?to=%2Fmaker%2Fbatches%2F251125-01%3Fprint%3D1%26x%3Da%2520b");
    expect(await (await look(door)).text()).toContain(
      'data-to="/maker/batches/251125-01?print&#x3D;1&amp;x&#x3D;a%20b"',
    );
    const cookie = cookieOf(await comeByLink());
    const through = await look(door, cookie);
    expect(through.headers.get("location")).toBe("/maker/batches/251125-01?print=1&x=a%20b");
  });

  it.each([
    ...["https://elsewhere.test/maker", "//elsewhere.test/maker", "/\\elsewhere.test/maker"],
    ...["javascript:alert(1)", "/maker/../orders", "/makers", "/maker/enter?to=x", "/maker/leave"],
    ...["http://[", "/maker/%2e%2e/x", "data:text/html,x", "\t//elsewhere.test"],
  ])("is not sent to %j", async (to) => {
    const cookie = cookieOf(await comeByLink());
    const answer = await look(`/maker/enter?to=${encodeURIComponent(to)}`, cookie);
    expect(answer.headers.get("location")).toBe("/maker");
  });

  it("hears that nothing was saved when a form comes too late, and a program gets a problem", async () => {
    const form = await press("/maker/shop", "", { name: "x" });
    expect([form.status, await form.text()]).toEqual([401, expect.stringContaining("another tab")]);
    const program = await ask("/maker");
    expect([program.status, await codeOf(program)]).toEqual([401, "maker.sign-in.needed"]);
  });
});

describe("signing out everywhere", () => {
  it("ends every visit of the person and nobody else's", async () => {
    const [one, two] = [cookieOf(await comeByLink()), cookieOf(await comeByLink())];
    const owner = (await shop.db.q.select().from(people))[0]!;
    const other = { ...owner, id: crypto.randomUUID(), name: "Hand", role: "bench" as const };
    await shop.shop.people.add(other);
    const third = cookieOf(await comeByLink("", other.id));
    expect((await press("/maker/you/leave-everywhere", one)).status).toBe(303);
    expect((await look("/maker/you", two)).headers.get("location")).toMatch(/^\/maker\/enter/);
    expect((await look("/maker/you", third)).status).toBe(200);
    const left = shop.db.q.select().from(sessions).where(eq(sessions.personId, owner.id));
    expect(await left).toEqual([]);
  });
});
