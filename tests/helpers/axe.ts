/**
 * What axe-core finds on a page as it stands.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

export interface AxeLook {
  /** CSS selector of what to look at; the whole document when not said. */
  readonly within?: string | { readonly fromShadowDom: readonly string[] };
  /** Look at colours alone, where all else was looked at in another scheme. */
  readonly coloursOnly?: boolean;
}

/** @returns a line for every rule that is broken, with the places; empty when all is well */
export async function axeFindings(page: Page, look: AxeLook = {}): Promise<string[]> {
  const { within, coloursOnly = false } = look;
  const options = {
    runOnly: coloursOnly ? ["color-contrast"] : WCAG,
    // What passes is not listed and no style sheet is fetched again: it takes half the time.
    resultTypes: ["violations"],
    preload: false,
  };
  // Over the protocol, because the page's own policy lets no script in. Options of a long list are the browser's own.
  const where = { ...(within ? { include: within } : {}), exclude: ["option"] };
  if (!(await page.evaluate("'axe' in globalThis"))) await page.evaluate(AXE);
  return await page.evaluate(`axe.run(${JSON.stringify(where)}, ${JSON.stringify(options)}).then(
    ({ violations }) => violations.map(({ id, nodes }) =>
      id + ": " + nodes.map(({ html }) => html.slice(0, 160)).join(" | ")))`);
}
