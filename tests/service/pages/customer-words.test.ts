/**
 * What customers read comes from the words of their language: no template of theirs, and no mail, holds a sentence of
 * its own.
 */
import { readFileSync, readdirSync } from "node:fs";
import { expect, it } from "vitest";

const SERVICE = new URL("../../../service/", import.meta.url);
/** The practice till's page is a customer's too; of `_order-…` all but one are the maker's. */
const THEIRS = /^(shop-|_shop-|order(-|\.)|_order-care|plain-quote|till|_jar)/;

const templates = readdirSync(new URL("pages/", SERVICE))
  .filter((name) => name.endsWith(".hbs") && THEIRS.test(name))
  .map((name) => `pages/${name}`)
  .concat("messages/templates/mail.hbs");

/** Words that stand in a template itself: between its tags, or in a name that is read out. */
function ownWords(template: string): string[] {
  const bare = template
    .replaceAll(/\{\{\{?[^}]*\}?\}\}/g, "")
    .replaceAll(/<style>.*?<\/style>/gs, "");
  const named = [...bare.matchAll(/\b(?:aria-label|alt|title|placeholder)="([^"]*)"/g)];
  const pieces = [bare.replaceAll(/<[^>]*>/g, " "), ...named.map(([, name]) => name!)];
  return pieces.flatMap((piece) => piece.match(/\p{L}{2,}/gu) ?? []);
}

it("looks at the templates there are", () => {
  expect(templates.length).toBeGreaterThan(10);
});

it.each(templates)("%s holds no words of its own", (path) => {
  expect(ownWords(readFileSync(new URL(path, SERVICE), "utf8"))).toEqual([]);
});

it("would notice words between tags and in names", () => {
  expect(ownWords('<p class="told">{{say "a.b"}} of it</p>')).toEqual(["of", "it"]);
  expect(ownWords('<a aria-label="Open" href="{{path}}">{{name}}</a>')).toEqual(["Open"]);
});
