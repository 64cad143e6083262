/**
 * WCAG 2.5.3 over all templates: where something is named otherwise than it reads, the name holds what is read, so that
 * whoever speaks what they see meets it.
 */
import { readFileSync, readdirSync } from "node:fs";
import { expect, it } from "vitest";

const PAGES = new URL("../../../service/pages/", import.meta.url);
const NAMED = /<(a|button|summary)\b[^>]*\baria-label="([^"]*)"[^>]*>(.*?)<\/\1>/gs;

/** Names that do not hold the words that stand there. */
function unlike(template: string): string[] {
  return [...template.matchAll(NAMED)].flatMap(([, , name, inside]) => {
    const seen = inside!.replaceAll(/<[^>]*>/g, "").trim();
    return name!.toLowerCase().includes(seen.toLowerCase()) ? [] : [`${name}: ${seen}`];
  });
}

it("holds what is read in every name that is given", () => {
  const templates = readdirSync(PAGES).filter((name) => name.endsWith(".hbs"));
  const texts = templates.map((name) => readFileSync(new URL(name, PAGES), "utf8"));
  expect(texts.join("").match(NAMED)!.length).toBeGreaterThan(8);
  expect(texts.flatMap(unlike)).toEqual([]);
});

it("would notice a name that parts the words", () => {
  expect(unlike('<button aria-label="Take {{name}} out">Take out</button>')).toHaveLength(1);
  expect(unlike('<a class="x" aria-label="Open: {{name}}"><b>Open</b></a>')).toEqual([]);
});
