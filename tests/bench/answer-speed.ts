/**
 * How soon the storefront page of the demo shop stands, and how soon it answers, on a processor four times slower than
 * this one and without any wait for the network: the largest contentful paint of cold visits, and the interaction to
 * next paint of moves of every kind, as browsers themselves measure both.
 *
 * The moves are real key presses and clicks, sent to the browser one after the other. An answer under 16 ms is not told
 * by the Event Timing API, and counts as nothing.
 */
import { type Browser, type CDPSession, type Page, chromium } from "playwright-core";

/** Of a phone that is not new, against a desk machine. */
const SLOWER = 4;
const VISITS = 5;
const MOVES = 300;
/** Longer than most answers take, so that they do not wait for one another as no hand would make them. */
const BETWEEN_MS = 60;
const PHONE = { viewport: { width: 390, height: 844 } };

export interface AnswerSpeed {
  /** Of each cold visit, quickest first [ms] */
  readonly largestPaintMs: readonly number[];
  readonly moves: number;
  /** Interaction to next paint: 98 in 100 moves are quicker [ms, in steps of 8] */
  readonly answerP98Ms: number;
  readonly worstMs: number;
  /** The kind of the slowest moves, slowest first, such as "choose-base 104". */
  readonly slowest: readonly string[];
}

/**
 * Visit a product of the demo shop and move everything that can be moved.
 * @param executablePath a Chromium
 * @param url of the product's page
 */
export async function answerSpeed(executablePath: string, url: string): Promise<AnswerSpeed> {
  const browser = await chromium.launch({
    executablePath,
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
  });
  try {
    const largestPaintMs: number[] = [];
    for (let visit = 0; visit < VISITS; visit++) largestPaintMs.push(await coldVisit(browser, url));
    largestPaintMs.sort((one, other) => one - other);
    return { largestPaintMs, ...(await moved(browser, url)) };
  } finally {
    await browser.close();
  }
}

interface Watch {
  largestMs: number;
  answers: { id: number; ms: number }[];
}

function watch(): void {
  const here = globalThis as unknown as Watch;
  here.largestMs = 0;
  here.answers = [];
  new PerformanceObserver((list) => {
    for (const { startTime } of list.getEntries()) here.largestMs = startTime;
  }).observe({ type: "largest-contentful-paint", buffered: true });
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries() as (PerformanceEntry & { interactionId: number })[]) {
      if (entry.interactionId) here.answers.push({ id: entry.interactionId, ms: entry.duration });
    }
  }).observe({ type: "event", durationThreshold: 16 } as PerformanceObserverInit);
}

/** A page in a profile of its own, slowed down from the first byte. */
async function slowPage(browser: Browser): Promise<{ page: Page; cdp: CDPSession }> {
  const context = await browser.newContext(PHONE);
  const page = await context.newPage();
  await page.addInitScript(watch);
  const cdp = await context.newCDPSession(page);
  await cdp.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  return { page, cdp };
}

async function coldVisit(browser: Browser, url: string): Promise<number> {
  const { page } = await slowPage(browser);
  await page.goto(url);
  await page.getByRole("slider").first().waitFor();
  // The paint is told some frames after it was made.
  await page.waitForTimeout(1000);
  const ms = await page.evaluate(() => (globalThis as unknown as Watch).largestMs);
  await page.context().close();
  if (ms === 0) throw new Error("no paint was told");
  return ms;
}

/** Kinds of moves in turn; sliders and steppers come up most, as they do in a hand. */
const TURN = [
  ...["slide", "slide", "step", "slide", "step", "swap-oil", "slide", "step", "choose-jar"],
  ...["undo", "slide", "step", "choose-base", "slide", "step"],
] as const;
type Move = (typeof TURN)[number];

async function moved(browser: Browser, url: string): Promise<Omit<AnswerSpeed, "largestPaintMs">> {
  const { page } = await slowPage(browser);
  await page.goto(url);
  await page.getByRole("slider").first().waitFor();
  const worst: { move: Move; ms: number }[] = [];
  for (let at = 0; at < MOVES; at++) {
    const move = TURN[at % TURN.length]!;
    await make(page, move, at);
    await page.waitForTimeout(BETWEEN_MS);
    worst.push({ move, ms: await answered(page) });
  }
  worst.sort((one, other) => other.ms - one.ms);
  return {
    moves: worst.length,
    answerP98Ms: worst[Math.floor(0.02 * worst.length)]!.ms,
    worstMs: worst[0]!.ms,
    slowest: worst.slice(0, 8).map(({ move, ms }) => `${move} ${ms}`),
  };
}

/** The longest answer told since the last time this was asked [ms] */
function answered(page: Page): Promise<number> {
  return page.evaluate(() => {
    const { answers } = globalThis as unknown as Watch;
    return Math.max(0, ...answers.splice(0).map(({ ms }) => ms));
  });
}

async function make(page: Page, move: Move, at: number): Promise<void> {
  const there = at % 2 === 0;
  switch (move) {
    case "slide":
      await page
        .getByRole("slider")
        .nth(at % 3)
        .focus();
      return page.keyboard.press(there ? "ArrowRight" : "ArrowLeft");
    case "step": {
      const steps = page.getByRole("button", { name: there ? /^More / : /^Less / });
      return click(page, steps.nth(at % 3));
    }
    case "swap-oil": {
      const oil = page.getByRole("combobox").first();
      await oil.focus();
      return page.keyboard.press(there ? "ArrowDown" : "ArrowUp");
    }
    case "choose-jar":
      return click(page, page.locator(".jars label").nth(there ? 1 : 0));
    case "choose-base":
      return click(page, page.locator(".bases label").nth(there ? 1 : 0));
    case "undo":
      return page.keyboard.press("Control+z");
  }
}

/** A bare click in the middle, as a finger makes it. */
async function click(page: Page, target: ReturnType<Page["locator"]>): Promise<void> {
  await target.scrollIntoViewIfNeeded();
  const { x, y, width, height } = (await target.boundingBox())!;
  await page.mouse.click(x + width / 2, y + height / 2);
}
