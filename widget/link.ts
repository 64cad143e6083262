/**
 * The blend that the page's address brings as `?blend=<code>`.
 */
import type { BlendOpened } from "#core/wire.ts";
import { fetchBeside } from "./beside.ts";
import type { Answer } from "./exchange.ts";
import { fetchMore } from "./views/more.ts";

/** Longest that the product waits for the blend, so that nothing moves on the page when it comes [ms] */
const LONGEST_WAIT_MS = 1_500;

export type Linked = Promise<Answer<BlendOpened> | undefined>;

/** Ask what the code holds while the product is still on its way; nothing without a code. */
export function followLink(service: string): Linked | undefined {
  const code = new URLSearchParams(location.search).get("blend");
  if (!code) return undefined;
  return fetchBeside<typeof import("./more/more.ts")>("softset.more.js").then(
    ({ openLinked }) => openLinked(service, code),
    () => undefined,
  );
}

/** Wait until a link can be shown at once, but not for long. */
export async function settleLink(linked: Linked, lang: string): Promise<void> {
  const late = new Promise((done) => setTimeout(done, LONGEST_WAIT_MS));
  await Promise.race([Promise.allSettled([linked, fetchMore(lang)]), late]);
}

/** Whether the page was come to; reloaded, or gone back to, it stands as the customer left it. */
export function isVisit(): boolean {
  const [visit] = performance.getEntriesByType("navigation") as PerformanceNavigationTiming[];
  return !visit || visit.type === "navigate";
}
