/**
 * A maker's afternoon in real Chromium: two blends in one batch, looked over, printed, closed and traced; every page
 * without a fault that axe knows, and none wider than its screen.
 */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type BrowsedShop, openBrowsedShop } from "../../helpers/browsed-shop.ts";
import { hasChromium } from "../../helpers/browser.ts";
import { payOrder, setParticulars } from "../../helpers/shop-acts.ts";
import { aQuoteRequest } from "../../helpers/shop.ts";

describe.skipIf(!hasChromium)("a batch in a browser", () => {
  let browsed: BrowsedShop;
  let page: Page;

  beforeAll(async () => {
    browsed = await openBrowsedShop({ refusals: [422] });
    ({ page } = browsed);
    const { shop } = browsed;
    await setParticulars(shop, { vesselMg: 250_000 });
    const { choice } = aQuoteRequest();
    const butters = [
      { ingredient: "shea-butter", share: 6200 },
      { ingredient: "cocoa-butter", share: 800 },
    ];
    await payOrder(shop, { quantity: 5 });
    shop.pass(60);
    await payOrder(shop, { choice: { ...choice, butters } }, "Teal Marlow");
  });
  afterAll(() => browsed?.close());

  it("goes from paid orders to two runs, one of them in three loads, on paper", async () => {
    await browsed.signIn();
    await page.goto(`${browsed.url}/maker`);
    await page.getByRole("heading", { name: "2 paid orders to make" }).waitFor();
    await browsed.look("bench");
    await page.getByRole("button", { name: "Look the batch over" }).click();
    await page.getByRole("heading", { name: "To be fetched from the shelf" }).waitFor();
    await browsed.look("batch-new");
    await page.getByRole("button", { name: "Write the work order" }).click();
    await page.getByRole("link", { name: "Print the work order" }).waitFor();
    await browsed.look("batch-open");
    await page.getByRole("link", { name: "Print the work order" }).click();
    await page.getByRole("heading", { name: "The vessel holds it in 3 loads" }).waitFor();
    await browsed.print("batch", 4, 6);
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
    await browsed.look("batch-close");
    await shea.fill("374.40");
    await page.getByRole("radio", { name: "soft" }).first().check();
    await page.getByRole("button", { name: "Close the batch" }).click();
    await page.getByRole("heading", { name: "Notes" }).waitFor();
    await browsed.look("batch-made");
  });

  it("is traced from its lot, and its orders stand under what is to be done", async () => {
    await page.getByRole("link", { name: "TB-2207" }).first().click();
    await page.getByText("1 batch, 2 orders, 7 jars").waitFor();
    await browsed.look("trace-lot");
    await page.goto(`${browsed.url}/maker/orders`);
    await browsed.look("orders");
    await page.getByText("Teal Marlow").waitFor();
    await page.locator("th a.tap").first().click();
    await page.getByRole("heading", { name: "Lots in it" }).waitFor();
    await browsed.look("order");
    await page.goto(`${browsed.url}/maker/batches`);
    await browsed.look("batches");
    expect(browsed.complaints).toEqual([]);
  });
});
