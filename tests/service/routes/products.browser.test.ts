/**
 * A product from nothing to published in real Chromium: by keyboard and pointer, with a strict policy, on a phone and
 * in the dark.
 */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type BrowsedShop, openBrowsedShop } from "../../helpers/browsed-shop.ts";
import { hasChromium } from "../../helpers/browser.ts";

describe.skipIf(!hasChromium)("products in a browser", { timeout: 120_000 }, () => {
  let browsed: BrowsedShop;
  let page: Page;

  beforeAll(async () => {
    // A maker writes a product at a desk.
    browsed = await openBrowsedShop({ refusals: [422], width: 1280 });
    ({ page } = browsed);
    await browsed.signIn();
  });
  afterAll(() => browsed?.close());

  const looks = (name: string) => browsed.look(`product-${name}`, { atDesk: true });
  const goOn = () => page.getByRole("button", { name: "Save and go on" }).click();
  const saidNext = () => page.locator(".next-up").innerText();

  it("begins with nothing and says what to do first", async () => {
    await page.goto(`${browsed.url}/maker/products/new`);
    await looks("new");
    await page.getByLabel("What is it called?").fill("Hearth butter");
    await page.keyboard.press("Enter");
    await page.waitForURL("**/hearth-butter/words");
    expect(await saidNext()).toContain("Write a first base");
    await page.getByLabel("What the shop says of it").fill("For cold hands.");
    await looks("words");
    await goOn();
  });

  it("takes oil places with ticks", async () => {
    await page.waitForURL("**/oils");
    await page.getByLabel("Place 1").fill("Gliding oil");
    await page.getByLabel("Jojoba oil as new place").check();
    await page.getByLabel("Squalane as new place").check();
    await looks("oils");
    await goOn();
  });

  it("says while it is typed what a base comes to", async () => {
    await page.waitForURL("**/bases");
    await page.getByRole("link", { name: "Write a base" }).click();
    await page.getByLabel("Name", { exact: true }).fill("First");
    await page.getByLabel("Ingredient 1", { exact: true }).selectOption({ label: "Shea butter" });
    await page.getByLabel("Share of ingredient 1, percent").fill("70");
    await page.getByLabel("Least of ingredient 1, percent").fill("70");
    await page.getByLabel("Most of ingredient 1, percent").fill("85");
    await page.getByLabel("Gliding oil", { exact: true }).selectOption({ label: "Jojoba oil" });
    await page.getByLabel("Share of Gliding oil, percent").fill("20");
    expect(await page.locator(".sum").innerText()).toMatch(/90\s%: 10\s% missing/);
    await page.getByLabel("Share of Gliding oil, percent").fill("30");
    await page.getByLabel("Least of Gliding oil, percent").fill("15");
    await page.getByLabel("Most of Gliding oil, percent").fill("30");
    await page.getByText("Orderable as it stands").waitFor({ timeout: 10_000 });
    await looks("base");
    await goOn();
    await page.waitForURL("**/bases");
    await looks("bases");
  });

  it("takes additives, jars and rules", async () => {
    await page.goto(`${browsed.url}/maker/products/hearth-butter/additives`);
    await looks("additives");
    await goOn();
    await page.waitForURL("**/jars");
    await page.getByLabel("Name of jar 1").fill("Small jar");
    await page.getByLabel("Filling of jar 1, grams").fill("sixty");
    await goOn();
    await page.getByText("Not saved yet.").waitFor();
    await looks("jars-refused");
    await page.getByLabel("Filling of jar 1, grams").fill("60");
    await goOn();
    await page.waitForURL("**/rules");
    await page.getByLabel("Softest allowed").selectOption("soft");
    await page.getByLabel("Hardest allowed").selectOption("firm");
    await looks("rules");
    await goOn();
    await page.waitForURL("**/price");
  });

  it("takes what its labels say, and asks how the months are known", async () => {
    await page.goto(`${browsed.url}/maker/products/hearth-butter/label`);
    await page.getByLabel("A closed jar lasts").fill("9");
    await goOn();
    await page.getByRole("link", { name: /Say how you know the months/ }).click();
    await looks("label-refused");
    await page.getByLabel("How these months are known").selectOption("kept-jars");
    await page.getByLabel("In English").first().fill("Hand and body butter");
    await goOn();
    // The fault's own address stays behind the next page's.
    await page.waitForURL("**/room#monthsFrom");
  });

  it("measures the room and publishes", async () => {
    const { shop } = browsed;
    const stored = (await shop.shop.drafts.read("quillfen", "hearth-butter"))!;
    const { document, revision } = stored;
    const jarMinor = { "small-jar": 80 };
    const priced = { ...document, pricePolicy: { ...document.pricePolicy, jarMinor } };
    await shop.shop.drafts.save("quillfen", "hearth-butter", priced, revision, null, 1);
    await page.goto(`${browsed.url}/maker/products/hearth-butter/room`);
    await page.getByRole("button", { name: "Measure the room" }).click();
    await page.getByRole("heading", { name: /First: \d+ %|First: all/ }).waitFor();
    await looks("room");
    await page.getByRole("link", { name: "Go on to publish" }).click();
    await looks("publish");
    await page.getByRole("button", { name: "Publish version 1" }).click();
    await page.getByText("Published. Customers see it now.").waitFor();
    await looks("overview");
    await page.goto(`${browsed.url}/maker/products`);
    await looks("list");
    await page.goto(`${browsed.url}/maker/products/everyday/stand-in?oil=jojoba-oil`);
    await looks("stand-in");
    const sold = await shop.request("/v1/products/hearth-butter");
    expect(((await sold.json()) as { version: number }).version).toBe(1);
  });

  it("kept to its strict content policy all the way", () => {
    expect(browsed.complaints).toEqual([]);
  });
});
