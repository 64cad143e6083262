/**
 * Labels in real Chromium: settings, proofs and sheets without a fault that axe knows and none wider than its screen;
 * no letter outside its label, which also proves the table of widths; paper of the right size with the right number of
 * sheets; and pictures as large as the label, whose code is read back.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { BarcodeFormat } from "@zxing/library";
import { PDFDocument } from "pdf-lib";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { lengthMm } from "#core/make/label-type.ts";
import { LABEL_FACE } from "#data/library/label-font.ts";
import { type BrowsedShop, PICTURES, openBrowsedShop } from "../../helpers/browsed-shop.ts";
import { hasChromium } from "../../helpers/browser.ts";
import { read } from "../../helpers/scanned.ts";
import { payOrder, setParticulars } from "../../helpers/shop-acts.ts";

const RESPONSIBLE = { name: "Quillfen Workshop", address: "3 Mill Lane\nNether Wallow NW9 9ZZ" };
const MM_PER_POINT = 25.4 / 72;

describe.skipIf(!hasChromium)("labels in a browser", () => {
  let browsed: BrowsedShop;
  let page: Page;
  let number = "";

  beforeAll(async () => {
    browsed = await openBrowsedShop({ refusals: [422] });
    ({ page } = browsed);
    const { shop } = browsed;
    await setParticulars(shop, { responsible: RESPONSIBLE });
    const orders = [
      await payOrder(shop, { quantity: 5 }),
      await payOrder(shop, { jar: "jar-60", quantity: 3 }),
    ];
    await browsed.signIn();
    await page.goto(
      `${browsed.url}/maker/batches/new?${orders.map(({ id }) => `order=${id}`).join("&")}`,
    );
    await page.getByRole("button", { name: "Write the work order" }).click();
    await page.getByRole("link", { name: "Print the work order" }).waitFor();
    number = new URL(page.url()).pathname.split("/").at(-1)!;
  });
  afterAll(() => browsed?.close());

  /** Letters that reach beyond their label [px of overhang], by the browser's own measure. */
  const outside = () =>
    page.evaluate(() =>
      [...document.querySelectorAll<SVGSVGElement>(".label-proof svg")].flatMap((svg) => {
        const box = svg.getBoundingClientRect();
        return [...svg.querySelectorAll("text")].flatMap((text) => {
          const line = text.getBoundingClientRect();
          const over = Math.max(
            line.right - box.right,
            box.left - line.left,
            line.bottom - box.bottom,
          );
          return over > 0 ? [`${text.textContent}: ${over}`] : [];
        });
      }),
    );

  it("are set in settings that keep what was typed", async () => {
    await page.goto(`${browsed.url}/maker/shop/labels`);
    await page.getByLabel("A closed jar lasts").fill("soon");
    await page.getByRole("button", { name: "Save" }).click();
    expect(await page.getByLabel("A closed jar lasts").inputValue()).toBe("soon");
    await page.getByLabel("A closed jar lasts").fill("9");
    await page.locator("#market-us").check();
    await page.locator("#language-us-en").check();
    await page.getByRole("button", { name: "Save" }).click();
    expect(await page.getByRole("status").textContent()).toContain("Saved.");
    await browsed.look("label-settings");
  });

  it("stand inside their labels, whatever the market and the size", async () => {
    await page.goto(`${browsed.url}/maker/batches/${number}/labels`);
    expect(await outside()).toEqual([]);
    expect(await page.locator(".label-proof svg").count()).toBe(2);
    await browsed.look("labels");
    for (const size of ["carton", "lid", "leaflet"]) {
      await page.goto(`${browsed.url}/maker/batches/${number}/labels?market=us&size=${size}`);
      expect(await page.locator(".label-proof svg text").count()).toBeGreaterThan(0);
      expect(await outside()).toEqual([]);
    }
  });

  it.each([
    ["a4", 210, 297],
    ["letter", 215.9, 279.4],
    ["label", 140, 40],
  ])("print on %s paper at their true size", async (paper, widthMm, heightMm) => {
    await page.goto(
      `${browsed.url}/maker/batches/${number}/labels?market=gb&size=around&paper=${paper}`,
    );
    await page.locator("#count-0").fill("5");
    await page.locator("#count-1").fill("3");
    await page.getByRole("button", { name: "Print these labels" }).click();
    await page.waitForURL(/printed/);
    if (paper === "a4") await browsed.look("label-sheet");
    await page.emulateMedia({ media: "print" });
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: false });
    await page.emulateMedia({ media: null });
    if (PICTURES) writeFileSync(join(PICTURES, `labels-${paper}.pdf`), pdf);
    const pages = (await PDFDocument.load(pdf)).getPages();
    // Six of 140 × 40 mm lie on A4, five on Letter.
    const sheets = paper === "a4" || paper === "letter" ? 2 : 8;
    expect(pages).toHaveLength(sheets);
    for (const each of pages) {
      expect(each.getWidth() * MM_PER_POINT).toBeCloseTo(widthMm, 0);
      expect(each.getHeight() * MM_PER_POINT).toBeCloseTo(heightMm, 0);
    }
  });

  /** How far from its left edge a label's front is looked at [mm] */
  const FRONT_MM = 60;

  /** Grey of the dots of a label's front, by the browser's own decoder. */
  async function frontOf(png: Buffer) {
    const [wide, high] = [
      Math.round((png.readUInt32BE(16) * FRONT_MM) / 140),
      png.readUInt32BE(20),
    ];
    const grey = await page.evaluate(
      async ([base64, width, height]) => {
        const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
        const picture = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
        const pen = new OffscreenCanvas(width, height).getContext("2d")!;
        pen.drawImage(picture, 0, 0);
        const { data } = pen.getImageData(0, 0, width, height);
        const greens = data.filter((_, at) => at % 4 === 1);
        return btoa(Array.from(greens, (each) => String.fromCharCode(each)).join(""));
      },
      [png.toString("base64"), wide, high] as const,
    );
    return { wide, high, grey: Uint8ClampedArray.from(Buffer.from(grey, "base64")) };
  }

  /** The product's name where it stands on the first label [mm] */
  async function nameOnLabel() {
    const [text, x, y, size] = await page
      .locator("#label-0 text")
      .first()
      .evaluate((line) => [
        line.textContent,
        ...["x", "y", "font-size"].map((each) => Number(line.getAttribute(each))),
      ]);
    const longMm = lengthMm(String(text), Number(size), LABEL_FACE.bold);
    return { x: Number(x), y: Number(y), size: Number(size), longMm };
  }

  it.each([
    [300, 1654, 472, 11_811],
    [600, 3307, 945, 23_622],
  ])("come as a PNG of %d dots an inch", async (dpi, wide, high, dotsPerMetre) => {
    await page.goto(`${browsed.url}/maker/batches/${number}/labels?market=gb`);
    await page.locator("#count-0").fill("1");
    await page.getByRole("button", { name: "Print these labels" }).click();
    await page.waitForURL(/printed/);
    const coming = page.waitForEvent("download");
    await page
      .getByRole("button", { name: `PNG, ${dpi} dpi` })
      .first()
      .click();
    const download = await coming;
    expect(download.suggestedFilename()).toBe(`label-${number}-0-${dpi}dpi.png`);
    expect(await page.getByRole("status").textContent()).toContain(`${wide} × ${high} dots`);
    const png = readFileSync(await download.path());
    if (PICTURES) writeFileSync(join(PICTURES, download.suggestedFilename()), png);
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([wide, high]);
    expect(png.toString("latin1", 37, 41)).toBe("pHYs");
    expect([png.readUInt32BE(41), png.readUInt32BE(45), png[49]]).toEqual([
      ...[dotsPerMetre, dotsPerMetre, 1],
    ]);
    const front = await frontOf(png);
    expect(read(front, BarcodeFormat.QR_CODE)).toBe(number);
    // In other letters than the label's own the name would end elsewhere.
    const name = await nameOnLabel();
    const dots = (mm: number) => Math.round((mm * wide) / 140);
    const rows = Array.from({ length: dots(name.size * 0.5) }, (_, row) => dots(name.y) - row);
    const lookedAt = dots(name.x + 1.25 * name.longMm);
    const ends = rows.map((row) =>
      front.grey
        .subarray(row * front.wide, row * front.wide + lookedAt)
        .findLastIndex((each) => each < 128),
    );
    const endMm = (Math.max(...ends) * 140) / wide;
    expect(Math.abs(endMm - name.x - name.longMm)).toBeLessThan(0.02 * name.longMm);
  });

  it("give the browser nothing to complain of", () => {
    expect(browsed.complaints).toEqual([]);
  });
});
