/**
 * The shelf in a real browser: an ingredient added, a lot received and counted by keyboard, a table brought in, and no
 * barrier that axe can find, on a phone in the light and on a desk in the dark.
 */
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { axeFindings } from "../../helpers/axe.ts";
import { hasChromium, isComplaint, launchChromium, unsaidCells } from "../../helpers/browser.ts";
import { type RunningService, runService } from "../../helpers/running-shop.ts";

describe.skipIf(!hasChromium)("the shelf in a browser", () => {
  const pictures = process.env["SOFTSET_PICTURES"];
  let service: RunningService;
  let browser: Browser;
  let page: Page;
  const complaints: string[] = [];

  beforeAll(async () => {
    service = await runService();
    browser = await launchChromium();
    // The pages' own policy lets no script in but theirs, and axe is one.
    page = await browser.newPage({ viewport: { width: 390, height: 844 }, bypassCSP: true });
    page.on("console", (message) => {
      if (isComplaint(message)) complaints.push(message.text());
    });
    await page.goto(service.makerLink);
    await page.locator("main button").first().click();
    await page.waitForURL(/\/maker/);
  });
  afterAll(async () => {
    await browser?.close();
    await service?.stop();
  });

  /** Look at a page in each width and light, and ask axe. */
  async function look(name: string): Promise<void> {
    for (const [width, colorScheme] of [
      [390, "light"],
      [1280, "dark"],
    ] as const) {
      await page.setViewportSize({ width, height: 900 });
      await page.emulateMedia({ colorScheme });
      const overhang = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect([name, width, overhang]).toEqual([name, width, 0]);
      expect([name, width, await unsaidCells(page)]).toEqual([name, width, 0]);
      const found = await axeFindings(page, { coloursOnly: colorScheme === "dark" });
      expect([name, colorScheme, found]).toEqual([name, colorScheme, []]);
      const file = `${name}-${width}-${colorScheme}.png`;
      if (pictures) await page.screenshot({ path: join(pictures, file), fullPage: true });
    }
    await page.setViewportSize({ width: 390, height: 844 });
    await page.emulateMedia({ colorScheme: "light" });
  }

  it("shows first what to look at", async () => {
    await page.goto(`${service.url}/maker/shelf`);
    await page.getByRole("heading", { name: /things to look at on the shelf/ }).waitFor();
    await look("shelf");
  });

  it("adds an ingredient from the library, and says what is to be mended", async () => {
    await page.getByRole("link", { name: "Add from the library" }).click();
    await look("library");
    await page.getByLabel("Name or INCI name").fill("cupuacu");
    await page.keyboard.press("Enter");
    await page.getByRole("link", { name: "Cupuaçu butter" }).click();
    await page.getByLabel("Pack", { exact: true }).fill("5 stone");
    await page.getByLabel(/Price of the pack/).fill("40");
    await page.getByRole("button", { name: "Put it on the shelf" }).click();
    await page.getByText("is not a unit known here").first().waitFor();
    await look("form");
    await page.getByLabel("Pack", { exact: true }).fill("5 lb");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Cupuaçu butter" }).waitFor();
  });

  it("receives a lot, counts it, and undoes the count", async () => {
    await page.getByRole("link", { name: "Receive a lot" }).click();
    await page.getByLabel(/Supplier’s lot code/).fill("C-7 🧈");
    await page.getByLabel("How much arrived").fill("5 lb");
    await page.getByText("Certificate of analysis").click();
    await look("receive");
    await page.getByRole("button", { name: "Receive it" }).click();
    await page.getByLabel("Left in the lot").fill("2 kg");
    await page.keyboard.press("Enter");
    await page.getByText("−267.962 g").waitFor();
    await page.getByRole("button", { name: /Undo the last: counted/ }).click();
    await page.getByText("+267.962 g").waitFor();
    await look("lot");
    await page.goto(`${service.url}/maker/shelf/lots/demo-tb-c118`);
    await look("lot-certified");
    await page.goto(`${service.url}/maker/shelf/shea-butter?need=3+kg`);
    await look("ingredient");
  });

  it("brings a table in after a look at it", async () => {
    await page.goto(`${service.url}/maker/shelf/files`);
    await look("files");
    const rows = ["Shea butter,,1 kg,12.10", "Olive oil,From the tub,5 l,30", "Gold,,1 kg,1"];
    const text = ["Ingredient,Own name,Pack,Pack price", ...rows].join("\n");
    await page.locator("input[type=file]").setInputFiles({
      ...{ name: "table.csv", mimeType: "text/csv", buffer: Buffer.from(text) },
    });
    await page.getByRole("button", { name: "Look at it first" }).click();
    await page.getByRole("heading", { name: "2 rows ready, 1 to mend" }).waitFor();
    await look("preview");
    await page.getByRole("button", { name: "Write the 2 good rows only" }).click();
    await page.getByRole("heading", { name: /1 row to mend, and nothing to write/ }).waitFor();
  });

  it("draws no complaint from the browser beyond the answer that a form was not right", () => {
    expect(complaints.filter((text) => !/status of 422/.test(text))).toEqual([]);
  });
});
