/**
 * The printed work order: one sheet a run, and before them what to fetch from the shelf when there are several.
 */
import { gramsOnScale } from "#core/make/scale.ts";
import type { FirmnessPromise, WeighLine } from "#core/make/work-order.ts";
import type { Allotted } from "../batches/allot.ts";
import { type BatchRun, bulkMgOf, linesOf } from "../batches/sheets.ts";
import { helpers } from "./helpers.ts";
import { code128, qrCode } from "./codes.ts";
import { renderTemplate } from "./render.ts";

/** What a document needs of the page it stands on. */
export interface DocumentPage {
  /** Addresses of style sheets; the page carries no style or script of its own. */
  readonly stylesheets: readonly string[];
  /** BCP 47 tag for dates. The words of the sheet are English. */
  readonly locale: string;
  /** The jars were paid at the practice till: the sheet says so. */
  readonly practice: boolean;
  /** References of orders whose payment a bank has called in question. */
  readonly contested?: string;
  /** What is said of the lots of each run; nothing when not said. */
  readonly lotNotes?: readonly (SheetNote | undefined)[];
  /** Number of the sheets as they stand now; 1 when not said. */
  readonly edition?: number;
  /** Address of the batch's page behind the door, for the code a phone reads; without it no codes are drawn. */
  readonly batchUrl?: string;
  /** Where the link at the top of the screen leads back to, and what it says. */
  readonly back?: { readonly href: string; readonly words: string };
  /** The same sheets as files. */
  readonly pdfs?: readonly { readonly href: string; readonly words: string }[];
}

interface SheetNote {
  readonly mark: string;
  readonly sentences: readonly string[];
  readonly urgent: boolean;
  readonly corrected: boolean;
}

/** Lots suggested for each run and line; the sheet prints their codes where the lot is to be written. */
export type LotsSuggested = readonly (readonly (readonly Allotted[])[])[];

/** More loads than this side by side do not fit the paper. */
const LOADS_ABREAST = 3;

/** All sheets of a batch as one complete HTML page, the same on screen and on paper. */
export function renderBatchSheets(
  runs: readonly BatchRun[],
  page: DocumentPage,
  lots: LotsSuggested = [],
): string {
  return renderTemplate("documents/work-order", sheetsModel(runs, page, lots));
}

export type SheetsModel = ReturnType<typeof sheetsModel>;
export type SheetModel = SheetsModel["sheets"][number];

/** What stands on the sheets of a batch, whatever they are drawn with. */
export function sheetsModel(
  runs: readonly BatchRun[],
  page: DocumentPage,
  lots: LotsSuggested = [],
) {
  const { batchNumber, defer } = runs[0]!.workOrder;
  const codes = page.batchUrl !== undefined && codesOfBatch(batchNumber, page.batchUrl);
  return {
    ...{ batchNumber, defer, codes },
    page: {
      ...{ backHref: page.back?.href, backWords: page.back?.words, pdfs: page.pdfs ?? [] },
      ...page,
    },
    together: runs.length > 1 && fetchList(runs, lots),
    sheets: runs.map((run, at) => ({
      ...sheetModel(run, { at, of: runs.length, lots: lots[at], page }),
      codes,
    })),
  };
}

interface SheetPlace {
  readonly at: number;
  readonly of: number;
  readonly lots: LotsSuggested[number] | undefined;
  readonly page: DocumentPage;
}

function sheetModel(run: BatchRun, { at, of, lots, page }: SheetPlace) {
  const { workOrder } = run;
  const [weigh, ...steps] = workOrder.steps;
  const codes = (line: WeighLine) => codesOf(lots?.[line.line - 1]);
  return {
    ...workOrder,
    page,
    contested: page.contested ?? "",
    lotNote: noteFor(page.lotNotes?.[at]),
    edition: (page.edition ?? 1) > 1 ? page.edition : 0,
    run: at + 1,
    ofRuns: of > 1 ? of : 0,
    weigh,
    weighList: workOrder.weighList.map((group) => ({
      ...group,
      lines: group.lines.map((line) => ({
        ...line,
        lots: codes(line),
        was: orderedShare(run, line),
      })),
    })),
    lotsNote: linesOf(run).some((line) => codes(line) !== "")
      ? "Lots in grey are suggested, first expired first. Write over one when another was used."
      : "",
    loadCount: run.loads > 1 ? run.loads : 0,
    loadTables: loadTables(run),
    steps: steps.map((step, place) => ({ ...step, number: place + 2 })), // weighing is the first
    promise: promiseWords(workOrder.promise),
  };
}

