/**
 * The work order as a PDF: what the printed page says, from the same model, set by ourselves.
 */
import type { PaperId } from "#core/make/label-sheet.ts";
import type { SheetModel, SheetsModel } from "../batch-sheets.ts";
import { helpers } from "../helpers.ts";
import {
  BODY,
  type Block,
  HEADING,
  SMALL,
  beside,
  blanks,
  caution,
  framed,
  rule,
  space,
  stack,
  text,
  tick,
} from "./blocks.ts";
import { type Canvas, MM } from "./canvas.ts";
import type { Drawings } from "./file.ts";
import { Flow } from "./flow.ts";
import { endOfSheet } from "./work-order-end.ts";
import { fetchList, loadTables, weighList } from "./work-order-lists.ts";
import { codeDrawings, masthead } from "./work-order-head.ts";

const ELSEWHERE = "The page of the batch has them.";

/** The sheets of a batch as pages, with what they set in. */
export function drawWorkOrder(
  model: SheetsModel,
  paper: PaperId,
): { readonly pages: Canvas[]; readonly drawings: Drawings } {
  const flow = new Flow(paper);
  if (model.together) fetchList(flow, model, model.together);
  for (const [at, sheet] of model.sheets.entries()) {
    if (at > 0 || model.together) flow.newPage();
    drawSheet(flow, sheet, model);
  }
  const pages = flow.done(`Batch ${model.batchNumber}. ${model.defer}`, ELSEWHERE);
  return { pages, drawings: codeDrawings(model) };
}

function drawSheet(flow: Flow, sheet: SheetModel, { batchNumber, page }: SheetsModel): void {
  const { width } = flow;
  if (page.practice) flow.place(framed("Practice.", PRACTICE, width));
  if (sheet.contested) {
    const ask = "Ask the owner before it is made or sent.";
    flow.place(framed(`Payment contested: ${sheet.contested}.`, ask, width));
  }
  if (sheet.edition) {
    const words = `Shares were changed after it was first written: earlier prints of batch ${batchNumber} are void. The number stays.`;
    flow.place(framed(`Sheet ${sheet.edition}.`, words, width));
  }
  flow.place(masthead(sheet, page.locale, width));
  if (sheet.lotNote) flow.place(lotNote(sheet.lotNote, width));
  flow.place(sums(sheet, width));
  weighList(flow, sheet, weighing(sheet, width));
  if (sheet.loadTables.length > 0) loadTables(flow, sheet);
  flow.gap(2 * MM);
  for (const step of sheet.steps) flow.place(stepBlock(step, width));
  endOfSheet(flow, sheet, page.locale);
}

const PRACTICE =
  "These jars were paid at the practice till: no money moved and nobody waits for them.";

function lotNote(note: Exclude<SheetModel["lotNote"], false>, width: number): Block {
  const { mark, sentences, corrected, urgent } = note;
  const words = [
    ...sentences,
    ...(corrected ? ["Shares marked ◆ are other than ordered."] : []),
    ...(urgent ? ["Look at the batch’s page before you weigh."] : []),
  ];
  return caution(`${corrected ? "◆ " : ""}${mark}.`, words.join(" "), width);
}

/** Figures of the batch in one line, or two where they need it. */
function sums(sheet: SheetModel, width: number): Block {
  const facts = [
    ["Weigh in all", `${sheet.bulkG} g`],
    ["Theoretical yield", `${sheet.yieldG} g`],
    ["Loss allowance", helpers.percent(sheet.lossShare)],
    ["Jars", String(sheet.jarCount)],
    ["Scale reads to", `${sheet.scaleStepG} g`],
    ...(sheet.loadCount ? [["Loads", String(sheet.loadCount)]] : []),
  ] as const;
  const each = width / facts.length;
  const cells = facts.map(([what, value], at) => ({
    x: at * each,
    block: stack([
      text(what!, each - 2 * MM, SMALL),
      text(value!, each - 2 * MM, { ...BODY, isBold: true }),
    ]),
  }));
  return stack([space(1.5 * MM), beside(cells), space(1.5 * MM)]);
}

/** Width of a place to write in, and what is left white between two. */
const BLANK = 22 * MM;
const BLANK_GAP = 3 * MM;
const LEAD_GAP = 5 * MM;

type StepModel = SheetModel["steps"][number];

function weighing({ weigh }: SheetModel, width: number): Block {
  if (!weigh) throw new Error("a work order without a weighing");
  return stack([
    rule(width, 0.5, 0.54),
    space(1.6 * MM),
    leadOf({ ...weigh, number: 1 }, width, false),
  ]);
}

function stepBlock(step: StepModel, width: number): Block {
  return stack([
    rule(width, 0.5, 0.54),
    space(1.2 * MM),
    leadOf(step, width, true),
    space(1.3 * MM),
  ]);
}

/** Heading, sentences and places to write in, with the cautions that belong here right under them. */
function leadOf(step: StepModel, width: number, hasTick: boolean): Block {
  const places = step.blanks.length;
  const aside = places === 0 ? 0 : places * BLANK + (places - 1) * BLANK_GAP + LEAD_GAP;
  const wide = width - aside;
  const indent = hasTick ? 6 * MM : 0;
  const number = 7 * MM;
  const title = text(titleOf(step), wide - indent - number, HEADING);
  const heading = beside([
    ...(hasTick ? [{ x: 0, block: tick(HEADING) }] : []),
    { x: indent, block: text(String(step.number), number, HEADING) },
    { x: indent + number, block: title },
  ]);
  const words = stack([heading, text(step.sentences.join(" "), wide, BODY)]);
  const lead = beside([
    { x: 0, block: words },
    ...(places > 0 ? [{ x: wide + LEAD_GAP, block: blanks(step.blanks, BLANK, BLANK_GAP) }] : []),
  ]);
  return stack([
    lead,
    ...step.cautions.map(({ sentence }) => caution("Take care.", sentence, width)),
  ]);
}

function titleOf({ title, celsius, minutes }: StepModel): string {
  if (!celsius) return title;
  const time = minutes ? `, ${helpers.minutesRange(minutes)}` : "";
  return `${title}: ${helpers.celsiusRange(celsius)}${time}`;
}
