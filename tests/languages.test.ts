/**
 * The languages: wherever they are listed, the list says what words there are.
 */
import { readFileSync, readdirSync } from "node:fs";
import { expect, it } from "vitest";
import { LANGS } from "#service/words/speak.ts";
import { LANGUAGES } from "#widget/bundle.mjs";
import { wordsLangOf } from "#widget/language.ts";

it.each(["core", "service", "widget"])("%s has words in each of them and in no other", (folder) => {
  const files = readdirSync(new URL(`../${folder}/words/`, import.meta.url));
  const found = files.flatMap((name) => /^([a-z]{2})\.json$/.exec(name)?.[1] ?? []);
  expect(found.sort()).toEqual([...LANGUAGES].sort());
});

it("are the same to the service, the page and whoever bundles it", () => {
  expect([...LANGS].sort()).toEqual([...LANGUAGES].sort());
  expect(LANGUAGES.map(wordsLangOf)).toEqual(LANGUAGES);
  expect(wordsLangOf("pt-BR")).toBe("en");
});

it("go along with no script of the maker's pages, which speak English", () => {
  const read = (path: string) => readFileSync(new URL(`../${path}`, import.meta.url), "utf8");
  const german = JSON.parse(read("service/words/de.json")) as { headline: { held: string } };
  const scripts = readdirSync(new URL("../service/pages/scripts/", import.meta.url));
  expect(scripts.length).toBeGreaterThan(4);
  const built = scripts.map((name) => `.build/assets/${name.replace(/ts$/, "js")}`);
  expect(built.filter((name) => read(name).includes(german.headline.held))).toEqual([]);
});
