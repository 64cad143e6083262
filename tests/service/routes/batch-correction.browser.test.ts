/**
 * A correction in real Chromium: a lot too soft is told, corrected, printed and taken back; no fault that axe knows,
 * and no page wider than its screen.
 */
import { eq } from "drizzle-orm";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { lots } from "#data/schema.ts";
import { type BrowsedShop, openBrowsedShop } from "../../helpers/browsed-shop.ts";
import { hasChromium } from "../../helpers/browser.ts";
import { sheaWith } from "../../helpers/certificates.ts";
import { payOrder } from "../../helpers/shop-acts.ts";

describe.skipIf(!hasChromium)("a correction in a browser", () => {
  let browsed: BrowsedShop;
  let page: Page;

  beforeAll(async () => {
    browsed = await openBrowsedShop();
    ({ page } = browsed);
    await certify(sheaWith({ stearic: 35.73 }));
    await payOrder(browsed.shop);
  });
  afterAll(() => browsed?.close());

  async function certify(certificate: string | null): Promise<void> {
    const { db } = browsed.shop;
    const update = db.q.update(lots).set({ certificate });
    await db.atomic([update.where(eq(lots.code, "TB-2207"))]);
  }

  async function print(name: string): Promise<void> {
    await page.getByRole("link", { name: /work order/ }).click();
    await browsed.print(name, 1, 2);
    await page.getByRole("link", { name: /Back to batch/ }).click();
  }

  it("is looked at, accepted, printed with its mark, and taken back", async () => {
    await browsed.signIn();
    await page.goto(`${browsed.url}/maker`);
    await page.getByRole("button", { name: "Look the batch over" }).click();
    await page.getByRole("button", { name: "Write the work order" }).click();
    await page.getByText("These lots leave the promise.").waitFor();
    await browsed.look("batch-leaves");
    await page.getByRole("link", { name: "See what can be done" }).click();
    await page.getByRole("heading", { name: /^The smallest shift/ }).waitFor();
    await browsed.look("correction-proposed");
    await page.getByRole("button", { name: "Make it with the corrected shares" }).click();
    await page.getByText("Corrected for its lots.").waitFor();
    await print("corrected");
    await page.getByRole("link", { name: "Look at the correction" }).click();
    await browsed.look("correction-kept");
    await page.getByRole("button", { name: "Take the correction back" }).click();
    await page.getByText("These lots leave the promise.").waitFor();
    await certify(sheaWith({ stearic: 28.73 }));
    await page.getByRole("link", { name: "See what can be done" }).click();
    await page.getByRole("heading", { name: "What else could be done" }).waitFor();
    await browsed.look("correction-none");
    await certify('{"fattyAcids":{"18:1":40}}');
    await page.reload();
    await page.getByText("Cannot judge these lots.").waitFor();
    expect(browsed.complaints).toEqual([]);
  });
});
