/**
 * The record as PDF in its rarer states: broken, corrected twice, with more lots than a row holds.
 */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { writePdf } from "#service/documents/pdf/file.ts";
import { type RecordModel, drawRecord } from "#service/documents/pdf/record.ts";
import { plain, readPdf } from "./read-pdf.ts";

const ASSETS = new URL("../../../../.build/assets/", import.meta.url);
const asset = async (name: string) => new Uint8Array(readFileSync(new URL(name, ASSETS)));
const TOLD = { when: "28 Nov 2026, 20:12", by: "Hand" };
const LONG = "The bath ran hot for a while. ".repeat(300);

const correction = (place: number, words: string) => ({
  ...{ ...TOLD, place, words, because: `Misread ${place}` },
});

const MODEL = {
  ...{ title: "Record of batch 261128-01", number: "261128-01", several: false },
  ...{
    running: "Quillfen, record of batch 261128-01, hash 0f0f",
    head: "0f0f",
    count: "9 entries",
  },
  ...{ broken: ["Entry 3 does not fit the one before it."], chain: "", since: "Written since: 9." },
  ...{ decision: false as const, undecided: "Not decided yet", next: false as const },
  identity: [{ what: "Maker", value: "Quillfen" }],
  runs: [
    {
      ...{ run: 1, product: "Everyday", base: "Soft shea", made: true, madeOn: "2026-11-28" },
      ...{ loads: "one load", isCorrected: true, bulk: "600 g", weighed: "601 g" },
      difference: "+1 g",
      jars: [{ reference: "ABC", words: "5 × Jar 120 g" }],
      lines: [
        {
          ...{ name: "Shea butter", inci: "Butyrospermum", why: "Ran out", ordered: "60.00 %" },
          ...{ planned: "61.00 %", made: "61.02 %", target: "366 g", actual: "367 g" },
          difference: "+1 g",
          lots: Array.from({ length: 50 }, (_, at) => ({
            ...{ code: `TB-${at}.`, supplier: "Thornwick", bestBefore: "2027-08-15", used: "7 g" },
          })),
        },
      ],
      yields: [{ what: "Jars", theory: "5", actual: "5" }],
      checks: [{ what: "Firmness, felt", limit: "soft", found: "hard", verdict: "outside" }],
    },
  ],
  ...{ started: [], steps: [], deviations: [], prints: [], samples: [], remarks: [] },
  ...{ whys: [{ name: "Shea butter", why: "Ran out" }], closingNote: "Done", shortOrders: "ABC" },
  netContents: [
    {
      ...{ ...TOLD, place: 7, title: "Jar 120 g, run 1", verdict: "Falls short", rule: "the EU’s" },
      ...{ isShort: true, weighed: "5 of 5", tare: "80 g", contents: "118 · 119" },
      ...{
        sentences: ["Fill them up."],
        paragraphs: [],
        corrections: [correction(8, "It was 120")],
      },
    },
  ],
  notes: [
    {
      ...TOLD,
      place: 4,
      paragraphs: ["It was 83"],
      corrections: [correction(5, "84"), correction(6, "85")],
    },
    { ...TOLD, place: 9, paragraphs: [LONG], corrections: [] },
  ],
  earlier: [{ ...TOLD, place: 2, words: "Held back", because: "Waiting for the lab" }],
  log: [{ ...TOLD, place: 1, what: "Work order issued" }],
  ...{ forms: [], faults: [], seen: 9 },
} as unknown as RecordModel;

it("says that it is broken, strikes through what was corrected, and leaves out no lot and no line", async () => {
  const about = { title: "Record", author: "Quillfen", at: 0 };
  const { pages } = await readPdf(await writePdf({ asset }, drawRecord(MODEL, "letter"), about));
  const all = plain(pages.map(({ words }) => words).join(" "));
  for (const each of [
    "This record does not fit. It has 9 entries.",
    "Entry 3 does not fit the one before it.",
    "Take care. Written since: 9.",
    "60.00 % 61.00 % 61.02 % 366 g 367 g +1 g",
    "Firmness, felt soft hard outside",
    "Jar 120 g, run 1: Falls short, by the EU’s. Weighed 5 of 5, tare 80 g.",
    "8. Corrected 28 Nov 2026, 20:12, Hand, because: Misread 8 It was 120",
    "Shea butter: Ran out",
    "Came out short and waits to be made again: ABC.",
    "Held back Waiting for the lab",
  ]) {
    expect(all).toContain(each);
  }
  for (const at of Array.from({ length: 50 }, (_, place) => place)) {
    expect(all).toContain(`TB-${at}. 7 g Thornwick best before 2027-08-15`);
  }
  expect(all).not.toContain("more lines");
  const said = all.match(/The bath ran hot for a while\./g);
  expect(said!.length).toBeGreaterThan(280); // the others are broken by the foot of a page
  // "It was 83", "84", and the two words of the decision that was overtaken: each has a line through it.
  const struck = pages.flatMap(({ content }) => content.match(/^0 G 0\.6 w/gm) ?? []);
  expect(struck).toHaveLength(4);
});
