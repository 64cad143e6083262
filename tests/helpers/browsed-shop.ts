/**
 * A test shop in real Chromium: served on a port with what was built, and looked at on a phone and a desk, light and
 * dark, for what axe knows, what is wider than its screen, and what the browser complains of.
 */
import { readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { serve } from "@hono/node-server";
import { expect } from "vitest";
import { issueSignInLink } from "#service/actions/sign-in.ts";
import { createApp } from "#service/app.ts";
import { openShop } from "#service/ports.ts";
import { axeFindings } from "./axe.ts";
import { launchChromium, openPage, unsaidCells } from "./browser.ts";
import { openTestShop } from "./shop.ts";

const ASSETS = new URL("../../.build/assets/", import.meta.url);
/** A folder for pictures of what was looked at; none are taken without. */
export const PICTURES = process.env["SOFTSET_PICTURES"];
const VIEWS = [
  [390, "light"],
  [390, "dark"],
  [1280, "light"],
] as const;
const HEIGHT = 844;

export type BrowsedShop = Awaited<ReturnType<typeof openBrowsedShop>>;

export interface Browsing {
  /** Statuses that the test brings about on purpose, which the browser mentions. */
  readonly refusals?: readonly number[];
  /** How wide the window is between looks [px] */
  readonly width?: number;
}

export async function openBrowsedShop({ refusals = [], width = 390 }: Browsing = {}) {
  const shop = await openTestShop();
  const { url, server } = await served(shop.shop);
  const browser = await launchChromium();
  const complaints: string[] = [];
  const tell = (complaint: string) => {
    const status = Number(/status of (\d{3})/.exec(complaint)?.[1]);
    if (!refusals.includes(status)) complaints.push(complaint);
  };
  const page = await openPage(browser, tell, { viewport: { width, height: HEIGHT } });
  page.setDefaultTimeout(10_000);
  const link = () => issueSignInLink({ ...shop.shop, url }, "quillfen");

  return {
    shop,
    url,
    page,
    complaints,
    /** A link that lets the first owner in. */
    link,
    signIn: async (): Promise<void> => {
      await page.goto(await link());
      await page.getByRole("button").last().click();
      await page.waitForURL(`${url}/maker/you`);
    },
    /**
     * Look at the page as it stands.
     * @param name of its pictures
     * @param atDesk ask axe on the desk too, where most pages hold nothing that the phone has not
     */
    look: async (name: string, { atDesk = false } = {}): Promise<void> => {
      const found: string[] = [];
      for (const [wide, colorScheme] of VIEWS) {
        const view = `${name}-${wide}-${colorScheme}`;
        await page.emulateMedia({ colorScheme });
        await page.setViewportSize({ width: wide, height: HEIGHT });
        const path = PICTURES && join(PICTURES, `${view}.png`);
        if (path) await page.screenshot({ path, fullPage: true });
        const over = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        );
        if (over > 0) found.push(`${view}: ${over} px too wide`);
        const unsaid = await unsaidCells(page);
        if (unsaid > 0) found.push(`${view}: ${unsaid} cells without their words`);
        if (wide > 390 && !atDesk) continue;
        const coloursOnly = colorScheme === "dark";
        const faults = await axeFindings(page, { coloursOnly });
        found.push(...faults.map((fault) => `${view}: ${fault}`));
      }
      await page.setViewportSize({ width, height: HEIGHT });
      expect(found).toEqual([]);
    },
    /** Print the page on both papers, on so many sheets. */
    print: async (name: string, least: number, most: number): Promise<void> => {
      for (const format of ["A4", "Letter"] as const) {
        const path = PICTURES && join(PICTURES, `${name}-${format}.pdf`);
        const paper = await page.pdf({ format, ...(path ? { path } : {}) });
        const sheets = paper.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
        expect(sheets, `${name} on ${format}`).toBeGreaterThanOrEqual(least);
        expect(sheets, `${name} on ${format}`).toBeLessThanOrEqual(most);
      }
    },
    close: async (): Promise<void> => {
      await browser.close();
      server.close();
      shop.close();
    },
  };
}

/** The shop at an address of its own. The port is drawn by the system, so the app is made once it is known. */
async function served(shop: Parameters<typeof openShop>[0]) {
  let answer: (request: Request) => Response | Promise<Response> = () => new Response();
  const server = serve({ fetch: (request) => answer(request), port: 0 });
  await new Promise((resolve) => server.once("listening", resolve));
  const url = `http://localhost:${(server.address() as AddressInfo).port}`;
  const asset = async (name: string) => new Uint8Array(readFileSync(new URL(name, ASSETS)));
  const app = createApp(openShop({ ...shop, url, asset }));
  answer = (request) => app.fetch(request);
  return { url, server };
}
