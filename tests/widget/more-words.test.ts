/** The words of the third script and of wishes, in every language: the same messages with the same figures. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { LANGUAGES } from "#widget/bundle.mjs";

const FILES = ["widget/words/more.*.json", "core/words/wishes.*.json"];
/** A name promises nothing; a claim would. */
const CLAIMS = /non.?com[eé]dog|nicht komedogen|hypoallerg|hipoalerg|\bsafe\b|\bsicher\b|\bsegur/i;

function messages(file: string, language: string): Map<string, string> {
  const url = new URL(`../../${file.replace("*", language)}`, import.meta.url);
  const chapters = JSON.parse(readFileSync(url, "utf8")) as Record<string, Record<string, string>>;
  return new Map(
    Object.entries(chapters).flatMap(([chapter, lines]) =>
      Object.entries(lines).map(([key, text]): [string, string] => [`${chapter}.${key}`, text]),
    ),
  );
}

function figuresOf(text: string): string[] {
  return [...new Set([...text.matchAll(/\{(\w+)[},]/g)].map(([, name]) => name!))].sort();
}

describe.each(FILES)("%s", (file) => {
  const english = messages(file, "en");
  it.each(LANGUAGES)(
    "in %s lacks nothing, asks for the same figures, and claims nothing",
    (lang) => {
      const translated = messages(file, lang);
      expect([...translated.keys()]).toEqual([...english.keys()]);
      for (const [key, text] of translated) {
        expect(figuresOf(text), key).toEqual(figuresOf(english.get(key)!));
        expect(text, key).not.toMatch(CLAIMS);
        const isSame =
          lang !== "en" &&
          text === english.get(key) &&
          /[a-z]{3}/i.test(text.replace(/\{.*?\}/g, ""));
        expect(isSame, `${key} is still English`).toBe(false);
      }
    },
  );
});
