/**
 * Work orders as PDF, read back from the file: all that the model says, on the page, nothing over anything else.
 */
import { BarcodeFormat } from "@zxing/library";
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import type { PaperId } from "#core/make/label-sheet.ts";
import { type WorkOrder, type WorkOrderInput, makeWorkOrder } from "#core/make/work-order.ts";
import type { BatchRun } from "#service/batches/sheets.ts";
import { linesOf } from "#service/batches/sheets.ts";
import {
  type DocumentPage,
  type LotsSuggested,
  type SheetsModel,
  sheetsModel,
} from "#service/documents/batch-sheets.ts";
import { writePdf } from "#service/documents/pdf/file.ts";
import { drawWorkOrder } from "#service/documents/pdf/work-order.ts";
import { SEVEN_BLEND, SOFT_BLEND, TWELVE_BLEND } from "../../../helpers/ingredients.ts";
import { CODE128_QUIET, QR_QUIET, scanned } from "../../../helpers/scanned.ts";
import { aWorkOrderInput } from "../../../helpers/work-orders.ts";
import { type ReadPage, misplaced, plain, readPdf } from "./read-pdf.ts";

const ASSETS = new URL("../../../../.build/assets/", import.meta.url);
const asset = async (name: string) => new Uint8Array(readFileSync(new URL(name, ASSETS)));
const PAGE: DocumentPage = { stylesheets: [], locale: "en-GB", practice: false };
const URL_OF_BATCH = "https://quillfen.example/maker/batches/B-261125-01";

function made(change: Partial<WorkOrderInput>): WorkOrder {
  const result = makeWorkOrder({ ...aWorkOrderInput(), ...change });
  if ("findings" in result) throw new Error(result.findings[0]!.code);
  return result.workOrder;
}

const jar = (reference: string, fillG: number, quantity: number, jarName = "Amber jar") => ({
  ...{ reference, fillG, quantity, jarName },
});
const ONE: readonly BatchRun[] = [
  {
    workOrder: made({ blend: SOFT_BLEND, orders: [jar("FB-1", 50, 1)], scaleStepMg: 10 }),
    loads: 1,
  },
];
/** 400 jars of 12 blends, the last in two loads. */
const TWELVE: readonly BatchRun[] = Array.from({ length: 12 }, (_, at) => {
  const blend = at % 2 === 0 ? TWELVE_BLEND : SEVEN_BLEND;
  const orders = [jar(`FB-${at}`, 120, 20), jar(`GB-${at}`, 60, at === 0 ? 17 : 13)];
  const workOrder = made({ blend, orders, baseName: `Base ${at + 1}` });
  if (at < 11) return { workOrder, loads: 1 };
  const half = linesOf({ workOrder, loads: 1 }).map(({ targetMg }) => targetMg / 2);
  return { workOrder, loads: 2, loadTargetsMg: [half, half] };
});

async function fileOf(model: SheetsModel, paper: PaperId) {
  const { pages, drawings } = drawWorkOrder(model, paper);
  const about = { title: "Work order", author: "Fernbank Butters", at: 1_795_000_000 };
  return await writePdf({ asset }, pages, about, drawings);
}

async function read(
  runs: readonly BatchRun[],
  paper: PaperId,
  page: Partial<DocumentPage> = {},
  lots?: LotsSuggested,
) {
  const model = sheetsModel(runs, { ...PAGE, ...page }, lots);
  return await readPdf(await fileOf(model, paper));
}

const wordsOf = (pages: readonly ReadPage[]) => plain(pages.map(({ words }) => words).join(" "));

describe.each([
  ["one jar of 50 g", ONE],
  ["400 jars of 12 blends", TWELVE],
] as const)("the work order of %s", (name, runs) => {
  const papers = ["a4", "letter"] as const;
  const files = new Map<PaperId, Awaited<ReturnType<typeof read>>>();
  beforeAll(async () => {
    const lots = runs.map((run) =>
      linesOf(run).map(({ line, targetMg }) => [
        { lot: { code: `LOT-${line}` } as never, takeMg: targetMg },
      ]),
    );
    const page = { batchUrl: URL_OF_BATCH };
    for (const paper of papers) files.set(paper, await read(runs, paper, page, lots));
  });

  it.each(papers)("says all that the model says on %s", (paper) => {
    const { pages } = files.get(paper)!;
    const all = wordsOf(pages);
    let from = 0; // each run's own, one after the other
    const { sheets } = sheetsModel(runs, PAGE);
    for (const [run, { workOrder }] of runs.entries()) {
      const { weigh, steps, cautions, jars, label } = sheets[run]!;
      const at = (words: string) => {
        const found = all.indexOf(plain(words), from);
        expect(found, words).toBeGreaterThanOrEqual(0);
        return found;
      };
      from = at(workOrder.baseName);
      for (const line of linesOf({ workOrder, loads: 1 })) {
        const share = `${(line.share / 100).toFixed(2)} %`;
        at(`${line.name} ${line.inci} ${share} ${line.targetG} LOT-${line.line}`);
      }
      at(`All of it 100.00 % ${workOrder.bulkG}`);
      for (const { title, words, blanks, cautions: care } of [weigh!, ...steps]) {
        at(title);
        at(words);
        for (const each of care) at(`Take care. ${each}`);
        for (const each of blanks) at(each.label);
      }
      for (const each of [...cautions.keep, ...cautions.customer]) at(each);
      for (const { reference, jarName, quantity, fillG, volumeMl } of jars) {
        at(`${reference} ${jarName} ${quantity} ${fillG} g ${volumeMl} ml`);
      }
      at(label.text);
      from = at("Sign off");
    }
  });

  it.each(papers)("says on every page of %s what it belongs to and what outranks it", (paper) => {
    const { pages } = files.get(paper)!;
    const { running } = sheetsModel(runs, PAGE);
    expect(running).toContain(`Batch ${runs[0]!.workOrder.batchNumber}.`);
    for (const [at, { words }] of pages.entries()) {
      expect(words).toContain(plain(running));
      expect(words).toMatch(new RegExp(`Page ${at + 1} of ${pages.length}$`));
    }
    if (name.startsWith("one")) expect(pages).toHaveLength(2);
  });

  it.each(papers)("keeps every word on %s inside the page and off the others", (paper) => {
    expect(files.get(paper)!.pages.flatMap(misplaced)).toEqual([]);
  });

  it("carries codes that are read back from the file", () => {
    const found = files.get("a4")!.drawings.map(({ content }) => codeIn(content));
    const [bars, square] = found.sort((one, other) => other.width - one.width);
    expect(scanned(bars!, CODE128_QUIET, BarcodeFormat.CODE_128)).toBe("B-261125-01");
    expect(scanned(square!, QR_QUIET, BarcodeFormat.QR_CODE)).toBe(URL_OF_BATCH);
  });
});

