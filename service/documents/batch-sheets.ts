/**
 * The printed work order: one sheet a run, and before them what to fetch from the shelf when there are several. All of
 * it is said here in the language of the bench, so that the page and the PDF print the same words.
 */
import { WHOLE } from "#core/blend.ts";
import { contentText } from "#core/make/label.ts";
import type { WeighLine } from "#core/make/work-order.ts";
import type { Allotted } from "../batches/allot.ts";
import { type BatchRun, linesOf } from "../batches/sheets.ts";
import { code128, qrCode } from "./codes.ts";
import { fetchList } from "./fetch-list.ts";
import { dateWords } from "./figures.ts";
import { loadTables } from "./load-tables.ts";
import { renderTemplate } from "./render.ts";
import { promiseWords } from "./promise-words.ts";
import { codesOf, namesOn } from "./sheet-lines.ts";
import { type NameOf, type Tongue, sayCaution, sayStep, tongueOf } from "./tongue.ts";

/** What a document needs of the page it stands on. */
export interface DocumentPage {
  /** Addresses of style sheets; the page carries no style or script of its own. */
  readonly stylesheets: readonly string[];
  /** BCP 47 tag of the bench: words, dates and figures. */
  readonly locale: string;
  /** The jars were paid at the practice till: the sheet says so. */
  readonly practice: boolean;
  /** Whether a label of the shop must say ounces, so that who fills by it reads them here too. */
  readonly ounces?: boolean;
  /** References of orders whose payment a bank has called in question. */
  readonly contested?: string;
  /** What is said of the lots of each run; nothing when not said. */
  readonly lotNotes?: readonly (SheetNote | undefined)[];
  /** Number of the sheets as they stand now; 1 when not said. */
  readonly edition?: number;
  /** Address of the batch's page behind the door, for the code a phone reads; without it no codes are drawn. */
  readonly batchUrl?: string;
  /** Where the link at the top of the screen leads back to; without it there are no links. */
  readonly backHref?: string;
  /** The same sheets as files, and in other languages. */
  readonly pdfs?: readonly PageLink[];
  readonly languages?: readonly (PageLink & { readonly lang: string; readonly here: boolean })[];
}

interface PageLink {
  readonly href: string;
  readonly words: string;
}

/** What is said of the lots of a run, in the language of the sheet. */
export interface SheetNote {
  readonly mark: string;
  readonly sentences: readonly string[];
  readonly urgent: boolean;
  readonly corrected: boolean;
}

/** Lots suggested for each run and line; the sheet prints their codes where the lot is to be written. */
export type LotsSuggested = readonly (readonly (readonly Allotted[])[])[];

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
  const { batchNumber } = runs[0]!.workOrder;
  const codes = page.batchUrl !== undefined && codesOfBatch(batchNumber, page.batchUrl);
  const tongue = tongueOf(page.locale);
  const { say, locale } = tongue;
  const defer = say("sheet.defer");
  return {
    ...{ batchNumber, defer, codes, say, locale },
    running: `${say("sheet.batchNumber", { number: batchNumber })} ${defer}`,
    page: {
      ...{ backHref: page.backHref, pdfs: page.pdfs ?? [], languages: page.languages ?? [] },
      ...page,
    },
    together: runs.length > 1 && fetchList(runs, lots, tongue),
    sheets: runs.map((run, at) => ({
      ...sheetModel(run, tongue, { at, of: runs.length, lots: lots[at], page }),
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

function sheetModel(run: BatchRun, tongue: Tongue, { at, of, lots, page }: SheetPlace) {
  const { say, digits, number, locale } = tongue;
  const { batchNumber, makerName, productName, baseName, madeOnISO, ...workOrder } = run.workOrder;
  const { promise, cautions, jarCount, label } = workOrder;
  const nameOf = namesOn(run, locale);
  const [weigh, ...steps] = workOrder.steps.map((step) =>
    sayStep(tongue, nameOf, step, promise.afterDays),
  );
  const sayAll = (place: keyof typeof cautions) =>
    cautions[place].map((each) => sayCaution(tongue, nameOf, each));
  return {
    ...{ batchNumber, makerName, productName, baseName, page, jarCount, label },
    kind: of > 1 ? say("sheet.kindOfRun", { run: at + 1, of }) : say("sheet.kind"),
    madeOn: dateWords(madeOnISO, locale),
    contested: page.contested ?? "",
    lotNote: page.lotNotes?.[at] ?? (false as const),
    edition: (page.edition ?? 1) > 1 ? page.edition : 0,
    run: at + 1,
    bulkG: digits(workOrder.bulkG),
    yieldG: digits(workOrder.yieldG),
    scaleStepG: digits(workOrder.scaleStepG),
    loss: tongue.percent(workOrder.lossShare),
    all: tongue.percent(WHOLE),
    weigh,
    weighList: weighGroups(run, tongue, nameOf, lots),
    lotsNote: linesOf(run).some((line) => codesOf(lots?.[line.line - 1]) !== "")
      ? say("sheet.suggested")
      : "",
    loadCount: run.loads > 1 ? run.loads : 0,
    loadTables: loadTables(run, tongue, nameOf),
    steps: steps.map((step, place) => ({ ...step, number: place + 2 })), // weighing is the first
    jars: workOrder.jars.map(({ fillG, volumeMl, reference, jarName, quantity }) => ({
      ...{ reference, jarName, quantity: number(quantity), volumeMl: number(volumeMl) },
      fillG: number(fillG),
      ounces: page.ounces ? breakable(contentText(fillG, "ounces-and-grams")) : "",
    })),
    promise: promiseWords(promise, madeOnISO, tongue),
    cautions: {
      keep: [...sayAll("storage"), ...sayAll("post")],
      customer: sayAll("customer"),
    },
  };
}

/** Words that may go on to another line. */
function breakable(words: string): string {
  return words.replaceAll("\u00a0", " ");
}

function weighGroups(
  run: BatchRun,
  { say, digits, percent }: Tongue,
  nameOf: NameOf,
  lots: SheetPlace["lots"],
) {
  return run.workOrder.weighList.map(({ stage, lines }) => ({
    title: say(`step.stage-${stage}`),
    lines: lines.map((line) => {
      const was = orderedShare(run, line);
      return {
        name: nameOf(line.ingredient),
        inci: line.inci,
        share: percent(line.share),
        targetG: digits(line.targetG),
        lots: codesOf(lots?.[line.line - 1]),
        was: was === line.share ? "" : say("sheet.was", { share: percent(was) }),
      };
    }),
  }));
}

/** The share that was ordered, which another may be weighed for. */
function orderedShare({ correction }: BatchRun, { ingredient, share }: WeighLine): number {
  const issued = correction && linesOf(correction.issued);
  return issued?.find((line) => line.ingredient === ingredient)?.share ?? share;
}

/** Height of the bars of a Code 128 [modules]; the sheet draws a module 0.3 mm wide. */
const BARS_HEIGHT = 20;

function codesOfBatch(number: string, url: string) {
  return { bars: code128(number, BARS_HEIGHT), square: qrCode(url) };
}
