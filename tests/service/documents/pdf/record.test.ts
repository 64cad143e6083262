/**
 * The record as PDF in its rarer states: broken, corrected twice, with more lots than a row holds.
 */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { writePdf } from "#service/documents/pdf/file.ts";
import { type RecordModel, drawRecord } from "#service/documents/pdf/record.ts";
import { tongueOf } from "#service/documents/tongue.ts";
import { plain, readPdf } from "./read-pdf.ts";

const ASSETS = new URL("../../../../.build/assets/", import.meta.url);
const asset = async (name: string) => new Uint8Array(readFileSync(new URL(name, ASSETS)));
const TOLD = { when: "28 Nov 2026, 20:12", by: "Hand" };
const LONG = "The bath ran hot for a while. ".repeat(300);

const correction = (place: number, words: string) => ({
  ...{ ...TOLD, place, words, because: `Misread ${place}` },
});

const TONGUE = tongueOf("en-GB");

const MODEL = {
  ...{ title: "Record of batch 261128-01", number: "261128-01", several: false, say: TONGUE.say },
  ...{
    running: "Quillfen, record of batch 261128-01, hash 0f0f",
    head: "0f0f",
    brokenWords: TONGUE.say("record.brokenWords", { count: 9 }),
  },
  ...{ broken: ["Entry 3 does not fit the one before it."], chain: "", since: "Written since: 9." },
  ...{ decision: false as const, undecided: "Not decided yet", next: false as const },
  identity: [{ what: "Maker", value: "Quillfen" }],
  runs: [
    {
      ...{ run: 1, title: "Everyday, Soft shea", made: true, words: "Made on 28 November 2026." },
      ...{ isCorrected: true, bulk: "600 g", weighed: "601 g", difference: "+1 g" },
      lines: [
        {
          ...{ name: "Shea butter", inci: "Butyrospermum", why: "Ran out", ordered: "60.00 %" },
          ...{ planned: "61.00 %", made: "61.02 %", target: "366 g", actual: "367 g" },
          ...{ difference: "+1 g", more: "Shea butter, more lots" },
          lots: Array.from({ length: 50 }, (_, at) => ({
            ...{
              code: `TB-${at}.`,
              supplier: "Thornwick",
              durable: "durable until 2027-08-15",
              used: "7 g",
            },
          })),
        },
      ],
      yields: [{ what: "Jars", theory: "5", actual: "5" }],
      checks: [{ what: "Firmness, felt", limit: "soft", found: "hard", verdict: "outside" }],
    },
  ],
  ...{ started: [], steps: [], deviations: [], prints: [], samples: [], remarks: [] },
  ...{ whys: ["Shea butter: Ran out"], closingNote: "Done", noDeviation: "None." },
  shortOrders: TONGUE.say("record.short", { references: "ABC" }),
  netContents: [
    {
      ...{ ...TOLD, place: 7, title: "Jar 120 g, run 1: Falls short" },
      ...{ isShort: true, measured: "By the EU’s. Weighed 5 of 5.", contents: "118 · 119" },
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
    "Jar 120 g, run 1: Falls short. By the EU’s. Weighed 5 of 5.",
    "8. 28 Nov 2026, 20:12, Hand. Corrected, because: Misread 8 It was 120",
    "Shea butter: Ran out",
    "Came out short and waits to be made again: ABC.",
    "Held back Waiting for the lab",
  ]) {
    expect(all).toContain(each);
  }
  for (const at of Array.from({ length: 50 }, (_, place) => place)) {
    expect(all).toContain(`TB-${at}. 7 g Thornwick durable until 2027-08-15`);
  }
  expect(all).not.toContain("more lines");
  const said = all.match(/The bath ran hot for a while\./g);
  expect(said!.length).toBeGreaterThan(280); // the others are broken by the foot of a page
  // "It was 83", "84", and the two words of the decision that was overtaken: each has a line through it.
  const struck = pages.flatMap(({ content }) => content.match(/^0 G 0\.6 w/gm) ?? []);
  expect(struck).toHaveLength(4);
});
