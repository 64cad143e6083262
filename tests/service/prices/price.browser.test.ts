/** The price sheet in real Chromium: it answers while it is filled in, and it is for everyone. */
import { readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type ServerType, serve } from "@hono/node-server";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axeFindings } from "../../helpers/axe.ts";
import { hasChromium, launchChromium, openPage } from "../../helpers/browser.ts";
import { lots } from "#data/schema.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";
import { aLotOf } from "./a-lot.ts";

const SHEET = "/maker/products/everyday/price";

const BUILT = fileURLToPath(new URL("../../../.build", import.meta.url));
const TYPES: Readonly<Record<string, string>> = {
  ".css": "text/css",
  ".js": "text/javascript",
  ".svg": "image/svg+xml",
  ".woff2": "font/woff2",
};

describe.skipIf(!hasChromium)("the price sheet in a browser", () => {
  const pictures = process.env["SOFTSET_PICTURES"];
  const complaints: string[] = [];
  let shop: TestShop;
  let server: ServerType;
  let url: string;
  let browser: Browser;
  let cookie: string;

  beforeAll(async () => {
    shop = await openTestShop();
    cookie = await shop.signIn();
    await shop.db.q.insert(lots).values(aLotOf("shea-butter", 2_360));
    server = serve({
      port: 0,
      fetch: (request) => {
        const { pathname } = new URL(request.url);
        if (!pathname.startsWith("/assets/")) return shop.app.fetch(request);
        const type = TYPES[extname(pathname)]!;
        return new Response(readFileSync(`${BUILT}${pathname}`), {
          headers: { "content-type": type },
        });
      },
    });
    await new Promise((resolve) => server.once("listening", resolve));
    url = `http://localhost:${(server.address() as AddressInfo).port}`;
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
    server?.close();
    shop?.close();
  });

  async function openAt(
    path: string,
    settings: Parameters<Browser["newContext"]>[0] = {},
  ): Promise<readonly [BrowserContext, Page]> {
    const viewport = { width: 1280, height: 900 };
    const tell = (complaint: string) => complaints.push(complaint);
    const page = await openPage(browser, tell, { viewport, ...settings });
    const context = page.context();
    const [name, value] = cookie.split("=") as [string, string];
    await context.addCookies([{ name, value, url }]);
    await page.goto(`${url}${path}`);
    return [context, page];
  }

  const strip = (page: Page) => page.locator(".trial-short");

  it("prices as fields change, without asking the service, and says what cannot be read", async () => {
    const [context, page] = await openAt(SHEET);
    const before = await strip(page).textContent();
    expect(before).toMatch(/^£\d+\.\d\d a jar · costs you £\d+\.\d\d · margin 3\d\.\d.%$/);
    expect(await page.getByRole("button", { name: "Try it" }).isVisible()).toBe(false);
    const asked: string[] = [];
    page.on("request", (request) => asked.push(request.url()));

    await page.getByLabel("Labour for one jar").fill("9,00");
    await page.waitForFunction(
      (old) => document.querySelector(".trial-short")!.textContent !== old,
      before,
    );
    const dearer = (await strip(page).textContent())!;
    const pounds = (text: string) => Number(/£(\d+\.\d\d)/.exec(text)![1]);
    expect(pounds(dearer)).toBeGreaterThan(pounds(before!) + 7.2);
    expect(await page.locator(".trial-figures dd").first().textContent()).toBe(
      `£${pounds(dearer).toFixed(2)}`,
    );

    await page.getByLabel("Labour for one jar").fill("nine");
    await page.getByText("“nine” is no amount of money").waitFor();
    expect(await page.getByLabel("Labour for one jar").getAttribute("aria-invalid")).toBe("true");

    await page.getByLabel("Labour for one jar").fill("1.80");
    await page
      .getByLabel("Blend")
      .selectOption({ label: "Soft shea, the dearest its bounds allow" });
    await page.waitForFunction((old) => {
      const now = document.querySelector(".trial-short")!.textContent!;
      return now.startsWith("£") && now !== old;
    }, before);
    expect(pounds((await strip(page).textContent())!)).toBeGreaterThan(pounds(before!));
    const widths = await page
      .locator(".money-bar .parts > svg")
      .evaluateAll((parts) => parts.map((part) => Number.parseFloat(part.getAttribute("width")!)));
    expect(widths.reduce((sum, each) => sum + each, 0)).toBeCloseTo(100, 1);
    expect(asked).toEqual([]);
    await context.close();
  });

  it("gives without JavaScript the same price as with it", async () => {
    const [live, page] = await openAt(SHEET);
    await page.getByRole("textbox", { name: "Profit" }).fill("42");
    await page.waitForFunction(() =>
      /margin 4/.test(document.querySelector(".trial-short")!.textContent!),
    );
    const answered = await strip(page).textContent();
    await live.close();
    const [plain, still] = await openAt(SHEET, { javaScriptEnabled: false });
    await still.getByRole("textbox", { name: "Profit" }).fill("42");
    await still.getByRole("button", { name: "Try it" }).click();
    expect(await strip(still).textContent()).toBe(answered);
    expect(await still.getByRole("textbox", { name: "Profit" }).inputValue()).toBe("42");
    await plain.close();
    const stored = await shop.shop.drafts.read("quillfen", "everyday");
    expect(stored!.revision).toBe(0); // tried, not saved
  });

  for (const [name, path, settings] of [
    ["phone", SHEET, { viewport: { width: 390, height: 844 } }],
    ["wide", SHEET, {}],
    ["dark", SHEET, { colorScheme: "dark" }],
    ["margins-phone", "/maker/prices", { viewport: { width: 390, height: 844 } }],
    ["margins-wide", "/maker/prices", {}],
  ] as const) {
    it(`fits the page and is clean by axe: ${name}`, { timeout: 30_000 }, async () => {
      const [context, page] = await openAt(path, { ...settings, reducedMotion: "reduce" });
      if (path === SHEET) await page.getByText("Every line of it").click();
      const overhang = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overhang).toBeLessThanOrEqual(0);
      if (pictures) {
        await page.screenshot({ path: join(pictures, `${name}.png`) });
        await page.screenshot({ path: join(pictures, `${name}-whole.png`), fullPage: true });
      }
      expect(await axeFindings(page)).toEqual([]);
      await context.close();
    });
  }

  it("complains of nothing: no error, and nothing against the content policy", () => {
    expect(complaints).toEqual([]);
  });
});
