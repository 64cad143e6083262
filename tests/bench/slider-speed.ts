/**
 * How long a slider move takes in the storefront page until the browser has painted the new verdict, on a processor
 * four times slower than this one.
 *
 * Measured with real mouse moves on the slider's thumb, which the browser hands to the page at the head of a frame:
 * from the first listener of the input event to the first task after that frame's callbacks, style, layout and paint
 * (a message posted from a frame callback). What the compositor does afterwards, off the page's thread, is not in it.
 */
import { type Browser, type Page, chromium } from "playwright-core";
import { anOffer } from "../helpers/offer.ts";
import { openShop } from "../widget/bare-shop.ts";

/** Of a phone that is not new, against a desk machine. */
const SLOWER = 4;
const WARM_UP = 30;
const MOVES = 200;
const BETWEEN_MS = 25;

export interface SliderSpeed {
  readonly moves: number;
  readonly medianMs: number;
  /** Nineteen in twenty moves are quicker. */
  readonly p95Ms: number;
}

/**
 * Draw a slider to and fro.
 * @param executablePath a Chromium
 * @param script the storefront script, as built
 */
export async function sliderSpeed(executablePath: string, script: string): Promise<SliderSpeed> {
  const shop = await openShop(script, anOffer());
  const browser = await chromium.launch({
    executablePath,
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
  });
  try {
    const times = await drawn(browser, shop.url);
    const sorted = times.slice(WARM_UP).sort((one, other) => one - other);
    const at = (part: number) => sorted[Math.floor(part * sorted.length)]!;
    return { moves: sorted.length, medianMs: at(0.5), p95Ms: at(0.95) };
  } finally {
    await browser.close();
    await shop.close();
  }
}

async function drawn(browser: Browser, url: string): Promise<number[]> {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  await page.goto(url);
  const slider = page.getByRole("slider").first();
  await slider.scrollIntoViewIfNeeded();
  await startWatch(page);
  const cdp = await context.newCDPSession(page);
  await cdp.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  const { x, y, width, height } = (await slider.boundingBox())!;
  const middle = y + height / 2;
  await page.mouse.move(x + width / 2, middle);
  await page.mouse.down();
  for (let move = 0; (await seen(page)) < WARM_UP + MOVES && move < 4 * MOVES; move++) {
    const along = 0.5 + 0.4 * Math.sin(move / 12);
    await page.mouse.move(x + along * width, middle);
    await page.waitForTimeout(BETWEEN_MS);
  }
  await page.mouse.up();
  return page.evaluate(() => (globalThis as unknown as Watch).sliderMs);
}

interface Watch {
  sliderMs: number[];
}

const seen = (page: Page) => page.evaluate(() => (globalThis as unknown as Watch).sliderMs.length);

function startWatch(page: Page): Promise<void> {
  return page.evaluate(() => {
    const watch = globalThis as unknown as Watch;
    watch.sliderMs = [];
    addEventListener(
      "input",
      () => {
        const before = performance.now();
        requestAnimationFrame(() => {
          const channel = new MessageChannel();
          channel.port1.onmessage = () => watch.sliderMs.push(performance.now() - before);
          channel.port2.postMessage(undefined);
        });
      },
      { capture: true },
    );
  });
}