/** The rectangles of an outline as a PDF has it, in whole modules. */
function codeIn(content: string) {
  const rectangles = content.matchAll(/(\d+) (\d+) m (\d+) \d+ l \d+ (\d+) l \d+ \d+ l h/g);
  const runs = [...rectangles].map((found) => found.slice(1).map(Number));
  const path = runs.map(([x, y, right, foot]) => {
    const [w, h] = [right! - x!, foot! - y!];
    return `M${x} ${y}h${w}v${h}h-${w}z`;
  });
  const width = Math.max(...runs.map(([, , right]) => right!));
  const height = Math.max(...runs.map(([, , , foot]) => foot!));
  return { width, height, path: path.join("") };
}

describe("a sheet", () => {
  it("splits no row and says again what the columns are", async () => {
    const orders = Array.from({ length: 70 }, (_, at) => jar(`FB-${at}`, 60, 1, `Tin ${at}`));
    const { pages } = await read([{ workOrder: made({ orders }), loads: 1 }], "a4");
    const withJars = pages.filter(({ words }) => /FB-\d+ Tin/.test(words));
    expect(withJars.length).toBeGreaterThan(2);
    for (const { words } of withJars) expect(words).toContain("Order Jar Jars Fill each");
    const all = wordsOf(pages);
    for (const { reference, jarName } of orders) expect(all).toContain(`${reference} ${jarName} 1`);
    expect(pages.flatMap(misplaced)).toEqual([]);
  });

  it("says first what must be seen first", async () => {
    const page = {
      ...{ practice: true, contested: "FB-0311", edition: 2 },
      lotNotes: [
        { mark: "Softer than promised", sentences: ["Look."], urgent: true, corrected: true },
      ],
    };
    const { pages } = await read(ONE, "a4", page);
    const { words } = pages[0]!;
    for (const each of [
      "Practice. These jars were paid at the practice till",
      "Payment contested: FB-0311. Ask the owner before it is made or sent.",
      "Sheet 2. Shares were changed after it was first written",
      "• Softer than promised. Look. Shares marked • are other than ordered.",
    ]) {
      expect(words).toContain(each);
    }
    expect(misplaced(pages[0]!)).toEqual([]);
  });

  it("says where more lots than a row holds are to be found", async () => {
    const many = Array.from({ length: 120 }, (_, at) => ({
      ...{ lot: { code: `LOT-${at}-OF-MANY` } as never, takeMg: 1 },
    }));
    const { pages } = await read(ONE, "letter", {}, [[many]]);
    const all = wordsOf(pages);
    expect(all).toContain("LOT-0-OF-MANY, ");
    expect(all).toMatch(/… \d+ more lines: see the page/);
    expect(pages.flatMap(misplaced)).toEqual([]);
  });

  it("holds the longest names there are, and marks the letters it cannot write", async () => {
    const long = "Überlang-".repeat(20);
    const orders = [
      jar(`FB-${"9".repeat(60)}`, 50, 1, `Łódź ${long}`),
      jar("FB-2", 50, 1, "雪 🫙 jar"),
    ];
    const names = { productName: long, baseName: long, makerName: `${long} 雪`, orders };
    const { pages } = await read([{ workOrder: made(names), loads: 1 }], "letter");
    const all = wordsOf(pages);
    expect(all).toContain("Lódz Überlang-");
    const missing =
      "An empty box stands for a character this print has no letter for. On this page:";
    expect(pages[0]!.words).toContain(`${missing} 1.`);
    expect(all).toContain(`${missing} 2. The page of the batch has them.`);
    expect(pages.flatMap(misplaced)).toEqual([]);
  });
});

it("is built within 300 ms of one core for 400 jars of 12 blends", { retry: 0 }, async () => {
  const jars = TWELVE.flatMap(({ workOrder }) => workOrder.jars);
  expect(jars.reduce((sum, { quantity }) => sum + quantity, 0)).toBeGreaterThanOrEqual(400);
  let best = Infinity;
  for (let tries = 0; tries < 5 && best >= 300; tries += 1) {
    const before = process.cpuUsage();
    const bytes = await fileOf(sheetsModel(TWELVE, { ...PAGE, batchUrl: URL_OF_BATCH }), "a4");
    const { user, system } = process.cpuUsage(before);
    best = Math.min(best, (user + system) / 1000);
    expect(bytes.length).toBeLessThan(300_000);
  }
  expect(best).toBeLessThan(300);
});
