/**
 * Several shops in one process, over HTTP as it is sent: each under its name, none for another, and none held up by one
 * that fails.
 */
import { cpSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import type { Problem } from "#core/wire.ts";
import { LIMITS } from "#service/guard/limits.ts";
import { keysFile } from "#service/operations/kept-keys.ts";
import { SettingsFault } from "#service/settings.ts";
import { databaseIn, settingsFileIn } from "#service/shops-folder.ts";
import { runShops, shopsFolder } from "../helpers/many-shops.ts";
import { aQuoteRequest } from "../helpers/shop.ts";

const TOKEN = "a-token-of-twenty-letters";
const MOSS = "SOFTSET_SHOP=Moss\nSOFTSET_CURRENCY=EUR\nSOFTSET_TIME_ZONE=UTC\n";
type Shops = Awaited<ReturnType<typeof runShops>>;

const logged = vi.spyOn(console, "error").mockImplementation(() => undefined);
const lines = () =>
  logged.mock.calls.map(([line]) => JSON.parse(String(line)) as { shop?: string });
afterAll(() => logged.mockRestore());

const problemOf = async (answer: Response) => (await answer.json()) as Problem;
const json = (body: object) => ({
  method: "POST",
  headers: { "content-type": "application/json" },
  body: JSON.stringify(body),
});

describe("several shops", () => {
  let shops: Shops;
  beforeAll(async () => {
    const more = { SOFTSET_METRICS_TOKEN: TOKEN, SOFTSET_LOG: "json", SOFTSET_BEHIND_PROXY: "yes" };
    const settings = { "moss.test": MOSS, "quill.localhost": "", "fern.localhost": "" };
    shops = await runShops(shopsFolder(settings), more);
  });
  afterAll(() => shops.close());

  it("answer each under its own name, whatever the port and case", async () => {
    for (const host of ["moss.test", "MOSS.test:8443", "moss.test."]) {
      const page = await shops.ask(host, "/");
      expect([page.status, await page.text()]).toEqual([200, expect.stringContaining("Moss")]);
    }
    expect(await (await shops.ask("quill.localhost", "/")).text()).toContain("Quillfen");
    expect((await shops.ask("moss.test", "/shop/everyday")).status).toBe(404);
    expect((await shops.ask("quill.localhost", "/shop/everyday")).status).toBe(200);
  });

  it("have addresses of their own in what they say", async () => {
    const { token } = (await (
      await shops.ask("quill.localhost", "/v1/quotes", json(aQuoteRequest()))
    ).json()) as { token: string };
    const placed = await shops.ask("quill.localhost", "/v1/orders", json({ quote: token }));
    const { orderUrl } = (await placed.json()) as { orderUrl: string };
    expect(orderUrl).toMatch(new RegExp(`^http://quill\\.localhost:${shops.port}/orders/`));
    expect(shops.open.get("moss.test")!.shop.url).toBe("https://moss.test");
    // The other demo shop knows as little of the quote as of the order.
    const other = await shops.ask("fern.localhost", "/v1/orders", json({ quote: token }));
    expect((await problemOf(other)).code).toBe("order.quote.altered");
    expect((await shops.ask("fern.localhost", new URL(orderUrl).pathname)).status).toBe(404);
  });

  it.each(["other.test", "127.0.0.1", "[::1]", "localhost", "moss.test.evil.test"])(
    "are none of them %s, which is told 421 and nothing else",
    async (host) => {
      for (const path of ["/", "/v1/products", "/maker", "/readyz", "/metrics"]) {
        const answer = await shops.ask(host, path);
        expect(answer.status).toBe(421);
        const problem = await problemOf(answer);
        expect(problem.code).toBe("request.host.unknown");
        expect(JSON.stringify(problem)).not.toMatch(/Moss|quill|fern/);
      }
      const page = await shops.ask(host, "/", { headers: { accept: "text/html" } });
      expect(await page.text()).toContain(`There is no shop called ${host} here`);
      // That the process lives may be asked by an address, as those do who watch over it.
      expect((await shops.ask(host, "/healthz")).status).toBe(200);
    },
  );

  it("take the name of an absolute target before that of the Host line (RFC 9112 section 3.2.2)", async () => {
    const answer = await shops.ask("moss.test", "http://quill.localhost/v1/products");
    expect(((await answer.json()) as { products: unknown[] }).products).not.toEqual([]);
  });

  it("limit a client each on its own", async () => {
    const headers = { "x-forwarded-for": "203.0.113.9" };
    const knock = async (host: string) =>
      (await shops.ask(host, "/maker/enter/code", { method: "POST", headers })).status;
    for (let n = 0; n < LIMITS["sign-in"]; n++)
      expect(await knock("quill.localhost")).not.toBe(429);
    expect(await knock("quill.localhost")).toBe(429);
    expect(await knock("fern.localhost")).not.toBe(429);
  });

  it("are counted apart, in one page that opens to the token under any name", async () => {
    const headers = { authorization: `Bearer ${TOKEN}` };
    const text = await (await shops.ask("127.0.0.1", "/metrics", { headers })).text();
    expect(text).toContain('softset_orders{shop="quill.localhost",state="placed"} 1');
    expect(text).toContain('softset_orders{shop="fern.localhost",state="placed"} 0');
    expect(text).toContain('softset_shop_up{shop="moss.test"} 1');
    expect(text).toMatch(/softset_requests_total\{method="GET",route="\/\*",status="4xx"\} \d/);
    expect(text.match(/^# TYPE softset_orders /gm)).toHaveLength(1);
    expect(text.endsWith("# EOF\n")).toBe(true);
    expect((await shops.ask("moss.test", "/metrics")).status).toBe(404);
  });

  it("say in the log whose it is", () => {
    const whose = new Set(lines().map(({ shop }) => shop));
    expect(whose).toContain("quill.localhost");
    expect(whose).toContain("moss.test");
  });
});

describe("a shop among several", () => {
  let shops: Shops | undefined;
  afterEach(async () => {
    await shops?.close();
    shops = undefined;
    logged.mockClear();
  });

  it("that cannot be opened is shut alone, says so, and opens once it is mended", async () => {
    const folder = shopsFolder({
      "good.test": "",
      "typo.test": "SOFTSET_KYES=hush\n",
      "torn.test": "",
    });
    writeFileSync(databaseIn(folder, "torn.test"), "this is no database, and never was one");
    shops = await runShops(folder);
    expect(shops.closed()).toEqual(["torn.test", "typo.test"]);
    expect((await shops.ask("good.test", "/v1/products")).status).toBe(200);
    for (const host of shops.closed()) {
      const answer = await shops.ask(host, "/v1/products");
      expect(answer.status).toBe(503);
      expect(answer.headers.get("retry-after")).toBe("60");
      const problem = await problemOf(answer);
      expect(problem.code).toBe("service.not-open");
      expect(JSON.stringify(problem)).not.toMatch(/SOFTSET|\/tmp|hush/);
    }
    const told = JSON.stringify(lines());
    expect(told).toMatch(/typo\.test.*SOFTSET_KYES: there is no such setting/);
    expect(told).toMatch(/torn\.test.*not a database/);
    expect(told).not.toContain("hush");

    writeFileSync(settingsFileIn(folder, "typo.test"), "");
    rmSync(databaseIn(folder, "torn.test"));
    await shops.tryAgain();
    expect(shops.closed()).toEqual([]);
    expect((await shops.ask("typo.test", "/v1/products")).status).toBe(200);
    expect((await shops.ask("torn.test", "/readyz")).status).toBe(200);
  });

  it("that fails while it runs keeps no other from answering or being counted", async () => {
    const metrics = { SOFTSET_METRICS_TOKEN: TOKEN };
    shops = await runShops(shopsFolder({ "good.test": "", "lost.test": "" }), metrics);
    const lost = shops.open.get("lost.test")!;
    (lost.shop.db as unknown as { close(): void }).close();
    expect((await shops.ask("lost.test", "/readyz")).status).toBe(503);
    expect((await shops.ask("good.test", "/readyz")).status).toBe(200);
    const headers = { authorization: `Bearer ${metrics.SOFTSET_METRICS_TOKEN}` };
    const text = await (await shops.ask("good.test", "/metrics", { headers })).text();
    expect(text).toContain('softset_shop_up{shop="lost.test"} 0');
    expect(text).toContain('softset_orders{shop="good.test",state="placed"} 0');
  });

  it("with the keys of another stays shut: its folder was copied", async () => {
    const folder = shopsFolder({ "first.test": "" });
    await (await runShops(folder)).close();
    cpSync(join(folder, "first.test"), join(folder, "second.test"), { recursive: true });
    shops = await runShops(folder);
    expect(shops.closed()).toEqual(["second.test"]);
    expect(JSON.stringify(lines())).toContain("It has the keys of first.test");
    await shops.tryAgain();
    expect(shops.closed()).toEqual(["second.test"]);
  });

  it("with the keys of another opens once that one has keys of its own", async () => {
    const folder = shopsFolder({ "second.test": "" });
    await (await runShops(folder)).close();
    cpSync(join(folder, "second.test"), join(folder, "first.test"), { recursive: true });
    // Half of what the till needs: such a shop has its keys, and is not open.
    const settings = settingsFileIn(folder, "first.test");
    writeFileSync(settings, "STRIPE_SECRET_KEY=sk_test_hush\n");
    shops = await runShops(folder);
    expect(shops.closed()).toEqual(["first.test", "second.test"]);
    writeFileSync(settings, "");
    rmSync(keysFile(databaseIn(folder, "first.test")));
    await shops.tryAgain();
    expect(shops.closed()).toEqual([]);
  });

  it("keeps its data, its keys and its copies in its own folder, over a new start", async () => {
    const folder = shopsFolder({ "one.localhost": "", "two.localhost": "" });
    shops = await runShops(folder);
    const keysOf = async (host: string) => await (await shops!.ask(host, "/v1/quote-keys")).text();
    const before = [await keysOf("one.localhost"), await keysOf("two.localhost")];
    expect(before[0]).not.toBe(before[1]);
    await shops.close();
    shops = await runShops(folder);
    expect([await keysOf("one.localhost"), await keysOf("two.localhost")]).toEqual(before);
    expect(dirname(keysFile(databaseIn(folder, "one.localhost")))).toBe(
      join(folder, "one.localhost"),
    );
  });

  it("is not made of a folder whose name is no host name, and the log says so", async () => {
    const folder = shopsFolder({ "good.test": "" });
    mkdirSync(join(folder, "lost+found"));
    shops = await runShops(folder);
    expect((await shops.ask("good.test", "/")).status).toBe(200);
    expect(JSON.stringify(lines())).toContain('"folder":"lost+found"');
  });
});

describe("a start over several shops", () => {
  const start = async (folder: string, more: Record<string, string> = {}) =>
    await runShops(folder, more).then(
      (running) => running.close(),
      (error: unknown) => error,
    );

  it("is refused without a folder, without a shop, and with the settings of one for all", async () => {
    for (const [folder, more, why] of [
      ["/nowhere/at/all", {}, /cannot be read \(ENOENT\)/],
      [shopsFolder({}), {}, /there is no shop in/],
      [
        shopsFolder({ "a.test": "" }),
        { SOFTSET_KEYS: "hush", PORT: "x" },
        /SOFTSET_KEYS[\s\S]*PORT/,
      ],
      [shopsFolder({ "a.test": "" }), { SOFTSET_DATABASE: "x.db" }, /SOFTSET_DATABASE: belongs/],
    ] as const) {
      const fault = await start(folder, more);
      expect(fault).toBeInstanceOf(SettingsFault);
      expect(String(fault)).toMatch(why);
      expect(String(fault)).not.toContain("hush");
    }
  });
});
