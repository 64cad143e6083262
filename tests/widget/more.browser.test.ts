import { build } from "esbuild";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { startingChoice } from "#core/compose/product.ts";
import type { BlendOpened } from "#core/wire.ts";
import { moreBuild, nearestBuild, wishesBuild, widgetBuild, wordsBuild } from "#widget/bundle.mjs";
import { axeFindings } from "../helpers/axe.ts";
import { hasChromium, launchChromium } from "../helpers/browser.ts";
import { PRODUCT, anOffer } from "../helpers/offer.ts";
import { A_CODE, type BareShop, aProblem, openShop } from "./bare-shop.ts";

const PICTURES = process.env["SOFTSET_PICTURES"];

let browser: Browser;
let context: BrowserContext;
let shop: BareShop;
let page: Page;
let first: string;
let scripts: Record<string, string>;

async function textOf(options: ReturnType<typeof moreBuild>): Promise<string> {
  const { outputFiles } = await build({ ...options, write: false });
  return outputFiles![0]!.text;
}

const way = (name: string) => page.getByRole("button", { name, exact: true });
const panel = () => page.locator(".way-panel");
const status = () => panel().getByRole("status");
const offers = () => page.locator(".wish-offer");
const notice = () => page.locator(".alert[role=status]");
const cocoa = () => page.getByRole("slider", { name: "Share of Cocoa butter" });
const undo = () => page.getByRole("button", { name: "Undo", exact: true });

async function visit(path = "", settings: Parameters<Browser["newContext"]>[0] = {}) {
  await context?.close();
  context = await browser.newContext({ viewport: { width: 390, height: 844 }, ...settings });
  page = await context.newPage();
  await page.goto(shop.url + path);
  await cocoa().waitFor();
}

const base = PRODUCT.bases[0]!;
const grape: BlendOpened = {
  product: { id: PRODUCT.id, name: PRODUCT.name },
  version: anOffer().version,
  choice: {
    ...startingChoice(base),
    oils: startingChoice(base).oils.map((oil, at) =>
      at === 0 ? { ...oil, ingredient: "grapeseed-oil" } : oil,
    ),
  },
  jar: "large",
};

