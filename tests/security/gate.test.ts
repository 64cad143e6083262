/**
 * What stands before the shop: requests sent from other sites, sessions in cookies, origins that may embed, and how
 * often one client may ask.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Problem } from "#core/wire.ts";
import { issueSignInLink } from "#service/actions/sign-in.ts";
import { createApp } from "#service/app.ts";
import { clientAddress } from "#service/guard/client-address.ts";
import { COUNTERS, edgeLimits } from "#service/guard/edge-limits.ts";
import { LIMITS } from "#service/guard/limits.ts";
import { tokenBuckets } from "#service/guard/token-buckets.ts";
import { readSettings } from "#service/settings.ts";
import { readFileSync } from "node:fs";
import { type GuardedShop, ORIGIN, OWN, addressOf, openGuardedShop } from "./guarded-shop.ts";
import { RULES } from "./route-rules.ts";

let shop: GuardedShop;
beforeAll(async () => {
  shop = await openGuardedShop();
});
afterAll(() => shop.close());

const codeOf = async (answer: Response) => ((await answer.json()) as Problem).code;

/** How a request looks that another site made a visitor's browser send, and one from a browser that says nothing. */
const FOREIGN: readonly Readonly<Record<string, string>>[] = [
  { "sec-fetch-site": "cross-site" },
  { "sec-fetch-site": "same-site", origin: "https://evil.shop.test" },
  { "sec-fetch-site": "none" },
  { "sec-fetch-site": "", origin: "https://elsewhere.example" },
  { "sec-fetch-site": "", origin: "null" },
  { "sec-fetch-site": "" },
  { "sec-fetch-site": "cross-site", "content-type": "application/json" },
  { "sec-fetch-site": "cross-site", "content-type": "text/plain" },
];

describe("a request that another site sends with a visitor's cookie or link", () => {
  it("is turned away by every route that changes something of somebody's", async () => {
    // The public API and the plain order know no cookie: nobody else's rights go along.
    const isOpen = (route: string) =>
      RULES.get(route) === "open" || /POST \/(v1|shop)\//.test(route);
    const posts = [...RULES.keys()].filter((route) => route.startsWith("POST") && !isOpen(route));
    expect(posts.length).toBeGreaterThan(80);
    const odd: unknown[] = [];
    for (const [at, route] of posts.entries()) {
      const path = addressOf(route.slice(5), shop.things);
      // Each of the ways on some routes, and the plainest on all.
      for (const headers of [FOREIGN[0]!, FOREIGN[1 + (at % (FOREIGN.length - 1))]!]) {
        const answer = await shop.ask("owner", "POST", path, {
          accept: "application/json",
          headers,
        });
        const code = await codeOf(answer);
        if (code !== "request.origin.foreign") odd.push([route, headers, answer.status, code]);
      }
    }
    expect(odd).toEqual([]);
  });
});

describe("a session", () => {
  const enter = async () => {
    const link = await issueSignInLink(shop.shop, OWN);
    const entered = await shop.ask("nobody", "POST", link.slice(ORIGIN.length));
    return entered.headers.get("set-cookie")!;
  };
  const opens = async (cookie: string) =>
    (await shop.request("/maker", { headers: { cookie: cookie.split(";")[0]! } })).status;

  it("stands in a cookie of this host alone, out of reach of scripts and other sites", async () => {
    const cookie = await enter();
    expect(cookie).toMatch(
      /^__Host-softset=[\w-]{43}; Max-Age=\d+; Path=\/; HttpOnly; Secure; SameSite=Lax$/,
    );
  });

  it("is another with each sign-in, and ends when one leaves", async () => {
    const [first, second] = [await enter(), await enter()];
    expect(first.split(";")[0]).not.toBe(second.split(";")[0]);
    expect([await opens(first), await opens(second)]).toEqual([200, 200]);
    const headers = { cookie: first.split(";")[0]!, "sec-fetch-site": "same-origin" };
    const left = await shop.request("/maker/leave", { method: "POST", headers });
    expect(left.headers.get("set-cookie")).toMatch(/^__Host-softset=; Max-Age=0; Path=\/; Secure/);
    expect([await opens(first), await opens(second)]).toEqual([401, 200]);
  });

  it("is told of in the log, as is every way in that did not open, and never whose or by which secret", async () => {
    const { logged } = shop.test;
    logged.length = 0;
    const link = await issueSignInLink(shop.shop, OWN);
    for (let i = 0; i < 2; i++) await shop.ask("nobody", "POST", link.slice(ORIGIN.length));
    await shop.ask("nobody", "POST", "/maker/enter/code", {
      body: new URLSearchParams({ code: "wrong" }),
    });
    await shop.ask("bench", "GET", "/maker/prices");
    await shop.ask("owner", "POST", "/maker/shop", { headers: { "sec-fetch-site": "cross-site" } });
    expect(logged.map(({ request: _, ...line }) => line)).toEqual([
      { note: "signed in", by: "link" },
      { code: "maker.link.spent", path: "/maker/enter/:token" },
      { note: "not signed in", by: "code" },
      { code: "maker.role.not-enough", path: expect.stringContaining("/maker") as string },
      { code: "request.origin.foreign", path: expect.stringContaining("/maker") as string },
    ]);
    expect(JSON.stringify(logged)).not.toContain(link.slice(-43));
  });

  it("is no session by the name a cookie may have without https, nor one that a visitor chose", async () => {
    const secret = (await enter()).split(";")[0]!.split("=")[1]!;
    expect(await opens(`softset=${secret}`)).toBe(401);
    expect(await opens("__Host-softset=chosen-by-the-visitor")).toBe(401);
  });
});

