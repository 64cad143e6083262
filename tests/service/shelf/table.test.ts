/**
 * Tables out and in: nothing a person can type is lost or becomes a formula on the way.
 */
import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { decodeTable, readTable, writeTable } from "#service/shelf/table.ts";

const COLUMNS = [
  { key: "name", heading: "Own name", needed: true as const },
  { key: "pack", heading: "Pack" },
  { key: "dose", heading: "Greatest share %" },
];

/** Text as forms keep it: line ends are one kind, and nothing is blank at its ends. */
const hostile = fc
  .oneof(
    fc.string({ unit: "binary", maxLength: 30 }),
    fc.string({ unit: fc.constantFrom(..."'\"=+-@\t\n,;|שב🧈é ＝") }),
    fc.constantFrom('=HYPERLINK("x")', "'=1", "''+1", "@SUM(A1)", "-1", "\u202Eלמ", "a\u0300"),
  )
  .map((text) => text.replaceAll(/\r\n?/g, "\n").replaceAll("\0", "").trim());

describe("a table", () => {
  it("comes back as it went out, whatever was typed", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(hostile, hostile, hostile), { maxLength: 8 }), (tuples) => {
        const rows = tuples
          .filter((cells) => cells.some((cell) => cell.trim() !== ""))
          .map(([name, pack, dose]) => ({ name, pack, dose }));
        const text = writeTable(COLUMNS, rows);
        const bytes = new TextEncoder().encode(text);
        const read = readTable(decodeTable(bytes)!, COLUMNS);
        expect("rows" in read && read.rows.map(({ cells }) => cells)).toEqual(rows);
      }),
      { numRuns: 500 },
    );
  });

  it("hands a spreadsheet no formula", () => {
    fc.assert(
      fc.property(hostile, (name) => {
        const text = writeTable(COLUMNS, [{ name, pack: "", dose: "" }]);
        for (const cell of Papa.parse<string[]>(text.replace("\uFEFF", "")).data.flat()) {
          expect(cell).not.toMatch(/^[=+\-@\t\r]/);
        }
      }),
      { numRuns: 300 },
    );
  });

  it.each([
    ["commas", "Own name,Pack\nShea,5 kg\n"],
    ["semicolons and a decimal comma", '\uFEFFPack;own NAME\r\n"5 kg";Shea\r\n'],
    ["tabs and old line ends", "Own name\tPack\rShea\t5 kg\r"],
    ["columns of others, and blank rows", "x,Own name,Pack,,\n,,,\n1,Shea,5 kg\n\n"],
  ])("is read with %s", (_, text) => {
    const read = readTable(text, COLUMNS);
    expect("rows" in read && read.rows.map(({ cells }) => cells)).toEqual([
      { name: "Shea", pack: "5 kg", dose: "" },
    ]);
  });

  it("numbers its rows as a spreadsheet does, blank ones counted", () => {
    const read = readTable('Own name\n"two\nlines"\n\nShea\n', COLUMNS);
    expect("rows" in read && read.rows.map(({ number }) => number)).toEqual([2, 4]);
  });

  it("names the columns that are not ours", () => {
    expect(readTable("Own name,Colour,Pack\nShea,white,\n", COLUMNS)).toMatchObject({
      strange: ["Colour"],
    });
  });

  it.each([
    ["nothing", " \n", /empty/],
    ["no headings", "Shea,5 kg\n", /no column “Own name”/],
    ["a heading twice", "Own name,Pack,pack\n", /Two columns/],
    ["a quotation mark left open", 'Own name,Pack\n"Shea,5 kg\nx,y\n', /never closed, in row/],
    ["twenty thousand and one rows", `Own name\n${"x\n".repeat(20_002)}`, /20000 at a time/],
  ])("cannot be read with %s, and says so", (_, text, sentence) => {
    const read = readTable(text, COLUMNS);
    expect("fault" in read ? read.fault : "").toMatch(sentence);
  });

  it("is told from a picture and from letters of an older kind", () => {
    expect(decodeTable(new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0, 1]))).toBeUndefined();
    expect(decodeTable(new Uint8Array([0x53, 0xe9]))).toBeUndefined();
    expect(decodeTable(new Uint8Array([0xff, 0xfe, 0x53, 0x00]))).toBe("S");
  });
});
