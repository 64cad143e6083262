/**
 * What the papers are made of: letters, outlines, the font, labels.
 */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { LABEL_FACE } from "#data/library/label-font.ts";
import { drawLabel } from "#service/documents/label-drawing.ts";
import { writePdf } from "#service/documents/pdf/file.ts";
import { paperFonts } from "#service/documents/pdf/font.ts";
import { drawLabels } from "#service/documents/pdf/labels.ts";
import { UNWRITTEN, written } from "#service/documents/pdf/letters.ts";
import { outlineOf } from "#service/documents/pdf/path.ts";
import { unwrapFont } from "#service/documents/pdf/unwrap-font.mjs";
import { Canvas, codeOf, widthOf } from "#service/documents/pdf/canvas.ts";
import { readPdf } from "./read-pdf.ts";

const ROOT = new URL("../../../../", import.meta.url);
const asset = async (name: string) =>
  new Uint8Array(readFileSync(new URL(`.build/assets/${name}`, ROOT)));
const ABOUT = { title: "Łucja’s 雪", author: "Quillfen", at: 0 };

it.each([
  ["Crème brûlée – “½” € ı", "Crème brûlée – “½” € ı"],
  ["Cre\u0300me", "Crème"],
  ["Łódź, Đakovo, Škoda", "Lódz, Dakovo, Skoda"],
  ["12\u202fg − 3\u00a0g", "12\u00a0g – 3\u00a0g"],
  ["two\nlines\tand\u0000more", "two lines and more"],
  ["turned \u202eround\u2066", "turned round"],
  ["№ 5 ﬁve", "No 5 five"],
  ["雪", UNWRITTEN],
  ["й", UNWRITTEN],
  ["👩‍👩‍👧 jar", `${UNWRITTEN} jar`],
])("%s is written %s", (words, expected) => expect(written(words)).toBe(expected));

it("draws the outlines of the labels as they are, and nothing that is bent", () => {
  expect(outlineOf("M.2 .1h.6v.1L.5-.5z")).toBe("0.2 0.1 m 0.8 0.1 l 0.8 0.2 l 0.5 -0.5 l h");
  expect(outlineOf("m1 1 2 0zl3 3")).toBe("1 1 m 3 1 l h 4 4 l");
  expect(() => outlineOf("M0 0C1 1 2 2 3 3")).toThrow("no outline of straight lines: C");
});

it("unwraps a font to the very tables that its makers summed up", () => {
  const folder = "node_modules/@fontsource/ibm-plex-sans/files/ibm-plex-sans-latin-400-normal.woff";
  const font = unwrapFont(readFileSync(new URL(folder, ROOT)));
  const tags = Array.from({ length: font.readUInt16BE(4) }, (_, at) => {
    const entry = 12 + at * 16;
    const [sum, offset, length] = [4, 8, 12].map((more) => font.readUInt32BE(entry + more));
    const tag = font.toString("latin1", entry, entry + 4);
    const table = Uint8Array.from(font.subarray(offset, offset! + ((length! + 3) & ~3)));
    const view = new DataView(table.buffer);
    if (tag === "head") view.setUint32(8, 0); // its sum is made without the font's own
    let own = 0;
    for (let place = 0; place < table.length; place += 4) own += view.getUint32(place);
    expect(own % 2 ** 32, tag).toBe(sum);
    return tag;
  });
  expect(tags).toEqual([...tags].sort());
  for (const tag of ["cmap", "glyf", "head", "hhea", "hmtx", "loca", "maxp"]) {
    expect(tags).toContain(tag);
  }
});

