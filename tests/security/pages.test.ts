/**
 * Every page and document there is, of a shop whose names are all hostile: nothing of them gets out of its place, and
 * each answer carries the headers its kind must have.
 */
import Papa from "papaparse";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type GuardedShop, addressOf, openGuardedShop } from "./guarded-shop.ts";
import { HOSTILE, unescapedIn } from "./hostile-names.ts";
import { RULES } from "./route-rules.ts";

interface Seen {
  readonly route: string;
  readonly status: number;
  readonly type: string;
  readonly headers: Headers;
  readonly text: string;
}

let shop: GuardedShop;
let seen: Seen[];
beforeAll(async () => {
  shop = await openGuardedShop();
  seen = [];
  for (const [route] of RULES) {
    if (!route.startsWith("GET ")) continue;
    seen.push(await look("owner", route));
    // Refused, for its headers; a key opens only what is its own.
    seen.push(await look(RULES.get(route) === "key" ? "key" : "nobody", route));
  }
});
afterAll(() => shop.close());

async function look(role: "owner" | "nobody" | "key", route: string): Promise<Seen> {
  const answer = await shop.ask(role, "GET", addressOf(route.slice(4), shop.things));
  const { status, headers } = answer;
  const type = (headers.get("content-type") ?? "").split(";")[0]!;
  return { route: `${role}: ${route}`, status, type, headers, text: await answer.text() };
}

const of = (...types: string[]) => seen.filter(({ type }) => types.includes(type));

describe("hostile names", () => {
  it("stand escaped on every page and in every picture", () => {
    const pages = of("text/html", "image/svg+xml");
    const showing = pages.filter(({ text }) => text.includes("zqmark"));
    expect(pages.flatMap(({ route, text }) => unescapedIn(text).map((at) => [route, at]))).toEqual(
      [],
    );
    expect(showing.length).toBeGreaterThan(60);
    for (const each of [
      "/sheets",
      "/receipt",
      "/contents",
      "/0.svg",
      "/labels",
      "/trace",
      "/messages",
    ]) {
      expect(
        showing.some(({ route }) => route.replace(/\{.*/, "/0.svg").endsWith(each)),
        each,
      ).toBe(true);
    }
  });

  it("begin no formula in a table", () => {
    const tables = of("text/csv").filter(({ status }) => status === 200);
    const cells = tables.flatMap(({ text }) =>
      Papa.parse<string[]>(text.replace(/^\uFEFF/, "")).data.flat(),
    );
    expect(cells.filter((cell) => /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/.test(cell))).toEqual([]);
    expect(cells.filter((cell) => cell.startsWith("'=zqmark")).length).toBeGreaterThan(20);
    expect(tables.length).toBeGreaterThan(5);
  });

  it("stay text in the data that search engines read", () => {
    const { text } = seen.find(({ route }) => route === "nobody: GET /shop/:product")!;
    const [, block = ""] = /<script type="application\/ld\+json">(.*?)<\/script>/s.exec(text)!;
    expect((JSON.parse(block) as { name: string }).name).toContain(HOSTILE);
    expect(block).not.toMatch(/[<>&]/);
  });

  it("begin no header of a mail, and no tag in one", () => {
    expect(shop.letters.length).toBeGreaterThan(2);
    for (const { subject, from, to, html } of shop.letters) {
      expect([subject, from.name, from.email, to.name, to.email].join()).not.toMatch(/\p{Cc}/u);
      expect(unescapedIn(html)).toEqual([]);
    }
    expect(shop.letters.some(({ html }) => html.includes("zqmark"))).toBe(true);
  });

  it("are found where they are not escaped", () => {
    const core = `zqmark"'<i>&qz`;
    for (const planted of [
      ...[
        `<p>${core}</p>`,
        `<p>zqmark"'&lt;i&gt;&amp;qz</p>`,
        `<a title='zqmark&quot;'&lt;i&gt;&amp;qz'>`,
      ],
      ...[`<script>${JSON.stringify(core)}</script>`, `<p>zqmark&quot;&#x27;<i></p>`],
    ]) {
      expect(unescapedIn(planted), planted).toHaveLength(1);
    }
    expect(unescapedIn(`<p title="zqmark&quot;&#x27;&lt;i&gt;&amp;qz">zqmark-i-qz</p>`)).toEqual(
      [],
    );
  });
});

describe("every answer", () => {
  it("is never guessed at, and holds the browser to https for a year", () => {
    for (const { route, headers } of seen) {
      expect([route, headers.get("x-content-type-options")]).toEqual([route, "nosniff"]);
      expect([route, headers.get("content-security-policy")]).toEqual([
        route,
        expect.stringMatching(/default-src 'none'.*base-uri 'none'.*frame-ancestors 'none'/),
      ]);
      const https = headers.get("strict-transport-security");
      expect([route, https]).toEqual([route, "max-age=31536000"]);
    }
  });

  it("as a page runs nothing from elsewhere, and stands in no frame", () => {
    const pages = of("text/html");
    expect(pages.length).toBeGreaterThan(60);
    for (const { route, headers } of pages) {
      const policy = headers.get("content-security-policy") ?? "";
      expect([route, policy]).toEqual([route, expect.stringContaining("default-src 'none'")]);
      for (const part of [
        "script-src 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
        "form-action 'self'",
      ]) {
        expect([route, policy]).toEqual([route, expect.stringContaining(`${part}`)]);
      }
      expect(policy).not.toMatch(/unsafe|\*|https?:/);
      expect(headers.get("referrer-policy")).toBe("no-referrer");
      expect(headers.get("cross-origin-opener-policy")).toBe("same-origin");
    }
  });

  it("has no script or style in the page itself, nor a handler in a tag", () => {
    for (const { route, text } of of("text/html")) {
      const found =
        /<script(?![^>]*(\ssrc=|application\/(ld\+)?json))[^>]*>|<[^>]*\son\w+=|<style|\sstyle=/i.exec(
          text,
        );
      expect([route, found?.[0]]).toEqual([route, undefined]);
    }
  });

  it("that holds somebody's work or order is kept by no cache and found by no search engine", () => {
    const open = /: GET (\/$|\/shop\/:product$|\/assets|\/v1)/;
    for (const { route, headers, status } of seen) {
      const rule = RULES.get(route.slice(route.indexOf("GET")));
      if (rule === "open" || status === 404 || open.test(route)) continue;
      const told = [headers.get("cache-control"), headers.get("x-robots-tag")];
      const isKeyed = rule === "key" || route.includes("/v1/");
      expect([route, ...told]).toEqual([route, "no-store", isKeyed ? null : "noindex"]);
    }
    const withKey = seen.filter(({ route }) => route.startsWith("key: GET /v1/orders"));
    expect(withKey.map(({ headers }) => headers.get("cache-control"))).toEqual([
      "no-store",
      "no-store",
    ]);
  });

  it("is read by pages of others only where nothing is anybody's", () => {
    for (const { route, headers } of seen) {
      const isOpen =
        /: GET \/(v1|assets)/.test(route) && RULES.get(route.split(": ")[1]!) !== "key";
      expect([route, headers.get("access-control-allow-origin")]).toEqual([
        route,
        isOpen ? "*" : null,
      ]);
      expect(headers.get("access-control-allow-credentials")).toBeNull();
    }
  });

  it("names a file it hands out in letters that end no header", () => {
    const names = seen.flatMap(({ headers }) => headers.get("content-disposition") ?? []);
    expect(names.length).toBeGreaterThan(8);
    for (const name of names) expect(name).toMatch(/^attachment; filename="[\w.-]+"$/);
  });
});
