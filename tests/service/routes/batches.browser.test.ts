/**
 * A maker's afternoon in real Chromium: two blends in one batch, looked over, printed, closed and traced; every page
 * without a fault that axe knows, and none wider than its screen.
 */
import { readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { serve } from "@hono/node-server";
import { eq } from "drizzle-orm";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer, QuoteRequest } from "#core/wire.ts";
import { shops } from "#data/schema.ts";
import { issueSignInLink } from "#service/actions/sign-in.ts";
import { createApp } from "#service/app.ts";
import { openShop } from "#service/ports.ts";
import { axeFindings } from "../../helpers/axe.ts";
import { hasChromium, launchChromium, unsaidCells } from "../../helpers/browser.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

const ASSETS = new URL("../../../.build/assets/", import.meta.url);
const pictures = process.env["SOFTSET_PICTURES"];
const VIEWS = [
  [390, "light"],
  [390, "dark"],
  [1280, "light"],
] as const;

describe.skipIf(!hasChromium)("a batch in a browser", () => {
  let shop: TestShop;
  let url = "";
  let server: ReturnType<typeof serve>;
  let browser: Browser;
  let page: Page;
  const complaints: string[] = [];

  beforeAll(async () => {
    shop = await openTestShop();
    let answer: (request: Request) => Response | Promise<Response> = () => new Response();
    server = serve({ fetch: (request) => answer(request), port: 0 });
    await new Promise((resolve) => server.once("listening", resolve));
    url = `http://localhost:${(server.address() as AddressInfo).port}`;
    const asset = async (name: string) => new Uint8Array(readFileSync(new URL(name, ASSETS)));
    const app = createApp(openShop({ ...shop.shop, url, asset }));
    answer = (request) => app.fetch(request);
    browser = await launchChromium();
    page = await (await browser.newContext({ viewport: { width: 390, height: 844 } })).newPage();
    page.setDefaultTimeout(10_000);
    page.on("pageerror", (error) => complaints.push(String(error)));
    page.on("console", (message) => {
      // The form that is refused on purpose answers 422, which the browser mentions.
      const asked = /status of 422/.test(message.text());
      if (message.type() === "error" && !asked) complaints.push(message.text());
    });
    await vesselOf(250_000);
    const { choice } = aQuoteRequest();
    const butters = [
      { ingredient: "shea-butter", share: 6200 },
      { ingredient: "cocoa-butter", share: 800 },
    ];
    await paid({ quantity: 5 }, "Wren Ashdown");
    shop.pass(60);
    await paid({ choice: { ...choice, butters } }, "Teal Marlow");
  });
  afterAll(async () => {
    await browser?.close();
    server?.close();
    shop?.close();
  });

  async function vesselOf(vesselMg: number): Promise<void> {
    const row = (await shop.shop.shops.byId("quillfen"))!;
    const particulars = JSON.stringify({ ...(JSON.parse(row.particulars) as object), vesselMg });
    const update = shop.db.q.update(shops).set({ particulars });
    await shop.db.atomic([update.where(eq(shops.id, "quillfen"))]);
  }

  async function paid(change: Partial<QuoteRequest>, name: string): Promise<void> {
    const { token } = await shop.quote(change);
    const order = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
    await shop.request(`${new URL(order.payUrl!).pathname}/pay`, {
      method: "POST",
      headers: { "sec-fetch-site": "same-origin" },
      body: new URLSearchParams({ name, email: "customer@customer.example" }),
    });
  }

  /** What axe finds on the page as it stands, and whether it overhangs, on a phone and a desk, light and dark. */
  async function checked(name: string): Promise<void> {
    for (const [width, colorScheme] of VIEWS) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height: 844 });
      const picture = pictures && join(pictures, `${name}-${width}-${colorScheme}.png`);
      if (picture) await page.screenshot({ path: picture, fullPage: true });
      const over = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      if (over > 0) complaints.push(`${name} ${width}: ${over} px too wide`);
      if (width > 390) continue; // what axe reads is the same at a desk
      const unsaid = await unsaidCells(page);
      if (unsaid > 0) complaints.push(`${name}: ${unsaid} cells without their words`);
      const coloursOnly = colorScheme === "dark";
      for (const found of await axeFindings(page, { coloursOnly })) {
        complaints.push(`${name} ${width} ${colorScheme}: ${found}`);
      }
    }
    await page.setViewportSize({ width: 390, height: 844 });
  }

  it("goes from paid orders to two runs, one of them in three loads, on paper", async () => {
    await page.goto(await issueSignInLink({ ...shop.shop, url }, "quillfen"));
    await page.getByRole("button").last().click();
    await page.goto(`${url}/maker`);
    await page.getByRole("heading", { name: "2 paid orders to make" }).waitFor();
    await checked("bench");
    await page.getByRole("button", { name: "Look the batch over" }).click();
    await page.getByRole("heading", { name: "To be fetched from the shelf" }).waitFor();
    await checked("batch-new");
    await page.getByRole("button", { name: "Write the work order" }).click();
    await page.getByRole("link", { name: "Print the work order" }).waitFor();
    await checked("batch-open");
    await page.getByRole("link", { name: "Print the work order" }).click();
    await page.getByRole("heading", { name: "The vessel holds it in 3 loads" }).waitFor();
    for (const format of ["A4", "Letter"] as const) {
      const path = pictures ? join(pictures, `batch-${format}.pdf`) : undefined;
      const paper = await page.pdf({ format, ...(path ? { path } : {}) });
      const sheets = paper.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      expect([format, sheets >= 4 && sheets <= 6]).toEqual([format, true]);
    }
    await page.getByRole("link", { name: /Back to batch/ }).click();
  });

  it("is closed with a keyboard, and says what is missing before it stores anything", async () => {
    await page.getByRole("link", { name: /^Close the batch/ }).click();
    const shea = page.getByLabel("Shea butter, grams from lot 1").first();
    await shea.focus();
    await page.keyboard.press("ControlOrMeta+A");
    await page.keyboard.type("4,2");
    await page.keyboard.press("Enter");
    await page.getByText("Not closed, and nothing is stored.").waitFor();
    expect(await shea.inputValue()).toBe("4,2");
    await checked("batch-close");
    await shea.fill("374.40");
    await page.getByRole("radio", { name: "soft" }).first().check();
    await page.getByRole("button", { name: "Close the batch" }).click();
    await page.getByRole("heading", { name: "Notes" }).waitFor();
    await checked("batch-made");
  });

  it("is traced from its lot, and its orders stand under what is to be done", async () => {
    await page.getByRole("link", { name: "TB-2207" }).first().click();
    await page.getByText("1 batch, 2 orders, 7 jars").waitFor();
    await checked("trace-lot");
    await page.goto(`${url}/maker/orders`);
    await checked("orders");
    await page.getByText("Teal Marlow").waitFor();
    await page.locator("th a.tap").first().click();
    await page.getByRole("heading", { name: "Lots in it" }).waitFor();
    await checked("order");
    await page.goto(`${url}/maker/batches`);
    await checked("batches");
    expect(complaints).toEqual([]);
  });
});
