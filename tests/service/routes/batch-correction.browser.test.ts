/**
 * A correction in real Chromium: a lot too soft is told, corrected, printed and taken back; no fault that axe knows,
 * and no page wider than its screen.
 */
import { readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { serve } from "@hono/node-server";
import { eq } from "drizzle-orm";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer } from "#core/wire.ts";
import { lots } from "#data/schema.ts";
import { issueSignInLink } from "#service/actions/sign-in.ts";
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

/** Shea with a fifth less stearic acid than the library’s. */
const SOFT_SHEA = JSON.stringify({
  fattyAcids: {
    "16:0": 4.04,
    "18:0": 35.73,
    "18:1": 52.15,
    "18:2": 6.32,
    "18:3": 0.21,
    "20:0": 1.55,
  },
});

describe.skipIf(!hasChromium)("a correction in a browser", () => {
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
      if (message.type() === "error") complaints.push(message.text());
    });
    await certify(SOFT_SHEA);
    const { token } = await shop.quote();
    const order = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
    await shop.request(`${new URL(order.payUrl!).pathname}/pay`, {
      method: "POST",
      headers: { "sec-fetch-site": "same-origin" },
      body: new URLSearchParams({ name: "Wren Ashdown", email: "customer@customer.example" }),
    });
  });
  afterAll(async () => {
    await browser?.close();
    server?.close();
    shop?.close();
  });

  async function certify(certificate: string | null): Promise<void> {
    const update = shop.db.q.update(lots).set({ certificate });
    await shop.db.atomic([update.where(eq(lots.code, "TB-2207"))]);
  }

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
      const coloursOnly = colorScheme === "dark";
      for (const found of await axeFindings(page, { coloursOnly })) {
        complaints.push(`${name} ${width} ${colorScheme}: ${found}`);
      }
    }
    await page.setViewportSize({ width: 390, height: 844 });
  }

  async function print(name: string): Promise<void> {
    await page.getByRole("link", { name: /work order/ }).click();
    for (const format of ["A4", "Letter"] as const) {
      const path = pictures ? join(pictures, `${name}-${format}.pdf`) : undefined;
      const paper = await page.pdf({ format, ...(path ? { path } : {}) });
      const sheets = paper.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      expect([format, sheets <= 2]).toEqual([format, true]);
    }
    await page.getByRole("link", { name: /Back to batch/ }).click();
  }

  it("is looked at, accepted, printed with its mark, and taken back", async () => {
    await page.goto(await issueSignInLink({ ...shop.shop, url }, "quillfen"));
    await page.getByRole("button").last().click();
    await page.goto(`${url}/maker`);
    await page.getByRole("button", { name: "Look the batch over" }).click();
    await page.getByRole("button", { name: "Write the work order" }).click();
    await page.getByText("These lots leave the promise.").waitFor();
    await checked("batch-leaves");
    await page.getByRole("link", { name: "See what can be done" }).click();
    await page.getByRole("heading", { name: /^The smallest shift/ }).waitFor();
    await checked("correction-proposed");
    await page.getByRole("button", { name: "Make it with the corrected shares" }).click();
    await page.getByText("Corrected for its lots.").waitFor();
    await print("corrected");
    await page.getByRole("link", { name: "Look at the correction" }).click();
    await checked("correction-kept");
    await page.getByRole("button", { name: "Take the correction back" }).click();
    await page.getByText("These lots leave the promise.").waitFor();
    await certify(SOFT_SHEA.replace("35.73", "28.73").replace("52.15", "59.15"));
    await page.getByRole("link", { name: "See what can be done" }).click();
    await page.getByRole("heading", { name: "What else could be done" }).waitFor();
    await checked("correction-none");
    await certify('{"fattyAcids":{"18:1":40}}');
    await page.reload();
    await page.getByText("Cannot judge these lots.").waitFor();
    expect(complaints).toEqual([]);
  });
});
