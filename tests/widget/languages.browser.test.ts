import { build } from "esbuild";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { nameIn } from "#data/names.ts";
import { widgetBuild } from "#widget/bundle.mjs";
import { axeFindings } from "../helpers/axe.ts";
import { hasChromium, launchChromium } from "../helpers/browser.ts";
import { anOffer } from "../helpers/offer.ts";
import { type BareShop, ONE_COMPOSER, openShop } from "./bare-shop.ts";

const PICTURES = process.env["SOFTSET_PICTURES"];

/** What the shop of a country answers: its locale, its money, ingredients by its names. */
function offerIn(locale: string) {
  const offer = anOffer();
  const ingredients = offer.ingredients.map((each) => ({ ...each, name: nameIn(locale, each) }));
  return { ...offer, locale, currency: { code: "EUR", exponent: 2 }, ingredients };
}

let browser: Browser;
let script: string;
let shop: BareShop;
let page: Page;

describe.skipIf(!hasChromium)("the composer in other languages", { timeout: 60_000 }, () => {
  beforeAll(async () => {
    const { outputFiles } = await build({ ...widgetBuild("esm"), write: false });
    script = outputFiles![0]!.text;
    browser = await launchChromium();
  }, 60_000);
  afterAll(() => browser?.close());
  afterEach(async () => {
    await page?.context().close();
    await shop?.close();
  });

  async function visit(locale: string, change: Partial<BareShop["manners"]> = {}): Promise<void> {
    shop = await openShop(script, offerIn(locale));
    Object.assign(shop.manners, change);
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    page = await context.newPage();
    await page.goto(shop.url);
    await article().waitFor();
  }

  const article = () => page.locator("softset-composer article.composer");
  /** All but what the maker wrote, which is in the maker's own language and says so. */
  const text = () =>
    article().evaluate((node) => {
      const copy = node.cloneNode(true) as HTMLElement;
      for (const own of copy.querySelectorAll("[lang]")) own.remove();
      return (copy.textContent ?? "").replace(/\s+/g, " ");
    });
  const picture = async (name: string) => {
    if (PICTURES) await page.screenshot({ path: `${PICTURES}/${name}.png`, fullPage: true });
  };

  it.each([
    { locale: "fr-FR", pay: /^Commander et payer/, butter: "Beurre de cacao", less: "Moins" },
    {
      locale: "de-DE",
      pay: /^Zahlungspflichtig bestellen/,
      butter: "Kakaobutter",
      less: "Weniger",
    },
    { locale: "es-ES", pay: /^Pedir y pagar/, butter: "Manteca de cacao", less: "Menos" },
  ])("speaks the language of a shop in $locale, and writes its numbers", async (each) => {
    await visit(each.locale);
    const language = each.locale.slice(0, 2);
    expect(await article().getAttribute("lang")).toBe(language);
    const pay = page.getByRole("button", { name: each.pay });
    const { fillG } = shop.manners.offer.product.jars[0]!;
    expect(await pay.textContent()).toMatch(/\d,\d\d\s€/);
    expect(await article().innerText()).toContain(`${fillG}\u00a0g`);
    expect(await page.getByRole("slider", { name: new RegExp(each.butter) }).count()).toBe(1);
    // What the maker wrote is in the maker's own language.
    expect(await page.locator("softset-composer h2").getAttribute("lang")).toBe(each.locale);
    // No English sentence does without one of these.
    expect(await text()).not.toMatch(/\b(the|this|your|with|and)\b/i);

    await page.getByRole("slider", { name: new RegExp(each.butter) }).focus();
    await page.keyboard.press("End");
    await page.locator("softset-composer .reasons").waitFor();
    expect(await text()).not.toMatch(/\b(the|this|your|with|and)\b/i);
    expect(await axeFindings(page)).toEqual([]);
    for (const width of [320, 390, 1280]) {
      await page.setViewportSize({ width, height: 844 });
      const isWide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
      expect([width, isWide]).toEqual([width, false]);
      await picture(`${language}-${width}`);
    }
  });

  it("goes by its own lang first, and starts again in another when that changes", async () => {
    await visit("de-DE", { body: ONE_COMPOSER.replace(" product", ' lang="es" product') });
    expect(await article().getAttribute("lang")).toBe("es");
    await page
      .locator("softset-composer")
      .evaluate((element: HTMLElement) => (element.lang = "fr"));
    await page.locator('softset-composer article[lang="fr"]').waitFor();
    // No words of its own: English ones, and its numbers.
    await page
      .locator("softset-composer")
      .evaluate((element: HTMLElement) => (element.lang = "it"));
    await page.locator('softset-composer article[lang="en"]').waitFor();
    const pay = page.getByRole("button", { name: /^Order and pay/ });
    expect(await pay.textContent()).toMatch(/\d,\d\d\s€/);
  });

  it("stands in English where its words cannot be had, and tries again when the line is back", async () => {
    await visit("fr-FR", { withoutWords: ["fr"] });
    expect(await article().getAttribute("lang")).toBe("en");
    shop.manners.withoutWords = [];
    await page.evaluate(() => dispatchEvent(new Event("online")));
    await page.locator('softset-composer article[lang="fr"]').waitFor();
  });

  it("says so, and keeps the page's own order form, where there are no words at all", async () => {
    shop = await openShop(script, offerIn("fr-FR"));
    shop.manners.withoutWords = ["fr", "en"];
    page = await (await browser.newContext()).newPage();
    await page.goto(shop.url);
    await page.getByRole("alert").getByText("The shop could not be reached.").waitFor();
    shop.manners.withoutWords = [];
    await page.getByRole("button", { name: "Try again" }).click();
    await page.locator('softset-composer article[lang="fr"]').waitFor();
  });
});
