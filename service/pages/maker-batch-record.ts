/**
 * The record of a batch as a page and a print: in reading order, with forms for what a person adds.
 */
import { type BatchRecordRead } from "../batches/record.ts";
import type { Mismatch } from "../batches/record-matches.ts";
import { type RecordSheet, sheetOf } from "../batches/record-sheet.ts";
import type { ReadEntry } from "../batches/record-shapes.ts";
import { faultWords, mismatchWords } from "../batches/record-words.ts";
import type { Writable } from "../batches/record-writing.ts";
import type { BatchRow } from "../storage/batches.ts";
import type { ShopRow } from "../storage/shops.ts";
import { countWords } from "../words/count-words.ts";
import { DECISION_WORDS, netContentWords, summaryOf, wordsOf } from "./maker-batch-record-entry.ts";
import { formModels } from "./maker-batch-record-forms.ts";
import { runModels } from "./maker-batch-record-runs.ts";
import { gramsIn, momentIn } from "./maker-pages.ts";

export interface RecordShown {
  readonly batch: BatchRow;
  readonly record: BatchRecordRead;
  readonly mismatches: readonly Mismatch[];
  readonly isOwner: boolean;
  /** Today at the bench. */
  readonly today: string;
  /** What was typed and cannot be taken as it is. */
  readonly refused?: {
    readonly kind: Writable;
    readonly form: FormData;
    readonly faults: readonly string[];
  };
}

export function batchRecordPage(shop: ShopRow, shown: RecordShown) {
  const { batch, record, refused } = shown;
  const sheet = sheetOf(record.entries);
  const when = momentIn(shop);
  const grams = gramsIn(shop);
  const told = ({ at, by }: Pick<ReadEntry, "at" | "by">) => ({ when: when(at), by });
  const entryModel = (entry: ReadEntry & { readonly corrections?: readonly ReadEntry[] }) => ({
    ...told(entry),
    place: entry.sequence,
    paragraphs: wordsOf(entry, grams),
    corrections: (entry.corrections ?? []).map((each) => ({
      ...told(each),
      place: each.sequence,
      because: each.kind === "correction" ? each.body.because : "",
      words: each.kind === "correction" ? each.body.words : "",
    })),
  });
  const several = sheet.runs.length > 1;
  return {
    title: `Record of batch ${batch.number}`,
    number: batch.number,
    running: `${shop.name}, record of batch ${batch.number}, hash ${record.check.head}`,
    ...chainModel(shown),
    ...decisionModel(batch, sheet, when),
    next: nextOf(batch, sheet, shown.isOwner),
    identity: [{ what: "Maker", value: shop.name }, ...identityOf(batch, sheet, when)],
    several,
    runs: runModels(sheet.runs, grams, shop.locale),
    started: sheet.started.map(entryModel),
    steps: sheet.steps.map(entryModel),
    deviations: [...sheet.deviations, ...sheet.overrides, ...sheet.lotCorrections]
      .sort((a, b) => a.sequence - b.sequence)
      .map(entryModel),
    prints: sheet.prints.map(entryModel),
    whys: sheet.runs.flatMap(({ lines }) =>
      lines.filter(({ why }) => why !== "").map(({ name, why }) => ({ name, why })),
    ),
    closingNote: sheet.closed?.body.note ?? "",
    shortOrders: sheet.closed?.body.shortOrders.join(", ") ?? "",
    samples: sheet.samples.map(entryModel),
    netContents: sheet.netContents.map((entry) => ({
      ...entryModel(entry),
      ...netContentWords(entry.body),
    })),
    notes: sheet.notes.map(entryModel),
    remarks: sheet.remarks.map(({ at, by, words }) => ({ when: when(at), by, words })),
    log: record.entries.map((entry) => ({
      ...told(entry),
      place: entry.sequence,
      what: summaryOf(entry),
    })),
    forms: formModels(shown, sheet, record.entries),
    faults: refused?.faults ?? [],
    seen: record.check.entries,
  };
}

function chainModel({ record, mismatches }: RecordShown) {
  const { check, unread } = record;
  const broken = [
    ...check.faults.map(faultWords),
    ...unread
      .filter((place) => !check.faults.some(({ sequence }) => sequence === place))
      .map(
        (place) =>
          `Entry ${place} is of a kind that this version cannot read. Nothing of it is shown here.`,
      ),
    ...mismatches.map(mismatchWords),
  ];
  const count = countWords(check.entries, "entry", "entries");
  return { broken, chain: `Unbroken, ${count}`, count, head: check.head };
}

function decisionModel(batch: BatchRow, sheet: RecordSheet, when: (seconds: number) => string) {
  const { decision, earlierDecisions, sinceDecision } = sheet;
  const model = ({ at, by, sequence, body }: NonNullable<typeof decision>) => ({
    place: sequence,
    words: DECISION_WORDS[body.decision],
    because: body.because,
    ...{ when: when(at), by },
  });
  return {
    decision: decision ? model(decision) : (false as const),
    earlier: earlierDecisions.map(model),
    since:
      sinceDecision.length === 0
        ? ""
        : `Written since the decision: ${sinceDecision.length === 1 ? "entry" : "entries"} ${sinceDecision.join(", ")}. Look whether it still stands, and decide again if not.`,
    undecided: batch.state === "made" ? "Not decided yet" : "Not closed yet",
  };
}

/** The next thing to do, with where to do it. */
function nextOf(batch: BatchRow, sheet: RecordSheet, isOwner: boolean) {
  const contents = {
    href: `/maker/batches/${batch.number}/contents`,
    words: "Weigh the filled jars",
  };
  if (batch.state === "open") {
    if (sheet.started.length === 0 && !sheet.takenOver) {
      return { href: "#write-started", words: "Write down the start" };
    }
    return { href: `/maker/batches/${batch.number}/close`, words: "Close the batch" };
  }
  if (batch.state !== "made" || sheet.decision) return false as const;
  if (sheet.netContents.length === 0 && !sheet.takenOver) return contents;
  return isOwner ? { href: "#write-release", words: "Decide on its release" } : (false as const);
}

function identityOf(batch: BatchRow, sheet: RecordSheet, when: (seconds: number) => string) {
  const { issued, closed, takenOver } = sheet;
  const jars = sheet.runs.reduce((sum, { jarsDue }) => sum + jarsDue, 0);
  return [
    { what: "Batch", value: batch.number },
    { what: "Made for", value: batch.kind === "trial" ? "a trial" : "orders" },
    { what: "Holds", value: `${countWords(sheet.runs.length, "run")}, ${countWords(jars, "jar")}` },
    ...(issued ? [{ what: "Issued", value: `${when(issued.at)}, ${issued.by}` }] : []),
    ...(sheet.started[0]
      ? [{ what: "Started", value: `${when(sheet.started[0].at)}, ${sheet.started[0].by}` }]
      : []),
    ...(closed
      ? [
          {
            what: "Closed",
            // Of an older batch only the time is stored; by whom it was is not known to the record.
            value: takenOver?.body.closed ? when(closed.at) : `${when(closed.at)}, ${closed.by}`,
          },
        ]
      : []),
    ...(takenOver
      ? [
          {
            what: "Taken over",
            value: `${when(takenOver.at)}, from what was stored: this batch is older than its record`,
          },
        ]
      : []),
  ];
}
