import { build } from "esbuild";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { nearestBuild, widgetBuild } from "#widget/bundle.mjs";
import { axeFindings } from "../helpers/axe.ts";
import { hasChromium, launchChromium, openPage } from "../helpers/browser.ts";
import { anOffer } from "../helpers/offer.ts";
import { type BareShop, openShop } from "./bare-shop.ts";

const PICTURES = process.env["SOFTSET_PICTURES"];

let browser: Browser;
let scripts: { module: string; classic: string; nearest: string };
let shop: BareShop;
let context: BrowserContext;
/** A phone that goes from shop to shop: each stands at an address of its own, so that nothing is kept between them. */
let phone: Page;
let complaints: string[];

describe.skipIf(!hasChromium)(
  "the offer beside a refusal, in a browser",
  { timeout: 30_000 },
  () => {
    beforeAll(async () => {
      const [module, classic, nearest] = await Promise.all(
        [widgetBuild("esm"), widgetBuild("iife"), nearestBuild()].map(async (options) => {
          const { outputFiles } = await build({ ...options, write: false });
          return outputFiles![0]!.text;
        }),
      );
      scripts = { module: module!, classic: classic!, nearest: nearest! };
      browser = await launchChromium();
      phone = await newPage();
    }, 60_000);
    afterAll(() => browser?.close());
    afterEach(async () => {
      if (context === phone.context()) await context.setOffline(false);
      else await context?.close();
      await shop?.close();
    });

    const newPage = (settings?: Parameters<Browser["newContext"]>[0]) =>
      openPage(browser, (complaint) => complaints.push(complaint), settings);

    async function visit(
      change: Partial<BareShop["manners"]> = {},
      settings?: Parameters<Browser["newContext"]>[0],
    ): Promise<Page> {
      const script = change.script === "defer" ? scripts.classic : scripts.module;
      shop = await openShop(script, anOffer(), scripts.nearest);
      Object.assign(shop.manners, change);
      complaints = [];
      const page = settings ? await newPage(settings) : phone;
      context = page.context();
      await page.goto(shop.url);
      return page;
    }

    const cocoa = (page: Page) => page.getByRole("slider", { name: "Share of Cocoa butter" });
    const take = (page: Page) => page.getByRole("button", { name: "Take this blend" });
    const verdict = (page: Page) => page.locator(".verdict");
    const buy = (page: Page) => page.getByRole("button", { name: /^Order and pay/ });

    async function tooHard(page: Page): Promise<void> {
      await cocoa(page).focus();
      await page.keyboard.press("End");
    }

    async function refusedWithOffer(page: Page): Promise<void> {
      await tooHard(page);
      await take(page).waitFor();
    }

    describe("with the mouse", () => {
      for (const script of [`type="module"`, "defer"] as const) {
        it(`previews what changes and takes it in one tap, from a script by ${script}`, async () => {
          const page = await visit({ script });
          await refusedWithOffer(page);
          expect(await page.locator(".offer .changes").textContent()).toMatch(
            /^\d[\d.]*% less cocoa butter, .*% more .*\.$/,
          );
          const preview = await page.locator(".before-after").innerText();
          expect(preview).toMatch(/Firmness at 21\s°C\s+.*firm, now .*hard/);
          expect(preview).toMatch(/A jar\s+£\d+\.\d\d(, now £\d+\.\d\d|, as now)/);
          const price = /A jar\s+(£[\d.]+)/.exec(preview)![1]!;
          await take(page).click();
          expect(await verdict(page).textContent()).toBe("Can be made");
          expect(await buy(page).textContent()).toBe(`Order and pay ${price}`);
          expect(await take(page).isVisible()).toBe(false);
          await buy(page).click();
          await page.waitForURL(/\/pay\//);
          expect(complaints).toEqual([]);
        });
      }

      it("fetches the second script only once a blend is refused", async () => {
        const page = await visit();
        const asked: string[] = [];
        page.on("request", (request) => asked.push(new URL(request.url()).pathname));
        await page.getByRole("button", { name: "More Cocoa butter" }).click();
        await page.waitForTimeout(600);
        expect(asked).toEqual([]);
        await refusedWithOffer(page);
        expect(asked).toEqual(["/softset.nearest.js"]);
      });

      it("offers it at the foot of a narrow screen as well, beside the sliders", async () => {
        const page = await visit();
        await refusedWithOffer(page);
        await page.locator(".strip button").click();
        expect(await verdict(page).textContent()).toBe("Can be made");
      });

      it("drops the offer when the customer moves on, and offers anew", async () => {
        const page = await visit();
        await refusedWithOffer(page);
        const first = await page.locator(".offer .changes").textContent();
        await page.getByRole("button", { name: "Less Cocoa butter" }).click();
        expect(await take(page).isVisible()).toBe(false);
        await take(page).waitFor();
        expect(await page.locator(".offer .changes").textContent()).not.toBe(first);
      });
    });

    describe("by keyboard alone", () => {
      it("takes the offer and goes on from what the blend is now", async () => {
        const page = await visit();
        await refusedWithOffer(page);
        await take(page).focus();
        await page.keyboard.press("Enter");
        expect(await verdict(page).textContent()).toBe("Can be made");
        const focused = await page.evaluate(
          () => document.activeElement?.shadowRoot?.activeElement?.className,
        );
        expect(focused).toMatch(/^headline\b/);
        await expect.poll(() => page.locator(".spoken").textContent()).toMatch(/^Taken\. Sets /);
      });

      it("hears the reason and the nearest blend, politely", async () => {
        const page = await visit();
        await refusedWithOffer(page);
        await expect
          .poll(() => page.locator(".spoken").textContent())
          .toMatch(
            /^Can’t be made like this\. .* The nearest blend that can be made: .*less cocoa/,
          );
      });

      it("undoes and redoes by Ctrl+Z and Ctrl+Shift+Z, and says so", async () => {
        const page = await visit();
        await refusedWithOffer(page);
        const refusedShare = await cocoa(page).inputValue();
        await take(page).focus();
        await page.keyboard.press("Enter");
        const takenShare = await cocoa(page).inputValue();
        await page.keyboard.press("Control+z");
        expect(await cocoa(page).inputValue()).toBe(refusedShare);
        await page.keyboard.press("Control+z");
        expect(await cocoa(page).inputValue()).toBe("1000");
        await expect.poll(() => page.locator(".spoken").textContent()).toMatch(/^Undone\. Sets /);
        await page.keyboard.press("Control+Shift+z");
        await page.keyboard.press("Control+y");
        expect(await cocoa(page).inputValue()).toBe(takenShare);
        await expect.poll(() => page.locator(".spoken").textContent()).toMatch(/^Redone\. Sets /);
      });

      it("leaves the keys alone outside the element", async () => {
        const page = await visit();
        await page.getByRole("button", { name: "More Cocoa butter" }).click();
        await page.evaluate(() => (document.activeElement as HTMLElement).blur());
        await page.keyboard.press("Control+z");
        expect(await cocoa(page).inputValue()).toBe("1100");
      });
    });

    it("brings the moves that can be undone back after a reload", async () => {
      const page = await visit();
      const more = page.getByRole("button", { name: "More Cocoa butter" });
      await more.click();
      await page.getByLabel("First oil").selectOption("grapeseed-oil");
      await page.getByRole("button", { name: "Undo", exact: true }).click();
      await page.reload();
      await page.getByRole("button", { name: "Redo" }).click();
      expect(await page.getByLabel("First oil").inputValue()).toBe("grapeseed-oil");
      for (const _ of [1, 2]) await page.getByRole("button", { name: "Undo", exact: true }).click();
      expect(await cocoa(page).inputValue()).toBe("1000");
    });

    describe("when there is no offer", () => {
      it("lets the refusal stand and says so when the second script cannot be had, and tries again", async () => {
        const page = await visit({ withoutNearest: true });
        await tooHard(page);
        await page.getByText("could not be looked up just now").waitFor();
        expect(await page.locator(".reasons").textContent()).toContain("too hard at 21 °C");
        expect(await buy(page).getAttribute("aria-disabled")).toBe("true");
        shop.manners.withoutNearest = false;
        await page.getByRole("button", { name: "Less Cocoa butter" }).click();
        await take(page).waitFor();
      });

      it("looks it up when the line is back", async () => {
        const page = await visit();
        await cocoa(page).waitFor();
        await context.setOffline(true);
        await tooHard(page);
        await page.getByText("could not be looked up just now").waitFor();
        await context.setOffline(false);
        await take(page).waitFor();
      });

      it("says when no blend of the base can be made", async () => {
        const offer = anOffer();
        const rules = { ...offer.product.rules, softensAboveLeastCelsius: 39.5 };
        const page = await visit({ offer: { ...offer, product: { ...offer.product, rules } } });
        await page.getByText("No blend of this base is found that can be made").waitFor();
        expect(await take(page).isVisible()).toBe(false);
      });

      it("keeps cannot-judge a state of its own: no offer, no search", async () => {
        const page = await visit();
        const asked: string[] = [];
        page.on("request", (request) => asked.push(request.url()));
        await page.getByLabel("First oil").selectOption("village-oil");
        await page.waitForTimeout(700);
        expect(await verdict(page).textContent()).toBe("Can’t be judged");
        expect(await take(page).isVisible()).toBe(false);
        expect(asked).toEqual([]);
      });
    });

    it("is for everyone: axe finds nothing with the offer on the page, and nothing sticks out", async () => {
      const page = await visit({}, { bypassCSP: true });
      await refusedWithOffer(page);
      for (const width of [390, 1280]) {
        await page.setViewportSize({ width, height: 844 });
        for (const colorScheme of ["light", "dark"] as const) {
          await page.emulateMedia({ colorScheme });
          const overflow = await page.evaluate(
            () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
          );
          if (PICTURES) {
            await page.screenshot({ path: join(PICTURES, `seen-${width}-${colorScheme}.png`) });
            const path = join(PICTURES, `offer-${width}-${colorScheme}.png`);
            await page.screenshot({ path, fullPage: true });
          }
          const coloursOnly = colorScheme === "dark";
          const found = await axeFindings(page, { within: "softset-composer", coloursOnly });
          expect({ width, colorScheme, overflow, found }).toMatchObject({ overflow: 0, found: [] });
        }
      }
    }, 60_000);

    it("ships at most 18 KiB of second script, for refused blends alone", () => {
      expect(gzipSync(scripts.nearest, { level: 9 }).length).toBeLessThanOrEqual(18 * 1024);
    });
  },
);