/** Origins that look like one the shop named, and are not. */
const STRANGE = [
  ...["https://a.example.evil.test", "https://evila.example", "https://www.a.example"],
  ...["http://a.example", "https://a.example:444", "https://a.example.", "https://b.example"],
  ...["null", "*", "https://a.example, https://b.example:8443", undefined],
];

describe("pages of other shops", () => {
  const embedders = readSettings({
    SOFTSET_EMBEDDERS: "https://a.example, https://b.example:8443",
  }).embedders;
  const ask = async (origin: string | undefined, init: RequestInit = {}, path = "/v1/products") => {
    const app = createApp(shop.shop, { embedders });
    const headers = { ...init.headers, ...(origin ? { origin } : {}) };
    return (await app.request(`${ORIGIN}${path}`, { ...init, headers })).headers;
  };
  const allowed = (headers: Headers) => headers.get("access-control-allow-origin");

  it("may call the API when the shop named them, and no others", async () => {
    const mine = await ask("https://a.example");
    expect([allowed(mine), mine.get("vary")]).toEqual(["https://a.example", "Origin"]);
    expect(allowed(await ask("https://b.example:8443", {}, "/v1/products/none"))).toBe(
      "https://b.example:8443",
    );
    for (const other of STRANGE) expect([other, allowed(await ask(other))]).toEqual([other, null]);
  });

  it("may read nothing that is somebody's, whoever they are and whether or not the shop named any", async () => {
    const { order, reference } = shop.things;
    const paths = ["/", `/orders/${order}`, "/maker", `/maker/orders/${reference}`, "/v1/orders"];
    for (const named of [undefined, embedders]) {
      const app = createApp(shop.shop, { embedders: named });
      for (const origin of ["https://a.example", ...STRANGE]) {
        for (const path of paths) {
          for (const method of ["GET", "POST", "OPTIONS"]) {
            // A customer's own order is placed from pages of other shops; a key never goes along.
            const withKey = path.startsWith("/v1") ? { authorization: "Bearer none" } : {};
            const headers = { ...(origin ? { origin } : {}), ...withKey };
            const answer = await app.request(`${ORIGIN}${path}`, { method, headers });
            const told = ["origin", "credentials"].map((what) =>
              answer.headers.get(`access-control-allow-${what}`),
            );
            expect([method, path, origin, ...told]).toEqual([method, path, origin, null, null]);
          }
        }
      }
    }
  });

  it("are told before they send, also when what they send is too large", async () => {
    const headers = { "access-control-request-method": "POST" };
    const before = await ask("https://a.example", { method: "OPTIONS", headers }, "/v1/quotes");
    expect([allowed(before), before.get("access-control-allow-methods")]).toEqual([
      "https://a.example",
      "GET, POST",
    ]);
    expect(
      allowed(await ask("https://c.example", { method: "OPTIONS", headers }, "/v1/quotes")),
    ).toBeNull();
    const large = { method: "POST", body: "x".repeat(70_000) };
    expect(allowed(await ask("https://a.example", large, "/v1/quotes"))).toBe("https://a.example");
  });

  it("are origins and nothing else", () => {
    const wrong = "https://a.example/shop, a.example, *";
    expect(() => readSettings({ SOFTSET_EMBEDDERS: wrong })).toThrow(
      /“https:\/\/a.example\/shop” is no origin[\s\S]*“a.example”[\s\S]*“\*”/,
    );
  });
});

it("a page that is refused before its route has the headers of a page", async () => {
  const body = "x".repeat(70_000);
  const answer = await shop.ask("nobody", "POST", "/shop/everyday/quote", { body });
  expect(answer.status).toBe(413);
  expect(answer.headers.get("content-security-policy")).toContain("frame-ancestors 'none'");
  expect(answer.headers.get("strict-transport-security")).toBe("max-age=31536000");
});

