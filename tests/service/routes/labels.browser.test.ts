/**
 * Labels in real Chromium: settings, proofs and sheets without a fault that axe knows and none wider than its screen;
 * no letter outside its label, which also proves the table of widths; and paper of the right size with the right
 * number of sheets.
 */
import { readFileSync, writeFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { serve } from "@hono/node-server";
import { eq } from "drizzle-orm";
import { PDFDocument } from "pdf-lib";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer, QuoteRequest } from "#core/wire.ts";
import { shops } from "#data/schema.ts";
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
const MM_PER_POINT = 25.4 / 72;

describe.skipIf(!hasChromium)("labels in a browser", () => {
  let shop: TestShop;
  let url = "";
  let number = "";
  let server: ReturnType<typeof serve>;
  let browser: Browser;
  let page: Page;

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
    await readyToLabel();
    await paid({ quantity: 5 });
    await paid({ jar: "jar-60", quantity: 3 });
    await page.goto(await issueSignInLink({ ...shop.shop, url }, "quillfen"));
    await page.getByRole("button").last().click();
    await page.goto(`${url}/maker/batches/new?${await orderQuery()}`);
    await page.getByRole("button", { name: "Write the work order" }).click();
    await page.getByRole("link", { name: "Print the work order" }).waitFor();
    number = new URL(page.url()).pathname.split("/").at(-1)!;
  });
  afterAll(async () => {
    await browser?.close();
    server?.close();
    shop?.close();
  });

  /** A shop that has said all a label in two markets asks for. */
  async function readyToLabel(): Promise<void> {
    const row = (await shop.shop.shops.byId("quillfen"))!;
    const kept = JSON.parse(row.particulars) as object;
    const responsible = {
      name: "Quillfen Workshop",
      address: "3 Mill Lane\nNether Wallow NW9 9ZZ",
    };
    const particulars = JSON.stringify({ ...kept, responsible });
    const update = shop.db.q.update(shops).set({ particulars });
    await shop.db.atomic([update.where(eq(shops.id, "quillfen"))]);
  }

  async function paid(change: Partial<QuoteRequest>): Promise<void> {
    const { token } = await shop.quote(change);
    const order = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
    await shop.request(`${new URL(order.payUrl!).pathname}/pay`, {
      method: "POST",
      headers: { "sec-fetch-site": "same-origin" },
      body: new URLSearchParams({ name: "Wren Ashdown", email: "wren@customer.example" }),
    });
  }

  async function orderQuery(): Promise<string> {
    const rows = await shop.shop.orders.waiting("quillfen", 10);
    return rows.map(({ id }) => `order=${id}`).join("&");
  }

  /** What axe finds on the page as it stands, and whether it overhangs, on a phone and a desk, light and dark. */
  async function checked(name: string): Promise<void> {
    for (const [width, colorScheme] of VIEWS) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height: 844 });
      const picture = pictures && join(pictures, `${name}-${width}-${colorScheme}.png`);
      if (picture) await page.screenshot({ path: picture, fullPage: true });
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(over, `${name} is wider than ${width}`).toBeLessThanOrEqual(0);
      if (width > 390) continue; // what axe reads is the same at a desk
      const coloursOnly = colorScheme === "dark";
      expect(await axeFindings(page, { coloursOnly }), `${name} ${colorScheme}`).toEqual([]);
    }
  }

  /** Letters that reach beyond their label [px of overhang], by the browser's own measure. */
  const outside = () =>
    page.evaluate(() =>
      [...document.querySelectorAll<SVGSVGElement>(".label-proof svg")].flatMap((svg) => {
        const box = svg.getBoundingClientRect();
        return [...svg.querySelectorAll("text")].flatMap((text) => {
          const line = text.getBoundingClientRect();
          const over = Math.max(
            line.right - box.right,
            box.left - line.left,
            line.bottom - box.bottom,
          );
          return over > 0 ? [`${text.textContent}: ${over}`] : [];
        });
      }),
    );

  it("are set in settings that keep what was typed", async () => {
    await page.goto(`${url}/maker/shop/labels`);
    await page.getByLabel("A closed jar lasts").fill("soon");
    await page.getByRole("button", { name: "Save" }).click();
    expect(await page.getByLabel("A closed jar lasts").inputValue()).toBe("soon");
    await page.getByLabel("A closed jar lasts").fill("9");
    await page.locator("#market-us").check();
    await page.locator("#language-us-en").check();
    await page.getByRole("button", { name: "Save" }).click();
    expect(await page.getByRole("status").textContent()).toContain("Saved.");
    await checked("label-settings");
  });

  it("stand inside their labels, whatever the market and the size", async () => {
    await page.goto(`${url}/maker/batches/${number}/labels`);
    expect(await outside()).toEqual([]);
    expect(await page.locator(".label-proof svg").count()).toBe(2);
    await checked("labels");
    for (const size of ["carton", "lid", "leaflet"]) {
      await page.goto(`${url}/maker/batches/${number}/labels?market=us&size=${size}`);
      expect(await outside()).toEqual([]);
    }
  });

  it.each([
    ["a4", 210, 297],
    ["letter", 215.9, 279.4],
    ["label", 140, 40],
  ])("print on %s paper at their true size", async (paper, widthMm, heightMm) => {
    await page.goto(`${url}/maker/batches/${number}/labels?market=gb&size=around&paper=${paper}`);
    await page.locator("#count-0").fill("5");
    await page.locator("#count-1").fill("3");
    await page.getByRole("button", { name: "Print these labels" }).click();
    await page.waitForURL(/printed/);
    if (paper === "a4") await checked("label-sheet");
    await page.emulateMedia({ media: "print" });
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: false });
    await page.emulateMedia({ media: null });
    if (pictures) writeFileSync(join(pictures, `labels-${paper}.pdf`), pdf);
    const pages = (await PDFDocument.load(pdf)).getPages();
    // Six of 140 × 40 mm lie on A4, five on Letter.
    const sheets = paper === "a4" || paper === "letter" ? 2 : 8;
    expect(pages).toHaveLength(sheets);
    for (const each of pages) {
      expect(each.getWidth() * MM_PER_POINT).toBeCloseTo(widthMm, 0);
      expect(each.getHeight() * MM_PER_POINT).toBeCloseTo(heightMm, 0);
    }
  });
});
