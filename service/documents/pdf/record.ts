/**
 * The record of a batch as a PDF: what its page says, in the same order, without the forms.
 */
import type { PaperId } from "#core/make/label-sheet.ts";
import type { batchRecordPage } from "../../pages/maker-batch-record.ts";
import {
  BODY,
  type Block,
  HEADING,
  SMALL,
  type TextType,
  beside,
  caution,
  listed,
  rule,
  space,
  stack,
  text,
} from "./blocks.ts";
import { type Canvas, MM } from "./canvas.ts";
import { Flow } from "./flow.ts";
import { deletedText, entryBlocks } from "./record-entries.ts";
import { drawRun } from "./record-runs.ts";

export type RecordModel = ReturnType<typeof batchRecordPage>;

const TITLE: TextType = { size: 16, line: 1.2, isBold: true };
const NAME = 30 * MM;

/** The pages of a record. */
export function drawRecord(model: RecordModel, paper: PaperId): Canvas[] {
  const flow = new Flow(paper);
  const { say } = model;
  head(flow, model);
  for (const run of model.runs) drawRun(flow, run, say);
  section(flow, say("record.steps"), [
    ...either(flow, model, model.started, "record.startNot"),
    ...either(flow, model, model.steps, "record.stepsNot"),
  ]);
  section(flow, say("record.contents"), contents(flow, model));
  if (model.prints.length > 0)
    section(flow, say("record.labels"), entriesOf(flow, model, model.prints));
  section(flow, say("record.deviations"), deviations(flow, model));
  section(flow, say("record.sample"), either(flow, model, model.samples, "record.noneWritten"));
  if (model.notes.length > 0)
    section(flow, say("record.notes"), entriesOf(flow, model, model.notes));
  if (model.remarks.length > 0) {
    const remarks = model.remarks.flatMap(({ when, by, words }) => [
      text(`${when}, ${by}`, flow.width, SMALL),
      text(words, flow.width, BODY),
    ]);
    section(flow, say("record.remarks"), remarks);
  }
  if (model.earlier.length > 0) {
    const earlier = model.earlier.flatMap(({ place, when, by, words, because }) => [
      text(`${place}. ${when}, ${by}`, flow.width, SMALL),
      deletedText(words, flow.width),
      deletedText(because, flow.width),
    ]);
    section(flow, say("record.earlier"), earlier);
  }
  const log = model.log.map(({ place, what, when, by }) =>
    beside([
      { x: 0, block: text(`${place}.`, 9 * MM, { ...BODY, isRight: true }) },
      { x: 11 * MM, block: text(`${what}, ${when}, ${by}`, flow.width - 11 * MM, BODY) },
    ]),
  );
  section(flow, say("record.log"), log);
  flow.gap(2 * MM);
  flow.place(text(say("record.says"), flow.width, SMALL));
  return flow.done(model.running, say("record.elsewhere"), say);
}

function head(flow: Flow, model: RecordModel): void {
  const { width } = flow;
  const { say } = model;
  flow.place(text(model.title, width, TITLE));
  flow.place(stack([space(MM), rule(width, 1.6), space(1.6 * MM)]));
  if (model.broken.length > 0) {
    flow.place(caution(say("record.broken"), model.brokenWords, width));
    for (const fault of model.broken) flow.place(listed(fault, width));
  } else {
    flow.place(text(model.chain, width, { ...BODY, isBold: true }));
    flow.place(text(say("record.fits"), width, BODY));
    flow.place(text(`${say("record.hash")} ${model.head}`, width, SMALL));
  }
  flow.gap(1.6 * MM);
  if (model.decision) {
    const { words, when, by, because } = model.decision;
    flow.place(text(`${words}, ${when}, ${by}`, width, HEADING));
    flow.place(text(because, width, BODY));
  } else flow.place(text(model.undecided, width, HEADING));
  if (model.since) flow.place(caution(say("sheet.care"), model.since, width));
  const facts = model.identity.map(({ what, value }) =>
    beside([
      { x: 0, block: text(what, NAME, SMALL) },
      { x: NAME, block: text(value, width - NAME, BODY) },
    ]),
  );
  section(flow, say("record.identity"), facts);
}

/** A heading with what stands under it; the heading never stands alone at the foot of a page. */
function section(flow: Flow, title: string, blocks: readonly Block[]): void {
  const { width } = flow;
  flow.gap(2.4 * MM);
  const lead = stack([
    rule(width, 1),
    space(1.4 * MM),
    text(title, width, HEADING),
    space(0.6 * MM),
  ]);
  const [first, ...others] = blocks;
  flow.keep(lead, ...(first ? [first] : []));
  for (const block of others) flow.place(block);
}

type Entries = RecordModel["notes"];

function entriesOf({ width }: Flow, { say }: RecordModel, entries: Entries): Block[] {
  return entries.flatMap((entry) => entryBlocks(entry, say, width));
}

/** @param none message for when there are none */
function either(flow: Flow, model: RecordModel, entries: Entries, none: string): Block[] {
  if (entries.length > 0) return entriesOf(flow, model, entries);
  return [text(model.say(none), flow.width, BODY)];
}

function contents(flow: Flow, { netContents, say }: RecordModel): Block[] {
  const { width } = flow;
  if (netContents.length === 0) return [text(say("record.contentsNot"), width, BODY)];
  return netContents.flatMap((each) => {
    const found = `${each.title}. ${each.measured}`;
    const paragraphs = [found, ...each.sentences, each.contents];
    return entryBlocks({ ...each, paragraphs }, say, width, true);
  });
}

function deviations(flow: Flow, model: RecordModel): Block[] {
  const { width } = flow;
  const { whys, shortOrders, closingNote, noDeviation } = model;
  return [
    ...whys.map((why) => listed(why, width)),
    ...[shortOrders, closingNote].filter(Boolean).map((words) => text(words, width, BODY)),
    ...(model.deviations.length > 0
      ? entriesOf(flow, model, model.deviations)
      : [text(noDeviation, width, BODY)]),
  ];
}