describe("a client who asks too often", () => {
  let now = 0;
  const limited = () => {
    const clientOf = (c: { req: { header(name: string): string | undefined } }) =>
      c.req.header("client");
    return createApp(shop.shop, { limiter: { clientOf, take: tokenBuckets(() => now) } });
  };
  const POSTS: readonly (readonly [keyof typeof LIMITS, string])[] = [
    ["sign-in", "/maker/enter/code"],
    ["sign-in", "/maker/enter/options"],
    ["sign-in", "/maker/enter/passkey"],
    ["search", "/v1/nearest"],
    ["search", "/v1/wishes"],
    ["quote", "/v1/quotes"],
    ["quote", "/shop/none/quote"],
    ["order", "/v1/orders"],
    ["order", "/shop/everyday/quote/none/order"],
  ];

  it.each(POSTS)("is told how long to wait: %s at %s", async (kind, path) => {
    const app = limited();
    const send = async (client: string, more: Readonly<Record<string, string>> = {}) =>
      await app.request(`${ORIGIN}${path}`, { method: "POST", headers: { client, ...more } });
    for (let i = 0; i < LIMITS[kind]; i++) expect((await send("a")).status).not.toBe(429);
    const refused = await send("a");
    expect([refused.status, await codeOf(refused)]).toEqual([429, "request.rate.exceeded"]);
    const waitS = Number(refused.headers.get("retry-after"));
    expect(waitS).toBe(Math.ceil(60 / LIMITS[kind]));
    expect((await send("b")).status).not.toBe(429);
    now += waitS;
    expect((await send("a")).status).not.toBe(429);
  });

  it("reads so on a page in the shop's own words", async () => {
    const app = limited();
    const send = (accept: string) => {
      const headers = { client: "c", accept };
      return app.request(`${ORIGIN}/shop/none/quote`, { method: "POST", headers });
    };
    for (let i = 0; i < LIMITS.quote; i++) await send("application/json");
    const page = await send("text/html");
    expect([page.status, page.headers.get("retry-after")]).toEqual([429, "1"]);
    expect(await page.text()).toContain("Too many requests came from your address");
  });

  it("is not counted when a key is trusted with orders, nor when there is no client", async () => {
    const app = limited();
    const send = (headers: Record<string, string>) =>
      app.request(`${ORIGIN}/v1/orders`, { method: "POST", headers });
    for (let i = 0; i < 40; i++) {
      expect((await send({ client: "d", authorization: "Bearer none" })).status).toBe(401);
      expect((await send({})).status).toBe(415);
    }
  });

  it("finds a bucket that fills evenly, also when the clock goes back, and no more of them than are kept", async () => {
    let at = 100;
    const take = tokenBuckets(() => at, 3);
    const drain = async (client: string) => {
      let taken = 0;
      while ((await take("order", client)) === 0) taken++;
      return taken;
    };
    expect(await drain("a")).toBe(LIMITS.order);
    at -= 50;
    expect(await drain("a")).toBe(0);
    at += 30;
    expect(await drain("a")).toBe(LIMITS.order / 2);
    for (const other of ["b", "c", "d"]) await take("order", other);
    expect(await drain("a")).toBe(LIMITS.order); // it made room for the others
  });

  it("is known by an address, and IPv6 by its subnet", () => {
    expect(clientAddress("203.0.113.7")).toBe("203.0.113.7");
    expect(clientAddress("::ffff:203.0.113.7")).toBe("203.0.113.7");
    const home = clientAddress("2001:db8:1:2:aaaa::1");
    expect(home).toBe(clientAddress("2001:db8:1:2:bbbb:cccc::9"));
    expect(home).not.toBe(clientAddress("2001:db8:1:3::1"));
    for (const here of ["127.0.0.1", "::1", "::ffff:127.0.0.1", "", "no address", undefined]) {
      expect(clientAddress(here)).toBeUndefined();
    }
    // What the client wrote itself stands before what the proxy added.
    expect(clientAddress("127.0.0.1", "198.51.100.1, 203.0.113.7")).toBe("203.0.113.7");
  });

  it("is counted at the edge by the counters that are bound there, with the same limits", async () => {
    const config = readFileSync(new URL("../../wrangler.toml", import.meta.url), "utf8");
    const bound = config.matchAll(
      /name = "(\w+)"\nnamespace_id = "\d+"\nsimple = \{ limit = (\d+), period = 60 \}/g,
    );
    const found = Object.fromEntries([...bound].map(([, name, most]) => [name, Number(most)]));
    const wanted = Object.entries(COUNTERS).map(([kind, name]) => [
      name,
      LIMITS[kind as keyof typeof LIMITS],
    ]);
    expect(found).toEqual(Object.fromEntries(wanted));
    const keys: string[] = [];
    const limit = async ({ key }: { key: string }) => ({ success: keys.push(key) < 2 });
    const { take } = edgeLimits({ SIGN_INS: { limit } });
    expect([await take("sign-in", "a"), await take("sign-in", "a")]).toEqual([0, 60]);
    expect([await take("order", "a"), keys]).toEqual([0, ["a", "a"]]);
  });
});