it("gives each letter the width it was reckoned with", async () => {
  const { regular, bold } = await paperFonts({ asset });
  for (const [font, face] of [
    [regular, LABEL_FACE.regular],
    [bold, LABEL_FACE.bold],
  ] as const) {
    for (const [letter, advance] of face.advances) {
      expect(font.widths[codeOf(letter) - 32], letter).toBeCloseTo(advance * 1000);
    }
    expect(font.ascent).toBeGreaterThan(font.capHeight);
  }
  const canvas = new Canvas(800, 40);
  canvas.words("’“”…•", 0, 20, { size: 10 });
  const [page] = (await readPdf(await writePdf({ asset }, [canvas], ABOUT))).pages;
  expect(page!.texts[0]!.words).toBe("’“”…•");
  expect(page!.texts[0]!.width).toBeCloseTo(widthOf("’“”…•", { size: 10 }), 2);
});

it("keeps the true title, in every script, and is the same file for the same paper", async () => {
  const file = () => writePdf({ asset }, [new Canvas(100, 50)], ABOUT);
  const one = await file();
  expect((await readPdf(one)).title).toBe(ABOUT.title);
  expect(await file()).toEqual(one);
});

const SIZE = { widthMm: 80, heightMm: 30 };
const label = (text: string) =>
  drawLabel(
    {
      lines: [{ text, xMm: 2, yMm: 10, sizeMm: 3, isBold: true }],
      symbols: [{ symbol: "open-jar", xMm: 50, yMm: 5, sizeMm: 4 }],
      code: { xMm: 68, yMm: 18, sizeMm: 8.4 },
      xHeightMm: 1.5,
    },
    SIZE,
    "261125-01",
  );

it("draws each label once and sets it where the printed sheet has it", async () => {
  const MM = 72 / 25.4;
  const counted = [
    { drawn: label("Süß (frei) \\ ’n"), count: 9 },
    { drawn: label("Zweites"), count: 1 },
  ];
  const { pages, drawings } = drawLabels(counted, "a4", "Batch 261125-01 雪");
  const { pages: read, drawings: drawn } = await readPdf(
    await writePdf({ asset }, pages, ABOUT, drawings),
  );
  expect(read).toHaveLength(1);
  expect(drawn.map(({ words }) => words)).toEqual(["Süß (frei) \\ ’n", "Zweites"]);
  const [text] = drawn[0]!.texts;
  expect(text).toMatchObject({ isBold: true });
  expect(text!.x).toBeCloseTo(2 * MM, 2);
  expect(text!.y).toBeCloseTo(20 * MM, 2);
  expect(text!.size).toBeCloseTo(3 * MM, 2);
  const set = [...read[0]!.content.matchAll(/q (.+) cm \/(L\d) Do Q/g)];
  expect(set.map(([, , name]) => name).join("")).toBe("L0L0L0L0L0L0L0L0L0L1");
  for (const [, matrix] of set) {
    const [a, b, c, d, e, f] = matrix!.split(" ").map(Number);
    const at = (x: number, y: number) => [a! * x + c! * y + e!, b! * x + d! * y + f!];
    for (const [x, y] of [at(0, 0), at(80 * MM, 30 * MM)]) {
      expect(x).toBeGreaterThan(8 * MM);
      expect(x).toBeLessThan(202 * MM);
      expect(y).toBeGreaterThan(8 * MM);
      expect(y).toBeLessThan(289 * MM);
    }
  }
  expect(read[0]!.words).toBe("Batch 261125-01");
});

it("turns labels with the sheet, and gives one a page its own size", async () => {
  const wide = { ...label("Turned"), width: 120, height: 45 };
  const turned = drawLabels([{ drawn: wide, count: 1 }], "a4", "").pages[0]!.content();
  expect(turned).toMatch(/q 0 -1 1 0 [\d.]+ [\d.]+ cm \/L0 Do Q/);
  const { pages } = drawLabels([{ drawn: label("One"), count: 3 }], "label", "foot");
  expect(pages).toHaveLength(3);
  expect(pages[0]!.width).toBeCloseTo(226.77, 2);
  expect(pages[0]!.content()).not.toContain("foot");
});

it("refuses a label with letters it cannot write, and changes none", () => {
  expect(() => drawLabels([{ drawn: label("Łucja"), count: 1 }], "a4", "")).toThrow(
    /The PDF has no letters for “Łucja”/,
  );
});
