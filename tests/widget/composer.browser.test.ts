import { build } from "esbuild";
import { join } from "node:path";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import type { ChangeDetail } from "#widget/events.ts";
import { LANGUAGES, widgetBuild, wordsBuild } from "#widget/bundle.mjs";
import { axeFindings } from "../helpers/axe.ts";
import { hasChromium, launchChromium, openPage } from "../helpers/browser.ts";
import { anOffer } from "../helpers/offer.ts";
import { type BareShop, aProblem, ONE_COMPOSER, openShop } from "./bare-shop.ts";

const PICTURES = process.env["SOFTSET_PICTURES"];

let browser: Browser;
let script: string;
let shop: BareShop;
let context: BrowserContext;
/** A phone that goes from shop to shop: each stands at an address of its own, so that nothing is kept between them. */
let phone: Page;
/** What the console said; a strict content policy complains here. */
let complaints: string[];

describe.skipIf(!hasChromium)("the composer in a browser", { timeout: 30_000 }, () => {
  beforeAll(async () => {
    const { outputFiles } = await build({ ...widgetBuild("esm"), write: false });
    script = outputFiles![0]!.text;
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

  /** Come to the bare shop, with a browser of its own where it has to be another than the phone. */
  async function visit(
    change: Partial<BareShop["manners"]> = {},
    settings?: Parameters<Browser["newContext"]>[0],
  ): Promise<Page> {
    shop = await openShop(script, anOffer());
    Object.assign(shop.manners, change);
    complaints = [];
    const page = settings ? await newPage(settings) : phone;
    context = page.context();
    await page.goto(shop.url);
    return page;
  }

  const share = (page: Page, name: string) =>
    page.getByRole("slider", { name: `Share of ${name}` });
  const buy = (page: Page) => page.getByRole("button", { name: /^Order and pay/ });
  const headline = (page: Page) => page.locator("softset-composer .headline").first();

  async function tooHard(page: Page): Promise<void> {
    await share(page, "Cocoa butter").focus();
    await page.keyboard.press("End");
  }

  describe("the whole way", () => {
    it("goes by keyboard alone from choosing a base to payment, under a strict content policy", async () => {
      const page = await visit();
      await page.getByRole("radio", { name: /Soft shea/ }).waitFor();
      await page.keyboard.press("Tab");
      await page.keyboard.press("ArrowDown");
      expect(await page.getByRole("radio", { name: /Mango and cocoa/ }).isChecked()).toBe(true);
      await tabTo(page, "Share of Mango butter");
      const before = await share(page, "Mango butter").inputValue();
      await page.keyboard.press("ArrowRight");
      expect(Number(await share(page, "Mango butter").inputValue())).toBe(Number(before) + 100);
      await tabTo(page, "More Cocoa butter");
      await page.keyboard.press("Enter");
      await tabTo(page, "First oil");
      await page.keyboard.press("g");
      expect(await page.getByLabel("First oil").inputValue()).toBe("grapeseed-oil");
      await tabTo(page, "How many jars");
      await page.keyboard.press("2");
      await tabTo(page, "Order and pay");
      await page.keyboard.press("Enter");
      await page.waitForURL(/\/pay\/EB-1$/);
      const [order] = [...shop.orders.values()];
      expect(order!.request).toMatchObject({ jar: "small", quantity: 2 });
      expect(order!.request.choice.base).toBe("mango-and-cocoa");
      expect(complaints).toEqual([]);
    }, 30_000);

    it("judges and prices anew in the frame of the move, and says so politely a moment later", async () => {
      const page = await visit();
      await headline(page).waitFor();
      const [was, is] = await page.evaluate(() => {
        const root = document.querySelector("softset-composer")!.shadowRoot!;
        const read = () =>
          [".settled", ".total", ".headline"].map((each) => {
            const node = root.querySelector(each)!;
            return node.getAttribute("points") ?? node.textContent;
          });
        const first = read();
        const range = root.querySelectorAll<HTMLInputElement>("input[type=range]")[1]!;
        range.value = "2500";
        range.dispatchEvent(new Event("input", { bubbles: true }));
        return [first, read()];
      });
      for (const [at, value] of is!.entries()) expect(value).not.toBe(was![at]);
      const spoken = page.locator(".spoken");
      expect(await spoken.textContent()).toBe("");
      await expect.poll(() => spoken.textContent()).toMatch(/^Sets .* a jar\.$/s);
    });

    it("tells the host page what changed, by typed events", async () => {
      const page = await visit();
      await headline(page).waitFor();
      await page.evaluate(() => {
        const heard: unknown[] = [];
        Object.assign(globalThis, { heard });
        document.addEventListener("softset-change", (event) => {
          heard.push((event as CustomEvent).detail);
        });
      });
      await page.getByRole("button", { name: "More Cocoa butter" }).click();
      const [detail] = (await page.evaluate("heard")) as ChangeDetail[];
      expect(detail).toMatchObject({
        product: "evening-butter",
        verdict: "orderable",
        currency: "GBP",
      });
      expect(detail!.choice.butters[1]).toEqual({ ingredient: "cocoa-butter", share: 1100 });
    });

    it("leaves the quote to a host with a cart of its own", async () => {
      const page = await visit();
      await page.evaluate(() =>
        document.addEventListener("softset-quoted", (event) => {
          event.preventDefault();
          document.title = (event as CustomEvent).detail.token;
        }),
      );
      await buy(page).click();
      await expect.poll(() => page.title()).toBe("token-1");
      expect(shop.posts.map(({ path }) => path)).toEqual(["/v1/quotes"]);
    });

    it("orders once when the button is pressed twice in a blink", async () => {
      const page = await visit();
      await buy(page).waitFor();
      await buy(page).evaluate((node: HTMLElement) => {
        node.click();
        node.click();
      });
      await page.waitForURL(/\/pay\//);
      expect(shop.posts.filter(({ path }) => path === "/v1/orders")).toHaveLength(1);
    });

    it("brings the customer's blend back after the way back from payment and after a reload", async () => {
      const page = await visit();
      await page.getByRole("button", { name: "More Cocoa butter" }).click();
      await buy(page).click();
      await page.waitForURL(/\/pay\//);
      await page.goBack();
      await expect.poll(() => share(page, "Cocoa butter").inputValue()).toBe("1100");
      await page.reload();
      await expect.poll(() => share(page, "Cocoa butter").inputValue()).toBe("1100");
      expect(await buy(page).getAttribute("aria-disabled")).toBeNull();
    });
  });

  describe("when it cannot be", () => {
    it("says in one sentence why a blend is refused, keeps the button in reach, and leads back", async () => {
      const page = await visit();
      await tooHard(page);
      const reason = "It may set too hard at 21 °C. Less hard butter, or more oil, would help.";
      await page.locator(".reasons").getByText(reason).waitFor();
      expect(await buy(page).getAttribute("aria-disabled")).toBe("true");
      expect(await buy(page).evaluate((node) => (node as HTMLElement).tabIndex)).toBe(0);
      await buy(page).focus();
      await page.keyboard.press("Enter");
      await expect
        .poll(() => page.getByRole("alert").textContent())
        .toBe(`This blend can’t be ordered yet. ${reason}`);
      expect(shop.posts).toEqual([]);
      await page.getByRole("button", { name: "Undo the last change" }).click();
      expect(await share(page, "Cocoa butter").inputValue()).toBe("1000");
      expect(await buy(page).getAttribute("aria-disabled")).toBeNull();
    });

    it("says it cannot judge an oil without figures, and draws no curve", async () => {
      const page = await visit();
      await page.getByLabel("First oil").selectOption("village-oil");
      await page.getByText("We would rather not guess").waitFor();
      expect(await page.locator(".reasons").textContent()).toContain("Village press oil");
      expect(await page.locator(".curve").isVisible()).toBe(false);
      expect(await buy(page).getAttribute("aria-disabled")).toBe("true");
    });

    it("says old and new price and asks, when the price changed meanwhile", async () => {
      const page = await visit({ dearerByMinor: 50 });
      await buy(page).click();
      await page.getByText("The page showed £11.50 in all; it is now £12.00.").waitFor();
      expect(shop.orders.size).toBe(0);
      await page.getByRole("button", { name: "Order and pay £12.00" }).click();
      await page.waitForURL(/\/pay\//);
      expect(shop.orders.size).toBe(1);
    });

    it("says what the jar now holds and asks, when the maker published another version", async () => {
      const page = await visit();
      await headline(page).waitFor();
      shop.manners.offer = { ...shop.manners.offer, version: 4 };
      await buy(page).click();
      await page
        .getByText(/The maker has changed this product. It is now: Shea butter 57%/)
        .waitFor();
      await page.getByRole("button", { name: "No, back to my blend" }).click();
      await buy(page).waitFor();
      expect(shop.orders.size).toBe(0);
    });

    it("shows the service's own reason when it refuses the quote", async () => {
      const page = await visit({
        quoteProblem: aProblem(422, "compose.oil.not-allowed", "Jojoba oil is out of stock."),
      });
      await buy(page).click();
      await expect
        .poll(() => page.getByRole("alert").textContent())
        .toBe("Jojoba oil is out of stock. Your blend is kept and nothing has been ordered.");
    });

    it.each([
      ["the quote ran out", "order", "order.quote.expired", /has now run out.*nothing has been/, 2],
      ["the product is gone", "quote", "product.unknown", /^It is gone\. Your blend is kept/, 2],
      ["the service has a fault", "order", "service.failed", /a fault just now.*order twice/, 1],
    ] as const)("keeps the blend and orders once at the next press when %s", async (...story) => {
      const [, when, code, sentence, quotes] = story;
      const status = code === "service.failed" ? 503 : 404;
      const page = await visit({ [`${when}Problem`]: aProblem(status, code, "It is gone.") });
      await page.getByRole("button", { name: "More Cocoa butter" }).click();
      await buy(page).click();
      await expect.poll(() => page.getByRole("alert").textContent()).toMatch(sentence);
      expect(await share(page, "Cocoa butter").inputValue()).toBe("1100");
      Object.assign(shop.manners, { [`${when}Problem`]: undefined });
      await buy(page).click();
      await page.waitForURL(/\/pay\/EB-1$/);
      expect(shop.orders.size).toBe(1);
      expect(shop.posts.filter(({ path }) => path === "/v1/quotes")).toHaveLength(quotes);
    });

    it("keeps the blend offline, says so, and goes on when the line is back", async () => {
      const page = await visit();
      await page.getByRole("button", { name: "More Cocoa butter" }).click();
      await context.setOffline(true);
      await buy(page).click();
      await expect
        .poll(() => page.getByRole("alert").textContent())
        .toBe(
          "You seem to be offline. Your blend is kept and nothing has been ordered. Please try again.",
        );
      expect(await share(page, "Cocoa butter").inputValue()).toBe("1100");
      await page.getByRole("button", { name: "More Cocoa butter" }).click();
      await context.setOffline(false);
      await buy(page).click();
      await page.waitForURL(/\/pay\//);
    });

    it("orders once although the answer to the first order was lost", async () => {
      const page = await visit({ loseOrderAnswers: 1 });
      await buy(page).click();
      await expect
        .poll(() => page.getByRole("alert").textContent())
        .toContain("cannot order twice");
      await buy(page).click();
      await page.waitForURL(/\/pay\/EB-1$/);
      expect(shop.orders.size).toBe(1);
      expect(shop.posts.filter(({ path }) => path === "/v1/quotes")).toHaveLength(1);
    });

    it("keeps the page's own order form when the product is unknown", async () => {
      const page = await visit({
        body: `<softset-composer product="no-such"><a href="/order">Order by letter</a></softset-composer>`,
      });
      await page.getByRole("alert").getByText("There is no such product.").waitFor();
      expect(await page.getByText("Order by letter").isVisible()).toBe(true);
    });

    it("leaves the page's own order form to use until a slow product comes", async () => {
      let come = () => {};
      const form = `<a href="#order">Order by letter</a>`;
      const page = await visit({
        body: ONE_COMPOSER.replace("></", `>${form}</`),
        productAfter: new Promise<void>((done) => (come = done)),
      });
      await page.getByRole("link", { name: "Order by letter" }).click();
      expect(new URL(page.url()).hash).toBe("#order");
      come();
      await headline(page).waitFor();
      expect(await page.getByText("Order by letter").isVisible()).toBe(false);
    });

    it("leaves the page's own order form, and names no price, on a page that has broken what it needs", async () => {
      const broken = {
        "a fetch that throws": "window.fetch = () => { throw new Error('not here'); }",
        "a fetch that makes things up": "window.fetch = async () => Response.json({ product: {} })",
        "a map that forgets": "Array.prototype.map = () => []",
        "elements that are never defined": "customElements.define = () => undefined",
      };
      const form = `><a href="#order">Order by letter</a></`;
      const page = await visit({ body: ONE_COMPOSER.replace("></", form) }, {});
      const ways = Object.values(broken).map((way) => `() => { ${way} }`);
      await page.addInitScript(`[${ways.join()}][location.search.slice(1)]?.()`);
      for (const [at, what] of Object.keys(broken).entries()) {
        await page.goto(`${shop.url}?${at}`, { waitUntil: "networkidle" });
        expect([what, await page.getByText("Order by letter").isVisible()]).toEqual([what, true]);
        expect([what, await buy(page).count()]).toEqual([what, 0]);
      }
    });

    it("names the missing attribute to whoever keeps the page", async () => {
      const page = await visit({ body: "<softset-composer></softset-composer>" });
      await page.getByRole("alert").getByText("“product” attribute").waitFor();
    });
  });

  describe("on any page", () => {
    it("stands twice on one page, each with its own blend", async () => {
      const page = await visit({ body: ONE_COMPOSER + ONE_COMPOSER });
      const [first, second] = [0, 1].map((at) => page.locator("softset-composer").nth(at));
      await first!.getByRole("button", { name: "More Cocoa butter" }).click();
      const value = (of: typeof first) =>
        of!.getByRole("slider", { name: "Share of Cocoa butter" }).inputValue();
      expect([await value(first), await value(second)]).toEqual(["1100", "1000"]);
      expect(complaints).toEqual([]);
    });

    it("keeps a blend of its own in each of two tabs, and orders each once", async () => {
      const page = await visit();
      await page.getByRole("button", { name: "More Cocoa butter" }).click();
      const other = await context.newPage();
      await other.goto(shop.url);
      expect(await share(other, "Cocoa butter").inputValue()).toBe("1000");
      await buy(other).click();
      await other.waitForURL(/\/pay\/EB-1$/);
      await other.close();
      await page.reload();
      expect(await share(page, "Cocoa butter").inputValue()).toBe("1100");
      await buy(page).click();
      await page.waitForURL(/\/pay\/EB-2$/);
      const shares = [...shop.orders.values()].map(
        ({ request }) => request.choice.butters[1]!.share,
      );
      expect(shares).toEqual([1000, 1100]);
    });

    it("leaves nothing on the page's global object", async () => {
      const page = await visit();
      await headline(page).waitFor();
      expect(
        await page.evaluate(() =>
          Object.keys(globalThis).filter((key) => /softset|blend/i.test(key)),
        ),
      ).toEqual([]);
    });

    it("fits 320, 390 and 1280 px, and 1280 at 200 % zoom, without scrolling sideways, targets 44 px", async () => {
      const page = await visit({}, {});
      for (const [width, height] of [
        [320, 844],
        [390, 844],
        [640, 422],
        [1280, 844],
      ] as const) {
        await page.setViewportSize({ width, height });
        await headline(page).waitFor();
        for (const state of ["open", "refused"]) {
          if (state === "refused") await tooHard(page);
          const told = await page.evaluate(() => {
            const { scrollWidth, clientWidth } = document.documentElement;
            const root = document.querySelector("softset-composer")!.shadowRoot!;
            const heights = [...root.querySelectorAll("button")].map((each) => each.offsetHeight);
            const small = heights.filter((height) => height > 0 && height < 44).length;
            return { overhang: scrollWidth - clientWidth, buttons: heights.length, small };
          });
          expect({ width, state, ...told }).toMatchObject({ overhang: 0, small: 0 });
          expect(told.buttons).toBeGreaterThan(10);
          if (PICTURES) {
            const path = join(PICTURES, `${state}-${width}.png`);
            await page.screenshot({ path, fullPage: true });
          }
        }
        await page.keyboard.press("Control+z");
      }
    });

    it("goes by touch: a tap on the slider, a jar and the order", async () => {
      const page = await visit({}, { hasTouch: true, isMobile: true });
      const cocoa = share(page, "Cocoa butter");
      await cocoa.scrollIntoViewIfNeeded();
      const { width, height } = (await cocoa.boundingBox())!;
      await cocoa.tap({ position: { x: width * 0.3, y: height / 2 } });
      const taken = Number(await cocoa.inputValue());
      expect(taken).toBeGreaterThan(1000);
      await page.getByRole("button", { name: "More Cocoa butter" }).tap();
      expect(await cocoa.inputValue()).toBe(String(taken + 100));
      await page.locator(".jars label").filter({ hasText: "Large" }).tap();
      await buy(page).tap();
      await page.waitForURL(/\/pay\//);
      expect([...shop.orders.values()][0]!.request.jar).toBe("large");
    });

    it("reads from right to left on such a page: the left arrow key adds", async () => {
      const page = await visit({ root: `lang="en" dir="rtl"` });
      await share(page, "Cocoa butter").focus();
      await page.keyboard.press("ArrowLeft");
      expect(await share(page, "Cocoa butter").inputValue()).toBe("1100");
    });

    it("shows locked shares as fixed, without a control", async () => {
      const page = await visit();
      await page.getByRole("radio", { name: /Mango and cocoa/ }).check();
      const row = page.locator(".row").filter({ hasText: "Shea butter" });
      expect(await row.textContent()).toContain("fixed");
      expect(await row.getByRole("slider").count()).toBe(0);
    });

    it("takes the shop's locale and currency for money", async () => {
      const offer = { ...anOffer(), locale: "de-DE", currency: { code: "JPY", exponent: 0 } };
      const page = await visit({ offer });
      await expect.poll(() => page.locator(".total").textContent()).toMatch(/^1\.150\s¥$/);
    });
  });

  it("is for everyone: axe finds nothing in any state at 390 px, light or dark", async () => {
    const page = await visit({}, { bypassCSP: true });
    await headline(page).waitFor();
    const look = async (state: string, ...schemes: ("light" | "dark")[]) => {
      for (const colorScheme of schemes) {
        await page.emulateMedia({ colorScheme });
        const coloursOnly = colorScheme === "dark";
        const found = await axeFindings(page, { within: "softset-composer", coloursOnly });
        expect({ state, colorScheme, found }).toEqual({ state, colorScheme, found: [] });
      }
      await page.emulateMedia({ colorScheme: "light" });
    };
    await look("as it opens", "light", "dark");
    await page.getByLabel("First oil").selectOption("sweet-almond-oil");
    const unfold = (isOpen: boolean) =>
      page.locator("softset-composer").evaluate((node, open) => {
        for (const each of node.shadowRoot!.querySelectorAll("details")) each.open = open;
      }, isOpen);
    await unfold(true);
    await page.getByRole("table").first().waitFor();
    await look("with everything unfolded", "light");
    await unfold(false);
    await page.getByLabel("First oil").selectOption("village-oil");
    await page.getByText("We would rather not guess").waitFor();
    await look("cannot judge", "light");
    await page.getByLabel("First oil").selectOption("sunflower-oil");
    await tooHard(page);
    await look("refused", "light", "dark");
    await page.keyboard.press("Control+z");
    await context.setOffline(true);
    await buy(page).click();
    await page.getByText("You seem to be offline").waitFor();
    await look("after a trouble", "light");
    await context.setOffline(false);
    shop.manners.dearerByMinor = 50;
    await buy(page).click();
    await page.getByText("Something changed just now").waitFor();
    await look("asking about a new price", "light", "dark");
    await page.evaluate(() =>
      document.addEventListener("softset-ordered", (event) => event.preventDefault()),
    );
    await page.getByRole("button", { name: /^Order and pay £/ }).click();
    await page.getByText("Order EB-1 is placed").waitFor();
    await look("ordered", "light");
  }, 90_000);

  it("ships at most 30 KiB of script, core and all, and at most 6 KiB of words a language", async () => {
    const { gzipSync } = await import("node:zlib");
    expect(gzipSync(script, { level: 9 }).length).toBeLessThanOrEqual(30 * 1024);
    for (const language of LANGUAGES) {
      const { outputFiles } = await build({ ...wordsBuild(language), write: false });
      const words = gzipSync(outputFiles![0]!.contents, { level: 9 }).length;
      expect([language, words <= 6 * 1024]).toEqual([language, true]);
    }
  });
});

/** Press Tab until the control of this name has the focus. */
async function tabTo(page: Page, name: string): Promise<void> {
  for (let presses = 0; presses < 80; presses += 1) {
    await page.keyboard.press("Tab");
    const focused = await page.evaluate(() => {
      const node = document.activeElement?.shadowRoot?.activeElement as HTMLElement | null;
      const labels = (node as HTMLInputElement | null)?.labels;
      return (
        node?.getAttribute("aria-label") ?? labels?.[0]?.textContent ?? node?.textContent ?? ""
      );
    });
    if (focused.startsWith(name)) return;
  }
  throw new Error(`Tab never reached ${name}`);
}
