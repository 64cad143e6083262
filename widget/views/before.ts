/**
 * What stands before an offer does: that it is being fetched, or why it cannot be had.
 */
import { button, html } from "../dom.ts";
import type { FirstWords } from "../words.ts";

export function loading({ lang, words }: FirstWords): HTMLElement {
  return html("p", { class: "loading", role: "status", lang }, words.page.loading());
}

/** @param again tries once more; left out where that cannot help */
export function notLoaded(
  { lang, words }: FirstWords,
  sentence: string,
  again: (() => void) | undefined,
): HTMLElement[] {
  const alert = html("p", { class: "alert", role: "alert", part: "alert", lang }, sentence);
  return again ? [alert, button({ class: "quiet", lang }, again, words.page.again())] : [alert];
}
