/**
 * How long a slider move takes in the storefront page until the browser has painted the new verdict, on a processor
 * four times slower than this one.
 *
 * Measured with real mouse moves on the slider's thumb, which the browser hands to the page at the head of a frame:
 * from the first listener of the input event to the first task after that frame's callbacks, style, layout and paint
 * (a message posted from a frame callback). What the compositor does afterwards, off the page's thread, is not in it.
 *
 * The moves are sent to the browser directly, because Playwright's own mouse puts listeners for dragging into the page.
 * Wall time says what a customer waits on an idle machine; the thread's own time beside it says what the
 * page costs when
 * others use the processor too.
 */
import { type Browser, type CDPSession, type Page, chromium } from "playwright-core";
import { anOffer } from "../helpers/offer.ts";
import { openShop } from "../widget/bare-shop.ts";

/** Of a phone that is not new, against a desk machine. */
const SLOWER = 4;
const WARM_UP = 30;
const MOVES = 200;
/** Longer than a frame takes on the slow processor, so that each move has its own. */
const BETWEEN_MS = 50;

export interface SliderSpeed {
  readonly moves: number;
  readonly medianMs: number;
  /** Nineteen in twenty moves are quicker. */
  readonly p95Ms: number;
  /** Time of the page's main thread for a move, all tasks, on this processor unthrottled [ms] */
  readonly threadMs: number;
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
    const { times, threadMs } = await drawn(browser, shop.url);
    const sorted = times.slice(WARM_UP).sort((one, other) => one - other);
    const at = (part: number) => sorted[Math.floor(part * sorted.length)]!;
    return { moves: sorted.length, medianMs: at(0.5), p95Ms: at(0.95), threadMs };
  } finally {
    await browser.close();
    await shop.close();
  }
}

async function drawn(browser: Browser, url: string) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  await page.goto(url);
  const slider = page.getByRole("slider").first();
  await slider.scrollIntoViewIfNeeded();
  await startWatch(page);
  const cdp = await context.newCDPSession(page);
  await cdp.send("Performance.enable", { timeDomain: "threadTicks" });
  const { x, y, width, height } = (await slider.boundingBox())!;
  const send = (type: "mouseMoved" | "mousePressed" | "mouseReleased", along: number) =>
    cdp.send("Input.dispatchMouseEvent", {
      type,
      x: x + along * width,
      y: y + height / 2,
      button: "left",
      buttons: 1,
      clickCount: 1,
    });
  // Nothing is asked of the page between the moves: answering would come in the way of its frames.
  let move = 0;
  const draw = async (moves: number) => {
    for (const until = move + moves; move < until; move++) {
      await send("mouseMoved", 0.5 + 0.4 * Math.sin(move / 12));
      await new Promise((resolve) => setTimeout(resolve, BETWEEN_MS));
    }
  };
  await send("mouseMoved", 0.5);
  await send("mousePressed", 0.5);
  await draw(WARM_UP);
  const before = await threadTimeMs(cdp);
  await draw(MOVES);
  const threadMs = ((await threadTimeMs(cdp)) - before) / MOVES;
  await page.evaluate(() => void ((globalThis as unknown as Watch).sliderMs.length = 0));
  await cdp.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  await draw(WARM_UP + MOVES);
  await send("mouseReleased", 0.5);
  const times = await page.evaluate(() => (globalThis as unknown as Watch).sliderMs);
  return { times, threadMs };
}

async function threadTimeMs(cdp: CDPSession): Promise<number> {
  const { metrics } = await cdp.send("Performance.getMetrics");
  return 1000 * metrics.find(({ name }) => name === "TaskDuration")!.value;
}

interface Watch {
  sliderMs: number[];
}

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