describe.skipIf(!hasChromium)("ways on from a blend, in a browser", { timeout: 30_000 }, () => {
  beforeAll(async () => {
    const [widget, nearest, more, wishes, english] = await Promise.all(
      [widgetBuild("esm"), nearestBuild(), moreBuild(), wishesBuild()]
        .concat(wordsBuild("en", "more"))
        .map(textOf),
    );
    first = widget!;
    scripts = { nearest: nearest!, more: more!, wishes: wishes!, "words.more.en": english! };
    browser = await launchChromium();
  }, 60_000);
  beforeEach(async () => {
    shop = await openShop(first, anOffer());
    Object.assign(shop.manners, { scripts, opened: grape });
  });
  afterEach(() => shop.close());
  afterAll(() => browser?.close());

  describe("wishes", () => {
    it("bring blends to choose from, taken in one tap and undone, by keyboard alone", async () => {
      await visit();
      const asked: string[] = [];
      page.on("request", (request) => asked.push(new URL(request.url()).pathname));
      await way("Make a wish").focus();
      await page.keyboard.press("Enter");
      await page.getByLabel("Feel at home").focus();
      expect(asked.sort()).toEqual(["/softset.more.js", "/softset.words.more.en.js"]);
      await page.keyboard.press("ArrowDown");
      await offers().first().waitFor();
      expect(asked).toContain("/softset.wishes.js");
      expect(await status().textContent()).toMatch(/blends? fit/);
      expect(await offers().first().innerText()).toMatch(/Softer at home[^]*Gives up[^]*£\d/);
      const before = await cocoa().inputValue();
      await offers().first().getByRole("button").focus();
      await page.keyboard.press("Enter");
      expect(await status().textContent()).toMatch(/^Taken\. Undo/);
      expect(await cocoa().inputValue()).not.toBe(before);
      expect(await page.getByLabel("Feel at home").inputValue()).toBe("0");
      expect(await page.locator(".verdict").textContent()).toBe("Can be made");
      await undo().click();
      expect(await cocoa().inputValue()).toBe(before);
    });

    it("are looked up anew when the blend is another", async () => {
      await visit();
      await way("Make a wish").click();
      await page.getByLabel("Feel at home").selectOption("softer");
      await offers().first().waitFor();
      const told = await offers().first().innerText();
      await page.getByRole("button", { name: "More Cocoa butter" }).click();
      expect(await offers().first().isVisible()).toBe(false);
      await offers().first().waitFor();
      expect(await offers().first().innerText()).not.toBe(told);
    });

    it("that the blend keeps already are said to be so, and it is not offered to itself", async () => {
      await visit();
      await way("Make a wish").click();
      await page.getByLabel("Pore rating at most").selectOption({ label: "3" });
      await offers().first().waitFor();
      await page.getByLabel("Price of a jar at most").selectOption({ index: 1 });
      await page.getByLabel("Pore rating at most").selectOption({ label: "any" });
      await expect.poll(() => status().textContent()).toMatch(/^Your blend is all of this already/);
      for (const text of await offers().allInnerTexts()) expect(text).toMatch(/Gives up/);
    });

    it("that no blend can keep are named, and the nearest is offered", async () => {
      await visit();
      await way("Make a wish").click();
      await page.getByLabel("Keeps its body to").selectOption({ label: "35 °C, a hot parcel" });
      await page.getByLabel("Feel at home").selectOption("softer");
      await expect
        .poll(() => status().textContent(), { timeout: 15_000 })
        .toMatch(/sure to keep its body to 35 °C/);
      expect(await status().textContent()).toMatch(/°C could be done.*The nearest, with this wish/);
      expect(await offers().count()).toBe(1);
      await way("Clear the wishes").click();
      expect(await offers().first().isVisible()).toBe(false);
    });

    it("say so when a script cannot be had, and try again", async () => {
      shop.manners.scripts = {};
      await visit();
      await way("Make a wish").click();
      await expect.poll(() => panel().textContent()).toMatch(/could not be fetched.*press again/);
      const { wishes: _, ...others } = scripts;
      shop.manners.scripts = others;
      await way("Make a wish").click();
      await way("Make a wish").click();
      await page.getByLabel("Feel at home").selectOption("softer");
      await expect.poll(() => status().textContent()).toMatch(/^The search could not be fetched/);
      shop.manners.scripts = scripts;
      await page.getByLabel("Feel at home").selectOption("firmer");
      await offers().first().waitFor();
    });
  });

  it("compares with the maker's base, then with what is kept aside, and swaps the two", async () => {
    await visit();
    await way("Compare").click();
    const cells = (row: string) =>
      page
        .getByRole("row", { name: new RegExp(`^${row}`) })
        .getByRole("cell")
        .allInnerTexts();
    expect(await page.locator(".side-by-side thead").innerText()).toContain(
      "The maker’s Soft shea",
    );
    await page.getByRole("button", { name: "More Cocoa butter" }).click();
    expect(await cells("Cocoa butter")).toEqual(["11%", "10%"]);
    await way("Keep aside").click();
    await page.getByRole("button", { name: "More Cocoa butter" }).click();
    expect(await cells("Cocoa butter")).toEqual(["12%", "11%"]);
    const label = await page.getByRole("img", { name: /Yours now: Sets .* Kept aside: Sets/ });
    expect(await label.count()).toBe(1);
    await way("Take the other").click();
    expect(await cells("Cocoa butter")).toEqual(["11%", "12%"]);
    expect(await cocoa().inputValue()).toBe("1100");
    await page.reload();
    await way("Compare").click();
    expect(await cells("Cocoa butter")).toEqual(["11%", "12%"]);
  });

  describe("a shared link", () => {
    it("goes to the clipboard, and says when the blend has changed since", async () => {
      await visit("", { permissions: ["clipboard-read", "clipboard-write"] });
      await way("Share").click();
      await way("Share this blend").click();
      await page.getByText("The link is copied.").waitFor();
      const link = await page.getByLabel("Link to this blend").inputValue();
      expect(link).toBe(`${shop.url}?blend=${A_CODE}`);
      expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(link);
      expect(shop.posts.at(-1)).toMatchObject({ path: "/v1/blend-links", body: { jar: "small" } });
      await page.getByRole("button", { name: "More Cocoa butter" }).click();
      expect(await status().textContent()).toMatch(/^The blend has changed since/);
    });

    it("goes to the share sheet where there is one, and stands in a field in any case", async () => {
      await visit();
      await page.evaluate(() => {
        navigator.share = async (data) => void Object.assign(globalThis, { handed: data });
      });
      await way("Share").click();
      await way("Share this blend").click();
      await page.getByText("Handed on.").waitFor();
      expect(await page.evaluate("handed.url")).toContain(A_CODE);
      await page.evaluate(() => {
        navigator.share = () => Promise.reject(new DOMException("closed", "AbortError"));
      });
      await way("Share this blend").click();
      await page.getByText("Copy it from the field.").waitFor();
      expect(await page.getByLabel("The code alone").inputValue()).toBe(A_CODE);
    });

    it("opens its blend and jar, which can be undone, and a reload keeps what came after", async () => {
      await visit(`?blend=${A_CODE}`);
      await expect.poll(() => notice().textContent()).toMatch(/judged and priced anew/);
      const oil = page.getByLabel("First oil");
      expect(await oil.inputValue()).toBe("grapeseed-oil");
      expect(await page.getByRole("radio", { name: /^Large/ }).isChecked()).toBe(true);
      await undo().click();
      expect(await oil.inputValue()).toBe("sunflower-oil");
      await oil.selectOption("jojoba-oil");
      await page.reload();
      await cocoa().waitFor();
      expect(await oil.inputValue()).toBe("jojoba-oil");
    });

    it("that cannot be opened, whatever the reason, leaves the maker's base and says so", async () => {
      const problem = (status: number, code: string) => aProblem(status, code, "As it was said.");
      await visit();
      const baseGone = { ...grape, choice: { ...grape.choice, base: "x" } };
      for (const [opened, sentence] of [
        [problem(400, "compose.code.altered"), /not whole, or was not made here/],
        [problem(410, "compose.code.outdated"), /too old to be read/],
        [problem(404, "compose.product.unknown"), /no longer for sale/],
        [problem(503, "service.failed"), /has a fault just now.*Your blend is kept/],
        [baseGone, /no longer made/],
      ] as const) {
        shop.manners.opened = opened;
        await page.goto(`${shop.url}?blend=${A_CODE}`);
        await expect.poll(() => notice().textContent()).toMatch(sentence);
        expect(await page.getByLabel("First oil").inputValue()).toBe("sunflower-oil");
      }
    });

    it("with an oil that is no longer offered keeps the rest", async () => {
      const oils = grape.choice.oils.map((oil, at) =>
        at === 0 ? { ...oil, ingredient: "x" } : oil,
      );
      const butters = [
        { ingredient: "shea-butter", share: 5500 },
        { ingredient: "cocoa-butter", share: 1200 },
      ];
      shop.manners.opened = { ...grape, version: 1, choice: { ...grape.choice, butters, oils } };
      await visit(`?blend=${A_CODE}`);
      await expect.poll(() => notice().textContent()).toMatch(/^No longer offered here: x\./);
      expect(await cocoa().inputValue()).toBe("1200");
    });

    it("meant for another composer of the page says nothing here", async () => {
      shop.manners.opened = { ...grape, product: { id: "other", name: "Other" } };
      await visit(`?blend=${A_CODE}`);
      await way("Share").click();
      await way("Share this blend").waitFor();
      expect(await notice().textContent()).toBe("");
    });
  });

  it("opens a code, and tells an order's number from one", async () => {
    await visit();
    await way("Open a code").click();
    const field = page.getByLabel("Code or link you kept");
    const open = async (text: string, said: RegExp) => {
      await field.fill(text);
      await page.keyboard.press("Enter");
      await expect.poll(() => status().textContent()).toMatch(said);
    };
    await field.focus();
    await open("", /^Please paste/);
    await open("7KQ2MX", /order’s number alone opens no blend/);
    await open("hello there", /looks like no code or link/);
    await context.setOffline(true);
    await open(A_CODE, /offline.*Your blend is kept/);
    expect(await field.inputValue()).toBe(A_CODE);
    await context.setOffline(false);
    await open(`${shop.url}?blend=${A_CODE}`, /judged and priced anew/);
    expect(await page.getByLabel("First oil").inputValue()).toBe("grapeseed-oil");
  });

  describe("for everyone: axe finds nothing and nothing sticks out", () => {
    it.each([
      [390, "light", "ltr"],
      [320, "light", "rtl"],
      [1280, "dark", "ltr"],
    ] as const)("%d px, %s, %s", async (width, colorScheme, dir) => {
      shop.manners.root = `lang="en" dir="${dir}"`;
      const forcedColors = dir === "rtl" ? "active" : "none";
      const viewport = { width, height: 844 };
      await visit(`?blend=${A_CODE}`, { bypassCSP: true, colorScheme, forcedColors, viewport });
      await expect.poll(() => notice().textContent()).not.toBe("");
      const look = async (name: string) => {
        if (PICTURES) {
          const path = join(PICTURES, `${name}-${width}-${colorScheme}.png`);
          await page.locator(".more").screenshot({ path });
        }
        const overflow = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        );
        expect(overflow, name).toBe(0);
        if (dir === "rtl") return;
        const within = { fromShadowDom: ["softset-composer", ".more"] };
        const coloursOnly = colorScheme === "dark";
        expect(await axeFindings(page, { within, coloursOnly }), name).toEqual([]);
      };
      await way("Make a wish").click();
      await page.getByLabel("Feel at home").selectOption("softer");
      await offers().first().waitFor();
      await look("wish");
      await way("Compare").click();
      await page.locator(".side-by-side").waitFor();
      await look("compare");
      await way("Share").click();
      await way("Share this blend").click();
      await page.getByLabel("The code alone").waitFor();
      await look("share");
      await way("Open a code").click();
      await page.getByLabel("Code or link you kept").fill("7KQ2MX");
      await page.getByRole("button", { name: "Open it" }).click();
      await look("open");
    });
  });

  it("ships at most 14 KiB of third script, 24 KiB of search and 6 KiB of words", () => {
    const size = (text: string) => gzipSync(text, { level: 9 }).length / 1024;
    expect(size(scripts["more"]!)).toBeLessThanOrEqual(14);
    expect(size(scripts["wishes"]!)).toBeLessThanOrEqual(24);
    expect(size(scripts["words.more.en"]!)).toBeLessThanOrEqual(6);
  });
});