/** What need not be acted on stays off the paper. */
function noteFor(note: SheetNote | undefined) {
  return note && (note.urgent || note.corrected) ? note : (false as const);
}

/** The share that was ordered, where another is weighed; empty where it is the same. */
function orderedShare({ correction }: BatchRun, { ingredient, share }: WeighLine): string {
  const issued = correction && linesOf(correction.issued);
  const was = issued?.find((line) => line.ingredient === ingredient)?.share ?? share;
  return was === share ? "" : helpers.percent(was);
}

/** Height of the bars of a Code 128 [modules]; the sheet draws a module 0.3 mm wide. */
const BARS_HEIGHT = 20;

function codesOfBatch(number: string, url: string) {
  return { bars: code128(number, BARS_HEIGHT), square: qrCode(url) };
}

/** Targets of each load, a few loads to a table. */
function loadTables(run: BatchRun) {
  const loads = run.loadTargetsMg ?? [];
  const grams = gramsLike(run);
  const tables = [];
  for (let from = 0; from < loads.length; from += LOADS_ABREAST) {
    const abreast = loads.slice(from, from + LOADS_ABREAST);
    tables.push({
      heads: abreast.map((_, at) => `Load ${from + at + 1}`),
      lines: linesOf(run).map(({ name }, line) => ({
        name,
        targets: abreast.map((load) => grams(load[line]!)),
      })),
      sums: abreast.map((load) => grams(load.reduce((sum, each) => sum + each, 0))),
    });
  }
  return tables;
}

/** What all runs need of each ingredient, in the order they are first weighed. */
function fetchList(runs: readonly BatchRun[], lots: LotsSuggested) {
  const grams = gramsLike(runs[0]!);
  const ids = [...new Set(runs.flatMap(linesOf).map(({ ingredient }) => ingredient))];
  const lines = ids.map((id) => {
    const found = runs.map((run) => linesOf(run).find(({ ingredient }) => ingredient === id));
    const taken = found.flatMap((line, run) => (line && lots[run]?.[line.line - 1]) ?? []);
    const sumMg = found.reduce((sum, line) => sum + (line?.targetMg ?? 0), 0);
    return {
      name: found.find((line) => line)!.name,
      runsG: found.map((line) => (line ? grams(line.targetMg) : "–")),
      sumG: grams(sumMg),
      lots: codesOf(taken),
    };
  });
  return {
    lines,
    runSumsG: runs.map((run) => grams(bulkMgOf(run))),
    sumG: grams(runs.reduce((sum, run) => sum + bulkMgOf(run), 0)),
  };
}

function codesOf(taken: readonly Allotted[] = []): string {
  return [...new Set(taken.flatMap(({ lot }) => (lot ? [lot.code] : [])))].join(", ");
}

/** Grams with the decimals of the run's scale. */
function gramsLike({ workOrder }: BatchRun): (mg: number) => string {
  const stepMg = Math.round(Number(workOrder.scaleStepG) * 1000);
  return (mg) => gramsOnScale(mg, stepMg);
}

/** Which clauses of the promise can be written. */
function promiseWords(promise: FirmnessPromise) {
  const { lowest, highest, softensAboveC, softensAboveLeastC } = promise;
  return {
    ...promise,
    spread: lowest === highest ? "" : `${lowest} to ${highest}`,
    softens: softensAboveC !== undefined, // "#if" takes 0 °C for missing
    softensAtWorst: softensAboveLeastC !== undefined,
  };
}
