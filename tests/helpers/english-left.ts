/**
 * English that was left in what a customer of another language reads, found by comparing with the English words.
 */
import { readFileSync } from "node:fs";

type Messages = Readonly<Record<string, Readonly<Record<string, string>>>>;

const wordsOf = (language: string) => {
  const path = new URL(`../../service/words/${language}.json`, import.meta.url);
  return JSON.parse(readFileSync(path, "utf8")) as Messages;
};

/** Two words at least: one alone can be the same in two languages. */
const SHORTEST = 7;

/** What stands between the figures of every message. */
const ENGLISH = Object.values(wordsOf("en"))
  .flatMap((chapter) => Object.values(chapter))
  .filter((message) => !/, (plural|select),/.test(message))
  .flatMap((message) => message.split(/\{\w+\}/))
  .map((piece) => piece.trim())
  .filter((piece) => piece.length >= SHORTEST && /\p{L} \p{L}/u.test(piece));

/** A page as it reads, without its marks. */
export function readable(html: string): string {
  return html
    .replaceAll(/<(style|script)\b.*?<\/\1>/gs, " ")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("&#x27;", "'")
    .replaceAll("&quot;", '"')
    .replaceAll("&amp;", "&")
    .replaceAll(/[\n ]+/g, " ");
}

/** Pieces of English sentences that a text holds. */
export function englishLeft(text: string): string[] {
  return ENGLISH.filter((piece) => text.includes(piece));
}
