/**
 * A first run as somebody new would walk it, in real Chromium against the running service: from an empty database to a
 * shop of one's own with a published product, a first order and a first batch. What it took is counted.
 */
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axeFindings } from "./helpers/axe.ts";
import { hasChromium, isComplaint, launchChromium } from "./helpers/browser.ts";
import { NewUser } from "./helpers/new-user.ts";
import { type RunningService, runService } from "./helpers/running-shop.ts";

const OWN = { SOFTSET_SHOP: "Moss & Lane", SOFTSET_CURRENCY: "EUR", SOFTSET_COUNTRY: "IE" };
const PACKS = [
  ["Shea butter", "1 kg", "11.80"],
  ["Cocoa butter", "1 kg", "17,50"],
  ["Jojoba oil", "1 kg", "24"],
  ["Sunflower oil", "1 kg", "6.20"],
  ["Mango butter", "500 g", "9.90"],
] as const;

describe.skipIf(!hasChromium)("a first run", { timeout: 120_000 }, () => {
  const pictures = process.env["SOFTSET_PICTURES"];
  let service: RunningService;
  let browser: Browser;
  let page: Page;
  let maker: NewUser;
  let began = 0;
  const complaints: string[] = [];

  beforeAll(async () => {
    service = await runService({ ...OWN, SOFTSET_TIME_ZONE: "Europe/Dublin" });
    browser = await launchChromium();
    page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    page.setDefaultTimeout(40_000);
    page.on("pageerror", (error) => complaints.push(String(error)));
    page.on("response", (response) => {
      if (response.status() >= 400) complaints.push(`${response.status()} ${response.url()}`);
    });
    page.on("console", (message) => {
      if (isComplaint(message)) complaints.push(message.text());
    });
    const cdp = await page.context().newCDPSession(page);
    await cdp.send("WebAuthn.enable");
    await cdp.send("WebAuthn.addVirtualAuthenticator", {
      options: {
        ...{ protocol: "ctap2", transport: "internal", hasResidentKey: true },
        ...{ hasUserVerification: true, isUserVerified: true },
      },
    });
    maker = new NewUser(page);
    began = Date.now();
  });
  afterAll(async () => {
    await browser?.close();
    await service?.stop();
  });

  /** Pictures at both widths; nothing may hang over the edge, and no rule of WCAG may be broken. */
  async function looks(name: string): Promise<void> {
    expect.soft([name, await axeFindings(page)]).toEqual([name, []]);
    for (const width of [390, 1280]) {
      await page.setViewportSize({ width, height: 900 });
      if (pictures) {
        const path = join(pictures, `first-${name}-${width}.png`);
        await page.screenshot({ path, fullPage: true });
      }
      const over = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect.soft([name, width, over]).toEqual([name, width, 0]);
    }
  }

  it("begins with one command that says which shop it made, and prints the way in", async () => {
    expect(service.printed).toContain("Moss & Lane is open.");
    expect(service.printed).toContain("EUR, Ireland, Europe/Dublin, figures and dates as in en-IE");
    await page.goto(`${service.url}/`);
    await page.getByText("Nothing is for sale yet").waitFor();
    await looks("shop-empty");
    await page.goto(service.makerLink);
    await looks("link");
    await maker.press("Open the bench");
  });

  it("makes the door its maker’s: a passkey, then a code on paper", async () => {
    await maker.heading("Your sign-in");
    await looks("you");
    await maker.write("Name of the new passkey", "Kitchen laptop");
    await maker.press("Add a passkey");
    // With no code yet, the page goes straight on to it.
    await page.waitForURL("**/recovery-code");
    await looks("code");
  });

  it("shows on the bench what comes first", async () => {
    await maker.takeNextStep(/settings/);
    await page.goBack();
    await maker.heading("Your shop, step by step");
    await looks("bench");
    await maker.tap(page.locator('.first-steps [aria-current="step"] a'));
  });

  it("takes the shop’s settings", async () => {
    await looks("shop");
    await maker.write("Step of the scale", "0.1");
    await maker.write(/^Name$/, "Ada Moss");
    await maker.write("Address", "1 Lane End\nDublin");
    await maker.press("Save");
    await page.getByText("Saved.").waitFor();
  });

  it("fills the shelf from one page, by the keyboard alone, and mends a slip", async () => {
    await maker.takeNextStep(/shelf/);
    await maker.heading("Fill the shelf");
    await looks("shelf");
    await page.getByLabel(`Pack of ${PACKS[0][0]}`).focus();
    for (const [name, pack, price] of PACKS) {
      for (let tabs = 0; tabs < 60; tabs++) {
        const at = await page.evaluate(() => document.activeElement?.getAttribute("aria-label"));
        if (at === `Pack of ${name}`) break;
        await page.keyboard.press("Tab");
      }
      await page.keyboard.type(name === "Mango butter" ? "500" : pack);
      await page.keyboard.press("Tab");
      await page.keyboard.type(price);
      maker.effort.fields += 2;
    }
    await page.keyboard.press("Enter");
    await page.getByText("Not saved yet.").waitFor();
    expect(complaints.splice(0).every((each) => each.includes("422"))).toBe(true);
    await looks("shelf-slip");
    await page.getByRole("link", { name: /Mango butter: “500” has no unit/ }).press("Enter");
    await maker.write("Pack of Mango butter", "500 g");
    await page.keyboard.press("Enter");
    await page.getByText("5 ingredients put on the shelf.").waitFor();
    await looks("shelf-filled");
  });

  it("begins a product from the example and comes to the end of its sheets", async () => {
    await maker.press("Begin a product", "link");
    await maker.write("What is it called?", "Hearth butter");
    await maker.tap(page.getByLabel(/our example/));
    await looks("product-new");
    await maker.press("Begin");
    for (const sheet of ["words", "oils", "bases", "additives", "jars", "rules"]) {
      await page.waitForURL(`**/${sheet}`);
      await looks(`product-${sheet}`);
      if (sheet === "words") await maker.write("What the shop says of it", "For cold hands.");
      await maker.tap(page.locator("main .act, main a.go-on").first());
    }
    await page.waitForURL("**/price");
    await looks("product-price");
  });

  it("is led back by the bench to the price, and then to the publishing", async () => {
    await maker.takeNextStep(/priced/);
    await maker.write(/^Jar and lid/, "0.85");
    await maker.write(/^Label and carton/, "0.20");
    await maker.write(/^Labour for one jar/, "2");
    await maker.write(/^Loss allowance/, "4");
    await maker.write(/^Labour for one batch/, "10");
    await maker.write(/^Jars in a usual batch/, "6");
    await maker.write(/^Profit/, "40");
    await maker.write(/^Rate of tax/, "0");
    await maker.tap(page.getByLabel("to 0.10"));
    await looks("price-filled");
    await maker.press("Save prices");
    await page.getByText("Customers see it once you publish").waitFor();
    await maker.takeNextStep(/room/);
    await looks("room");
    await maker.press("Measure the room");
    await maker.heading(/Example base: /);
    await looks("room-measured");
    await maker.press("Go on to publish", "link");
    await looks("publish");
    await maker.press("Publish version 1");
    await page.getByText("Published. Customers see it now.").waitFor();
    await looks("published");
  });

  it("orders the first jar of the shop at the practice till", async () => {
    await maker.takeNextStep(/Order a jar/);
    await looks("shop-product");
    await maker.press(/Order and pay/);
    await page.waitForURL(/\/till\//);
    await looks("till");
    await maker.press("Pay with practice money");
    await page.getByRole("heading", { name: "Paid. Thank you" }).waitFor();
    await looks("order");
  });

  it("makes the first batch, and the list of first steps is gone", async () => {
    await page.goto(`${service.url}/maker`);
    await maker.heading("1 paid order to make");
    await looks("bench-order");
    await maker.press("Look the batch over");
    await looks("batch-new");
    await maker.press("Write the work order");
    await looks("batch");
    await maker.press("Bench", "link");
    await maker.press("Close it", "link");
    await looks("batch-close");
    await maker.write(/^Jars filled/, "1");
    await maker.press("Close the batch");
    // Nothing was received as a lot yet, and a jar that cannot be traced needs a reason.
    await page.getByText("so nobody could trace it").first().waitFor();
    expect(complaints.splice(0).every((each) => each.includes("422"))).toBe(true);
    for (const field of await page.getByLabel(/^Why, when/).all()) {
      await field.fill("No lots kept yet.");
      maker.effort.fields++;
    }
    await maker.press("Close the batch");
    await looks("batch-closed");
    await maker.press("Bench", "link");
    await maker.heading(/to send/);
    expect(await page.locator(".first-steps").count()).toBe(0);
    await looks("bench-after");
  });

  it("takes well under ten minutes of pages, taps and words", () => {
    const seconds = (Date.now() - began) / 1000;
    console.log({ ...maker.effort, seconds });
    expect(complaints).toEqual([]);
    expect(walkedMinutes(maker.effort)).toBeLessThan(10);
  });
});

/** Unhurried, by our own measure: a page read in 8 s, a click found in 2 s, a field filled in 6 s. */
function walkedMinutes({ pages, clicks, fields }: NewUser["effort"]): number {
  return (pages * 8 + clicks * 2 + fields * 6) / 60;
}
