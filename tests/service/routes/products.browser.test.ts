/**
 * A product from nothing to published in real Chromium: by keyboard and pointer, with a strict policy, on a phone and
 * in the dark.
 */
import { readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { serve } from "@hono/node-server";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createApp } from "#service/app.ts";
import { openShop } from "#service/ports.ts";
import { axeFindings } from "../../helpers/axe.ts";
import { hasChromium, launchChromium } from "../../helpers/browser.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

const ASSETS = new URL("../../../.build/assets/", import.meta.url);
const pictures = process.env["SOFTSET_PICTURES"];
const VIEWS = [
  [390, "light"],
  [390, "dark"],
  [1280, "light"],
] as const;

describe.skipIf(!hasChromium)("products in a browser", { timeout: 120_000 }, () => {
  let shop: TestShop;
  let server: ReturnType<typeof serve>;
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let url = "";
  const complaints: string[] = [];

  beforeAll(async () => {
    shop = await openTestShop();
    const cookie = await shop.signIn();
    let answer: (request: Request) => Response | Promise<Response> = () => new Response();
    server = serve({ fetch: (request) => answer(request), port: 0 });
    await new Promise((resolve) => server.once("listening", resolve));
    url = `http://localhost:${(server.address() as AddressInfo).port}`;
    const asset = async (name: string) => new Uint8Array(readFileSync(new URL(name, ASSETS)));
    const app = createApp(openShop({ ...shop.shop, url, asset }));
    answer = (request) => app.fetch(request);
    browser = await launchChromium();
    context = await browser.newContext();
    const [name = "", value = ""] = cookie.split("=");
    await context.addCookies([{ name, value, url }]);
    page = await context.newPage();
    page.on("pageerror", (error) => complaints.push(String(error)));
    page.on("console", (message) => {
      if (message.type() === "error") complaints.push(message.text());
    });
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    server?.close();
    shop?.close();
  });

  /** No violation, nothing wider than the page, and a picture when they are asked for. */
  async function looks(name: string): Promise<void> {
    for (const [width, colorScheme] of VIEWS) {
      await page.setViewportSize({ width, height: 900 });
      await page.emulateMedia({ colorScheme });
      const violations = await axeFindings(page, { coloursOnly: colorScheme === "dark" });
      expect(violations, `${name} at ${width}, ${colorScheme}`).toEqual([]);
      const beyond = await page.evaluate(
        () => document.documentElement.scrollWidth - window.innerWidth,
      );
      expect(beyond, `${name} at ${width}`).toBeLessThanOrEqual(0);
      if (!pictures) continue;
      const path = join(pictures, `product-${name}-${width}-${colorScheme}.png`);
      await page.screenshot({ path, fullPage: true });
    }
    await page.emulateMedia({ colorScheme: "light" });
  }

  const goOn = () => page.getByRole("button", { name: "Save and go on" }).click();
  const saidNext = () => page.locator(".next-up").innerText();

  it("begins with nothing and says what to do first", async () => {
    await page.goto(`${url}/maker/products/new`);
    await looks("new");
    await page.getByLabel("What is it called?").fill("Hearth butter");
    await page.keyboard.press("Enter");
    await page.waitForURL("**/hearth-butter/words");
    expect(await saidNext()).toContain("Write a first base");
    await page.getByLabel("What the shop says of it").fill("For cold hands.");
    await looks("words");
    await goOn();
  });

  it("takes oil places with ticks", async () => {
    await page.waitForURL("**/oils");
    await page.getByLabel("Place 1").fill("Gliding oil");
    await page.getByLabel("Jojoba oil as new place").check();
    await page.getByLabel("Squalane as new place").check();
    await looks("oils");
    await goOn();
  });

  it("says while it is typed what a base comes to", async () => {
    await page.waitForURL("**/bases");
    await page.getByRole("link", { name: "Write a base" }).click();
    await page.getByLabel("Name", { exact: true }).fill("First");
    await page.getByLabel("Ingredient 1", { exact: true }).selectOption({ label: "Shea butter" });
    await page.getByLabel("Share of ingredient 1, percent").fill("70");
    await page.getByLabel("Least of ingredient 1, percent").fill("70");
    await page.getByLabel("Most of ingredient 1, percent").fill("85");
    await page.getByLabel("Gliding oil", { exact: true }).selectOption({ label: "Jojoba oil" });
    await page.getByLabel("Share of Gliding oil, percent").fill("20");
    expect(await page.locator(".sum").innerText()).toContain("90 %: 10 % missing");
    await page.getByLabel("Share of Gliding oil, percent").fill("30");
    await page.getByLabel("Least of Gliding oil, percent").fill("15");
    await page.getByLabel("Most of Gliding oil, percent").fill("30");
    await page.getByText("Orderable as it stands").waitFor({ timeout: 10_000 });
    await looks("base");
    await goOn();
    await page.waitForURL("**/bases");
    await looks("bases");
  });

  it("takes additives, jars and rules", async () => {
    await page.goto(`${url}/maker/products/hearth-butter/additives`);
    await looks("additives");
    await goOn();
    await page.waitForURL("**/jars");
    await page.getByLabel("Name of jar 1").fill("Small jar");
    await page.getByLabel("Filling of jar 1, grams").fill("sixty");
    await goOn();
    await page.getByText("Not saved yet.").waitFor();
    await looks("jars-refused");
    await page.getByLabel("Filling of jar 1, grams").fill("60");
    await goOn();
    await page.waitForURL("**/rules");
    await page.getByLabel("Softest allowed").selectOption("soft");
    await page.getByLabel("Hardest allowed").selectOption("firm");
    await looks("rules");
    await goOn();
    await page.waitForURL("**/price");
  });

  it("measures the room and publishes", async () => {
    const stored = (await shop.shop.drafts.read("quillfen", "hearth-butter"))!;
    const { document, revision } = stored;
    const jarMinor = { "small-jar": 80 };
    const priced = { ...document, pricePolicy: { ...document.pricePolicy, jarMinor } };
    await shop.shop.drafts.save("quillfen", "hearth-butter", priced, revision, null, 1);
    await page.goto(`${url}/maker/products/hearth-butter/room`);
    await page.getByRole("button", { name: "Measure the room" }).click();
    await page.getByRole("heading", { name: /First: \d+ %|First: all/ }).waitFor();
    await looks("room");
    await page.getByRole("link", { name: "Go on to publish" }).click();
    await looks("publish");
    await page.getByRole("button", { name: "Publish version 1" }).click();
    await page.getByText("Published. Customers see it now.").waitFor();
    await looks("overview");
    await page.goto(`${url}/maker/products`);
    await looks("list");
    await page.goto(`${url}/maker/products/everyday/stand-in?oil=jojoba-oil`);
    await looks("stand-in");
    const sold = await shop.request("/v1/products/hearth-butter");
    expect(((await sold.json()) as { version: number }).version).toBe(1);
  });

  it("kept to its strict content policy all the way", () => {
    const ours = complaints.filter((each) => !each.includes("422"));
    expect(ours).toEqual([]);
  });
});
