/**
 * A real Chromium for a test; tests that need one are skipped, and counted as skipped, where there is none.
 */
import { existsSync } from "node:fs";
import {
  type Browser,
  type BrowserContextOptions,
  type ConsoleMessage,
  type Page,
  chromium,
} from "playwright-core";

const CHROMIUM = [
  process.env["SOFTSET_CHROMIUM"],
  "/usr/bin/chromium-headless-shell",
  "/usr/bin/chromium",
].find((path) => path !== undefined && existsSync(path));

export const hasChromium = CHROMIUM !== undefined;
if (!hasChromium) console.warn("skipped: no Chromium; set SOFTSET_CHROMIUM to one");

export function launchChromium(): Promise<Browser> {
  return chromium.launch({
    ...(CHROMIUM ? { executablePath: CHROMIUM } : {}),
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}

/**
 * Whether the browser finds fault with a page: errors, and warnings but one. "Preloaded but not used within a few
 * seconds" tells how busy the machine was, since it counts from the load event to the first paint.
 */
export function isComplaint(message: ConsoleMessage): boolean {
  if (message.type() === "warning") return !/was preloaded using link preload/.test(message.text());
  return message.type() === "error";
}

/**
 * A page that the browser may complain of, as wide as a phone unless settings say otherwise.
 * @param tell is called with each fault the browser finds
 */
export async function openPage(
  browser: Browser,
  tell: (complaint: string) => void,
  settings: BrowserContextOptions = {},
): Promise<Page> {
  const viewport = { width: 390, height: 844 };
  const page = await (await browser.newContext({ viewport, ...settings })).newPage();
  page.on("console", (message) => {
    if (isComplaint(message)) tell(message.text());
  });
  page.on("pageerror", (fault) => tell(String(fault)));
  return page;
}

/**
 * Cells of a table in stacked form whose words do not show: they hang into the room at the start of the cell, and
 * over its edge where a rule took that room away.
 */
export function unsaidCells(page: Page): Promise<number> {
  return page.$$eval(
    ".stacked td[data-what]",
    (cells) =>
      cells.filter((cell) => {
        const room = Number.parseFloat(getComputedStyle(cell).paddingInlineStart);
        return room + Number.parseFloat(getComputedStyle(cell, "::before").marginInlineStart) < 0;
      }).length,
  );
}
