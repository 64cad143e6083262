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

const ELSEWHERE = "The page of the record has them.";
const TITLE: TextType = { size: 16, line: 1.2, isBold: true };
const NAME = 30 * MM;
const SAYS =
  "The record says what was written down here and when. Local law, the suppliers’ papers and the maker’s own safety " +
  "assessment rule.";

/** The pages of a record. */
export function drawRecord(model: RecordModel, paper: PaperId): Canvas[] {
  const flow = new Flow(paper);
  head(flow, model);
  for (const run of model.runs) drawRun(flow, run, model.several);
  section(flow, "Start and steps", [
    ...either(flow, model.started, "The start was not written down."),
    ...either(
      flow,
      model.steps,
      "No step was written down one by one; the plan stands on the work order.",
    ),
  ]);
  section(flow, "Net contents", contents(flow, model));
  if (model.prints.length > 0) section(flow, "Labels", entriesOf(flow, model.prints));
  section(flow, "Deviations", deviations(flow, model));
  section(flow, "Retained sample", either(flow, model.samples, "None was written down."));
  if (model.notes.length > 0) section(flow, "Notes", entriesOf(flow, model.notes));
  if (model.remarks.length > 0) {
    const remarks = model.remarks.flatMap(({ when, by, words }) => [
      text(`${when}, ${by}`, flow.width, SMALL),
      text(words, flow.width, BODY),
    ]);
    section(flow, "Notes to the closing", remarks);
  }
  if (model.earlier.length > 0) {
    const earlier = model.earlier.flatMap(({ place, when, by, words, because }) => [
      text(`${place}. ${when}, ${by}`, flow.width, SMALL),
      deletedText(words, flow.width),
      deletedText(because, flow.width),
    ]);
    section(flow, "Earlier decisions", earlier);
  }
  const log = model.log.map(({ place, what, when, by }) =>
    beside([
      { x: 0, block: text(`${place}.`, 9 * MM, { ...BODY, isRight: true }) },
      { x: 11 * MM, block: text(`${what}, ${when}, ${by}`, flow.width - 11 * MM, BODY) },
    ]),
  );
  section(flow, "Every entry", log);
  flow.gap(2 * MM);
  flow.place(text(SAYS, flow.width, SMALL));
  return flow.done(
    `${model.running}. An aid: local codes and your safety assessment come first.`,
    ELSEWHERE,
  );
}

function head(flow: Flow, model: RecordModel): void {
  const { width } = flow;
  flow.place(text(model.title, width, TITLE));
  flow.place(stack([space(MM), rule(width, 1.6), space(1.6 * MM)]));
  if (model.broken.length > 0) {
    const lead = "This record does not fit.";
    const words = `It has ${model.count}. Nothing here can mend it: keep an export of it as it is now, compare it with an earlier export or print, and do not release the batch on it.`;
    flow.place(caution(lead, words, width));
    for (const fault of model.broken) flow.place(listed(fault, width));
  } else {
    flow.place(text(`${model.chain}.`, width, { ...BODY, isBold: true }));
    flow.place(text("Every entry fits the one before it.", width, BODY));
    flow.place(text(`Hash of the last: ${model.head}`, width, SMALL));
  }
  flow.gap(1.6 * MM);
  if (model.decision) {
    const { words, when, by, because } = model.decision;
    flow.place(text(`${words}, ${when}, by ${by}`, width, HEADING));
    flow.place(text(because, width, BODY));
  } else flow.place(text(`${model.undecided}.`, width, HEADING));
  if (model.since) flow.place(caution("Take care.", model.since, width));
  const facts = model.identity.map(({ what, value }) =>
    beside([
      { x: 0, block: text(what, NAME, SMALL) },
      { x: NAME, block: text(value, width - NAME, BODY) },
    ]),
  );
  section(flow, "Identity", facts);
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

function entriesOf({ width }: Flow, entries: Entries): Block[] {
  return entries.flatMap((entry) => entryBlocks(entry, width));
}

function either(flow: Flow, entries: Entries, none: string): Block[] {
  return entries.length > 0 ? entriesOf(flow, entries) : [text(none, flow.width, BODY)];
}

function contents(flow: Flow, { netContents }: RecordModel): Block[] {
  const { width } = flow;
  if (netContents.length === 0) return [text("No jar was weighed.", width, BODY)];
  return netContents.flatMap((each) =>
    entryBlocks(
      {
        ...each,
        paragraphs: [
          `${each.title}: ${each.verdict}, by ${each.rule}. Weighed ${each.weighed}, tare ${each.tare}.`,
          ...each.sentences,
          `Contents in grams: ${each.contents}`,
        ],
      },
      width,
      true,
    ),
  );
}

function deviations(flow: Flow, model: RecordModel): Block[] {
  const { width } = flow;
  const none = model.whys.length > 0 ? " beside what stands with the weights" : "";
  return [
    ...model.whys.map(({ name, why }) => listed(`${name}: ${why}`, width)),
    ...(model.shortOrders
      ? [text(`Came out short and waits to be made again: ${model.shortOrders}.`, width, BODY)]
      : []),
    ...(model.closingNote ? [text(model.closingNote, width, BODY)] : []),
    ...either(flow, model.deviations, `None was written down${none}.`),
  ];
}
