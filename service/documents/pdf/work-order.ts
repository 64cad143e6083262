/**
 * The work order as a PDF: what the printed page says, from the same model, set by ourselves.
 */
import type { PaperId } from "#core/make/label-sheet.ts";
import type { SheetModel, SheetsModel } from "../batch-sheets.ts";
import type { Tongue } from "../tongue.ts";
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

type Say = Tongue["say"];

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
  const { say, running } = model;
  const pages = flow.done(running, say("sheet.elsewhere"), say);
  return { pages, drawings: codeDrawings(model) };
}

function drawSheet(flow: Flow, sheet: SheetModel, { batchNumber: number, page, say }: SheetsModel) {
  const { width } = flow;
  const { contested, edition } = sheet;
  if (page.practice) {
    flow.place(framed(say("receipt.practiceTitle"), say("sheet.practice"), width));
  }
  if (contested) {
    const lead = say("sheet.contestedTitle", { references: contested });
    flow.place(framed(lead, say("sheet.contested"), width));
  }
  if (edition) {
    const lead = say("sheet.editionTitle", { edition });
    flow.place(framed(lead, say("sheet.edition", { number }), width));
  }
  flow.place(masthead(sheet, say, width));
  if (sheet.lotNote) flow.place(lotNote(sheet.lotNote, say, width));
  flow.place(sums(sheet, say, width));
  weighList(flow, sheet, say, weighing(sheet, say, width));
  if (sheet.loadTables.length > 0) loadTables(flow, sheet, say);
  flow.gap(2 * MM);
  for (const step of sheet.steps) flow.place(stepBlock(step, say, width));
  endOfSheet(flow, sheet, say);
}

function lotNote(note: Exclude<SheetModel["lotNote"], false>, say: Say, width: number): Block {
  const { mark, sentences, corrected, urgent } = note;
  const words = [
    ...sentences,
    ...(corrected ? [say("lots.shares")] : []),
    ...(urgent ? [say("lots.look")] : []),
  ];
  return caution(`${corrected ? "◆ " : ""}${mark}.`, words.join(" "), width);
}

/** Figures of the batch in one line, or two where they need it. */
function sums(sheet: SheetModel, say: Say, width: number): Block {
  const facts = [
    [say("sheet.bulk"), `${sheet.bulkG} g`],
    [say("sheet.yield"), `${sheet.yieldG} g`],
    [say("sheet.loss"), sheet.loss],
    [say("sheet.jars"), String(sheet.jarCount)],
    [say("sheet.scale"), `${sheet.scaleStepG} g`],
    ...(sheet.loadCount ? [[say("sheet.loads"), String(sheet.loadCount)]] : []),
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

function weighing({ weigh }: SheetModel, say: Say, width: number): Block {
  if (!weigh) throw new Error("a work order without a weighing");
  return stack([
    rule(width, 0.5, 0.54),
    space(1.6 * MM),
    leadOf({ ...weigh, number: 1 }, say, width, false),
  ]);
}

function stepBlock(step: StepModel, say: Say, width: number): Block {
  return stack([
    rule(width, 0.5, 0.54),
    space(1.2 * MM),
    leadOf(step, say, width, true),
    space(1.3 * MM),
  ]);
}

/** Heading, sentences and places to write in, with the cautions that belong here right under them. */
function leadOf(step: StepModel, say: Say, width: number, hasTick: boolean): Block {
  const places = step.blanks.length;
  const aside = places === 0 ? 0 : places * BLANK + (places - 1) * BLANK_GAP + LEAD_GAP;
  const wide = width - aside;
  const indent = hasTick ? 6 * MM : 0;
  const number = 7 * MM;
  const title = text(step.title, wide - indent - number, HEADING);
  const heading = beside([
    ...(hasTick ? [{ x: 0, block: tick(HEADING) }] : []),
    { x: indent, block: text(String(step.number), number, HEADING) },
    { x: indent + number, block: title },
  ]);
  const words = stack([heading, text(step.words, wide, BODY)]);
  const lead = beside([
    { x: 0, block: words },
    ...(places > 0 ? [{ x: wide + LEAD_GAP, block: blanks(step.blanks, BLANK, BLANK_GAP) }] : []),
  ]);
  return stack([lead, ...step.cautions.map((words) => caution(say("sheet.care"), words, width))]);
}
