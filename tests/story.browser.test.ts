/**
 * One order told from the first tap on a phone to the printed work order, in real Chromium against the running service.
 */
import { mkdtempSync, readFileSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { hasChromium, isComplaint, launchChromium } from "./helpers/browser.ts";
import { type RunningService, runService } from "./helpers/running-shop.ts";

/** What the storefront says of a blend that sets too hard. */
const REFUSED = /too hard/;

describe.skipIf(!hasChromium)("one custom jar", () => {
  const pictures = process.env["SOFTSET_PICTURES"] ?? mkdtempSync(join(tmpdir(), "softset-"));
  let service: RunningService;
  let browser: Browser;
  let phone: Page;
  let reference = "";
  const complaints: string[] = [];

  beforeAll(async () => {
    service = await runService();
    browser = await launchChromium();
    phone = await newPage({ width: 390, height: 844 });
  });
  afterAll(async () => {
    await browser?.close();
    await service?.stop();
  });

  async function newPage(viewport: { width: number; height: number }): Promise<Page> {
    const page = await browser.newPage({ viewport });
    page.on("pageerror", (error) => complaints.push(String(error)));
    page.on("response", (response) => {
      if (response.status() >= 400) complaints.push(`${response.status()} ${response.url()}`);
    });
    page.on("console", (message) => {
      if (isComplaint(message)) complaints.push(`${message.text()} ${message.location().url}`);
    });
    return page;
  }

  /** A picture as the README shows it: what stands on the screen, beginning at a place when one is given. */
  async function picture(page: Page, name: string, from?: Locator): Promise<void> {
    await from?.evaluate((element) => element.scrollIntoView({ block: "start" }));
    await page.screenshot({ path: join(pictures, `${name}.png`) });
  }

  it("begins in the shop, on a page that fits a phone and says that it is for practice", async () => {
    await phone.goto(service.url);
    expect(await phone.locator(".practice").textContent()).toContain("Practice shop");
    await picture(phone, "shop");
    await phone.getByRole("link", { name: /Everyday butter/ }).click();
    await phone.getByRole("radio", { name: /Mild mango/ }).waitFor();
    const overhang = await phone.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(overhang).toBe(0);
  });

  it("lets the customer pick a base, swap an oil and move a share", async () => {
    await phone.getByRole("radio", { name: /Mild mango/ }).check({ force: true });
    await phone.getByRole("radio", { name: /200 g/ }).check({ force: true });
    const price = phone.locator("softset-composer").getByText(/£\d+\.\d\d/);
    const before = await price.allTextContents();
    await phone.getByRole("combobox", { name: /Caring oil/ }).selectOption("sweet-almond-oil");
    expect(await price.allTextContents()).not.toEqual(before);
    const mango = phone.getByRole("slider", { name: /Mango butter/ });
    await mango.focus();
    const from = Number(await mango.inputValue());
    for (let press = 0; press < 3; press++) await phone.keyboard.press("ArrowRight");
    expect(Number(await mango.inputValue())).toBeGreaterThan(from);
    await picture(phone, "composer", phone.getByRole("heading", { name: /^Sets/ }));
  });

  it("refuses a blend that sets too hard, in words, and takes it back by undo", async () => {
    await phone.getByRole("radio", { name: /Soft shea/ }).check({ force: true });
    for (const [name, key] of [
      [/Share of Jojoba oil/, "Home"],
      [/Share of Sunflower oil/, "Home"],
      [/Share of Cocoa butter/, "End"],
    ] as const) {
      await phone.getByRole("slider", { name }).focus();
      await phone.keyboard.press(key);
    }
    await phone.getByText(REFUSED).first().waitFor();
    await picture(phone, "refused", phone.getByRole("heading", { name: /^Sets/ }));
    await phone.getByRole("button", { name: /Back to the maker/ }).click();
    await phone
      .getByText(/too hard/)
      .first()
      .waitFor({ state: "hidden" });
  });

  it("takes the order and, at the practice till, the payment", async () => {
    await phone.getByRole("radio", { name: /120 g/ }).check({ force: true });
    await phone.getByRole("button", { name: /Order and pay/ }).click();
    await phone.waitForURL(/\/till\//);
    expect(await phone.locator(".practice").textContent()).toContain("No money moves");
    await picture(phone, "till");
    await phone.getByRole("button", { name: /Pay with practice money/ }).click();
    await phone.waitForURL(/\/orders\//);
    await phone.getByRole("heading", { name: "Paid. Thank you" }).waitFor();
    reference = /Order (\w{6})/.exec((await phone.locator("main").textContent()) ?? "")?.[1] ?? "";
    expect(reference).toHaveLength(6);
    await picture(phone, "order");
  });

  it("meets the maker at the bench, who writes the work order", async () => {
    const desk = await newPage({ width: 1280, height: 900 });
    await desk.goto(service.makerLink);
    await desk.getByRole("button", { name: "Open the bench" }).click();
    await desk.getByRole("link", { name: "Later; to the bench" }).click();
    await desk.getByRole("heading", { name: "1 paid order to make" }).waitFor();
    await picture(desk, "bench");
    await desk.getByRole("button", { name: "Look the batch over" }).click();
    await desk.getByRole("heading", { name: "To be fetched from the shelf" }).waitFor();
    await desk.getByRole("button", { name: "Write the work order" }).click();
    await desk.getByRole("link", { name: "Print the work order" }).click();
    await desk.waitForURL(/\/maker\/batches\/.*\/sheets/);
    const sheet = (await desk.locator("body").textContent()) ?? "";
    for (const words of [reference, "Shea butter", "Butyrospermum Parkii", "124.80", "Lot"]) {
      expect(sheet).toContain(words);
    }
    await picture(desk, "work-order");
    for (const format of ["A4", "Letter"] as const) {
      const path = join(pictures, `work-order-${format}.pdf`);
      await desk.pdf({ path, format });
      const pages = readFileSync(path, "latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      expect([format, pages <= 2, pages >= 1]).toEqual([format, true, true]);
      expect(statSync(path).size).toBeGreaterThan(10_000);
    }
    await desk.close();
  });

  it("is still there after the service was stopped and started again", async () => {
    expect(await service.stop()).toBe(0);
    service = await runService({}, service.database);
    const desk = await newPage({ width: 1280, height: 900 });
    await desk.goto(service.makerLink);
    await desk.getByRole("button", { name: "Open the bench" }).click();
    await desk.getByRole("link", { name: "Later; to the bench" }).click();
    await desk.getByRole("heading", { name: "1 batch on the bench" }).waitFor();
    await desk.getByRole("link", { name: "Close it" }).click();
    await desk.getByRole("button", { name: "Close the batch" }).click();
    await desk.getByRole("link", { name: reference }).click();
    await desk.getByRole("button", { name: "Mark as sent" }).click();
    await desk.goto(`${service.url}/maker/orders/${reference}`);
    const log = (await desk.locator("main").textContent()) ?? "";
    for (const what of ["placed", "paid", "batch", "made", "sent"]) expect(log).toContain(what);
    await picture(desk, "maker-order");
    await desk.close();
  });

  it("made no browser complain on the way", () => {
    expect(complaints).toEqual([]);
  });
});
