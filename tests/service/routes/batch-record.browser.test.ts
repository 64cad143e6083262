/**
 * The record and the net contents of a batch in real Chromium: written with a keyboard, read on a phone and a desk,
 * light and dark, printed on both papers; no fault that axe knows, and nothing wider than its screen.
 */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { issueBatch } from "#service/actions/issue-batch.ts";
import { type BrowsedShop, openBrowsedShop } from "../../helpers/browsed-shop.ts";
import { hasChromium } from "../../helpers/browser.ts";
import { payOrder } from "../../helpers/shop-acts.ts";

describe.skipIf(!hasChromium)("the record of a batch in a browser", () => {
  let browsed: BrowsedShop;
  let page: Page;
  let number = "";

  beforeAll(async () => {
    browsed = await openBrowsedShop({ refusals: [422] });
    ({ page } = browsed);
    number = await onBench();
  });
  afterAll(() => browsed?.close());

  async function onBench(): Promise<string> {
    const { shop } = browsed;
    const { id } = await payOrder(shop, { quantity: 6 });
    const owner = (await shop.shop.shops.byId("quillfen"))!;
    const goes = { orderIds: [id], personId: null, goShort: true };
    const issued = await issueBatch(shop.shop, owner, goes);
    return (issued as { number: string }).number;
  }

  it("is begun, and an entry that cannot be taken stays in its form", async () => {
    await browsed.signIn();
    await page.goto(`${browsed.url}/maker/batches/${number}`);
    await page.getByRole("link", { name: "Batch record" }).click();
    await page.getByText("Unbroken, 1 entry.").waitFor();
    await browsed.look("record-open");
    await page.locator("#write-started summary").focus();
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Write down the start" }).click();
    await page.getByText("Not written, and nothing is stored.").waitFor();
    for (const box of await page.locator("#write-started input[type=checkbox]").all()) {
      await box.check();
    }
    await page.getByRole("button", { name: "Write down the start" }).click();
    await page.getByText("Unbroken, 2 entries.").waitFor();
  });

  it("takes weights that were pasted in, and says what to do about those that fall short", async () => {
    await page.getByRole("link", { name: "Net contents" }).click();
    await page.getByLabel("Empty jar with lid and label").fill("68,4");
    await page.getByLabel("Weights in grams").fill("188,4\n188.6\n189\n170.2\n188.5\n190");
    await page.getByRole("button", { name: "Judge and keep" }).click();
    await page.getByText("run 1: Falls short").waitFor();
    await page.getByText(/Not for sale with this label.*jar 4/).waitFor();
    await page.getByLabel("Weights in grams").fill("188.4 heavy");
    await page.getByRole("button", { name: "Judge and keep" }).click();
    await page.getByText("Not judged, and nothing is stored.").waitFor();
    expect(await page.getByLabel("Weights in grams").inputValue()).toBe("188.4 heavy");
    await browsed.look("contents");
  });

  it("is read whole once it is closed and decided, on screen and on paper", async () => {
    const record = `${browsed.url}/maker/batches/${number}/record`;
    await page.goto(`${browsed.url}/maker/batches/${number}/close`);
    await page.getByRole("radio", { name: "soft" }).first().check();
    await page.getByRole("button", { name: "Close the batch" }).click();
    for (const [form, fields, button] of WRITINGS) {
      await page.goto(record);
      await page.locator(`${form} summary`).click();
      for (const [label, value] of Object.entries(fields)) {
        await page.locator(form).getByLabel(label, { exact: true }).fill(value);
      }
      await page.locator(form).getByRole("button", { name: button }).click();
    }
    await page.goto(record);
    await page.locator("#write-release summary").click();
    await page.getByRole("radio", { name: "Held back" }).check();
    await page.getByLabel("What it rests on").fill("Jar 4 is to be filled up first");
    await page.getByRole("button", { name: "Decide" }).click();
    await page.getByText("Jar 4 is to be filled up first").waitFor();
    await page.getByText("Unbroken, 8 entries.").waitFor();
    await browsed.look("record-made", { atDesk: true });
    await browsed.print("record", 1, 3);
    expect(browsed.complaints).toEqual([]);
  });
});

const WRITINGS = [
  [
    "#write-deviation",
    {
      "What was otherwise than it should be":
        "The chill went 3 °C too far; a skin formed at the side.",
      "What was found out, and done about it":
        "Warmed to 26 °C until clear at the side, and chilled again.",
    },
    "Write down the deviation",
  ],
  [
    "#write-correction",
    {
      "What is so instead": "All looked at; the scale was checked with a 200 g weight.",
      "Why it is corrected": "The weight was not named.",
    },
    "Write the correction",
  ],
  [
    "#write-sample",
    { "How much is kept": "12.5", Where: "Cool box, shelf 2" },
    "Write down the sample",
  ],
] as const;
