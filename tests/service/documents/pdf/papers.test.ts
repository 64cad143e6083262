/**
 * Papers by their addresses: work order, labels and record of a batch that was really made.
 */
import { afterAll, beforeAll, expect, it } from "vitest";
import type { LabelSettings } from "#service/documents/label-settings.ts";
import { fieldsOn } from "../../../helpers/form-fields.ts";
import { type Fields, payOrder, sendForm, setParticulars } from "../../../helpers/shop-acts.ts";
import { type TestShop, openTestShop } from "../../../helpers/shop.ts";
import { plain, readPdf } from "./read-pdf.ts";

const LABEL: LabelSettings = {
  markets: [{ id: "eu", languages: ["de", "fr"] }],
  sizes: [{ id: "around", name: "Around", widthMm: 140, heightMm: 40, carries: "all" }],
  shelfLifeMonths: 6,
};
let shop: TestShop;
let owner: string;
let batch: string;

beforeAll(async () => {
  shop = await openTestShop();
  owner = await shop.signIn();
  const responsible = { name: "Quillfen Workshop", address: "3 Mill Lane" };
  await setParticulars(shop, { label: LABEL, responsible });
  const { id } = await payOrder(shop, { quantity: 5 });
  batch = (await send("/maker/batches", [["order", id]])).headers.get("location")!;
});
afterAll(() => shop.close());

const send = (path: string, fields: Fields, cookie = owner) => sendForm(shop, path, cookie, fields);

const look = (path: string, cookie = owner) =>
  shop.request(path, { headers: { cookie, accept: "text/html" } });

async function paper(path: string) {
  const answer = await look(path);
  expect(answer.status, path).toBe(200);
  expect(answer.headers.get("content-type")).toBe("application/pdf");
  expect(answer.headers.get("content-disposition")).toMatch(
    /^attachment; filename="[\w.-]+\.pdf"$/,
  );
  expect(answer.headers.get("cache-control")).toBe("no-store");
  const { pages, drawings } = await readPdf(new Uint8Array(await answer.arrayBuffer()));
  return { pages, drawings, words: plain(pages.map(({ words }) => words).join(" ")) };
}

/** Texts between tags of a page, one by one. */
function textsOn(html: string): string[] {
  return [...html.matchAll(/>([^<>]+)</g)].map(([, text]) =>
    plain(
      text!
        .replaceAll("&#x27;", "'")
        .replaceAll("&#x3D;", "=")
        .replaceAll("&quot;", '"')
        .replaceAll("&amp;", "&"),
    ),
  );
}

it("the work order is there in both sizes, linked from its page and with all its words", async () => {
  const page = await (await look(`${batch}/sheets`)).text();
  const sheet = page.slice(page.indexOf("<article"));
  for (const [size, width] of [
    ["a4", 595.28],
    ["letter", 612],
  ] as const) {
    const href = `${batch}/sheets-${size}.pdf`;
    expect(page).toContain(href);
    const { pages, words } = await paper(href);
    expect(pages[0]!.width).toBeCloseTo(width, 1);
    for (const text of textsOn(sheet)) {
      if (text !== "Done") expect(words).toContain(text); // said of the column of squares to who hears it
    }
  }
});

it("labels are there for the print that stands, and for no other", async () => {
  const printed = await send(`${batch}/labels`, [
    ["count-0", "5"],
    ["because", "Jars for my own shelf"],
  ]);
  const print = printed.headers.get("location")!;
  expect(await (await look(print)).text()).toContain(`${print}/labels.pdf`);
  const { pages, drawings, words } = await paper(`${print}/labels.pdf`);
  expect(drawings).toHaveLength(1);
  const svg = await (await look(`${print}/0.svg`)).text();
  const lines = [...svg.matchAll(/<text [^>]*>([^<]+)</g)].map(([, line]) => plain(line!));
  expect(drawings[0]!.texts.map(({ words: each }) => plain(each))).toEqual(lines);
  expect(lines.join(" ")).toContain("l’odeur");
  expect(pages[0]!.content.match(/\/L0 Do/g)).toHaveLength(5);
  expect(words).toContain("An aid: local codes and your safety assessment come first.");
  expect((await look(`${batch}/labels/printed/99/labels.pdf`)).status).toBe(404);
});

it("the record is there open and closed, with what its page says and its last hash on every page", async () => {
  const write = (kind: string, fields: readonly (readonly [string, string])[]) =>
    send(`${batch}/record/${kind}`, [...fields, ["seen", "0"]]);
  await write("note", [["words", "The first reading was 86"]]);
  await write("deviation", [
    ["words", "The bath ran hot. ".repeat(60)],
    ["done", "Heat off"],
  ]);
  const form = fieldsOn(await (await look(`${batch}/record`)).text());
  const of = form.find(([name]) => name === "of");
  expect((await paper(`${batch}/record-a4.pdf`)).words).toContain("Not closed yet.");
  if (of) await write("correction", [of, ["because", "Misread"], ["words", "It was 84"]]);
  await send(`${batch}/close`, fieldsOn(await (await look(`${batch}/close`)).text()));
  await write("release", [
    ["decision", "released"],
    ["because", "All within their limits"],
  ]);
  const page = await (await look(`${batch}/record`)).text();
  const head = /Hash of the last: <code>([0-9a-f]{64})/.exec(page)![1]!;
  for (const size of ["a4", "letter"]) {
    expect(page).toContain(`${batch}/record-${size}.pdf`);
    const { pages, words } = await paper(`${batch}/record-${size}.pdf`);
    for (const each of pages) expect(each.words).toContain(head);
    const from = page.indexOf('<section aria-labelledby="identity"');
    const till = page.indexOf('<section aria-labelledby="write"');
    for (const text of textsOn(page.slice(from, till))) {
      // A sentence with a link in it comes in pieces; the last is the full stop.
      expect(words).toContain(text);
    }
    expect(words).toContain("Released");
    expect(words).not.toContain("Wren");
  }
});

it("nobody gets a paper without a visit, nor one that is not there", async () => {
  for (const file of ["sheets-a4.pdf", "record-letter.pdf"]) {
    const answer = await look(`${batch}/${file}`, "");
    expect(answer.status).toBe(303);
    expect(answer.headers.get("location")).toContain("/maker/enter");
    expect((await look(`/maker/batches/none/${file}`)).status).toBe(404);
  }
  expect((await look(`${batch}/sheets-a5.pdf`)).status).toBe(404);
});
