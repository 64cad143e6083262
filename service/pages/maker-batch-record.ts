/**
 * The record of a batch as a page and a print: in reading order, with forms for what a person adds.
 */
import { nameIn } from "#data/names.ts";
import { type BatchRecordRead } from "../batches/record.ts";
import type { Mismatch } from "../batches/record-matches.ts";
import { type RecordSheet, sheetOf } from "../batches/record-sheet.ts";
import type { ReadEntry } from "../batches/record-shapes.ts";
import { faultWords, mismatchWords } from "../batches/record-words.ts";
import type { Writable } from "../batches/record-writing.ts";
import { type Tongue, tongueOf } from "../documents/tongue.ts";
import type { BatchRow } from "../storage/batches.ts";
import type { ShopRow } from "../storage/shops.ts";
import type { BenchLanguage } from "../words/bench-languages.ts";
import { languagesOf, pdfsOf } from "./paper-links.ts";
import { decisionWords, netContentWords, summaryOf, wordsOf } from "./maker-batch-record-entry.ts";
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
  /** Language that was asked for in the address of the page. */
  readonly asked?: BenchLanguage | undefined;
  /** What was typed and cannot be taken as it is. */
  readonly refused?: {
    readonly kind: Writable;
    readonly form: FormData;
    readonly faults: readonly string[];
  };
}

/** @param shop as its bench reads it */
export function batchRecordPage(shop: ShopRow, shown: RecordShown) {
  const { batch, record, refused } = shown;
  const sheet = sheetOf(record.entries);
  const tongue = tongueOf(shop.locale);
  const { say, locale } = tongue;
  const when = momentIn(shop);
  const exact = gramsIn(shop);
  const grams = (mg: number) => tongue.digits(exact(mg));
  const told = ({ at, by }: Pick<ReadEntry, "at" | "by">) => ({ when: when(at), by });
  const entryModel = (entry: ReadEntry & { readonly corrections?: readonly ReadEntry[] }) => ({
    ...told(entry),
    place: entry.sequence,
    paragraphs: wordsOf(entry, tongue, grams),
    corrections: (entry.corrections ?? []).map((each) => ({
      ...told(each),
      place: each.sequence,
      because: each.kind === "correction" ? each.body.because : "",
      words: each.kind === "correction" ? each.body.words : "",
    })),
  });
  const several = sheet.runs.length > 1;
  const { number } = batch;
  const beside = sheet.runs.some(({ lines }) => lines.some(({ why }) => why !== ""));
  return {
    ...{ number, locale, say },
    title: say("record.title", { number }),
    running: say("record.running", { shop: shop.name, number, hash: record.check.head }),
    languages: languagesOf(`/maker/batches/${number}/record`, locale),
    pdfs: pdfsOf(`/maker/batches/${number}/record`, shown.asked),
    ...chainModel(shown, tongue),
    ...decisionModel(batch, sheet, when, tongue),
    next: nextOf(batch, sheet, shown.isOwner),
    identity: [
      { what: say("record.maker"), value: shop.name },
      ...identityOf(batch, sheet, when, tongue),
    ],
    several,
    runs: runModels(sheet.runs, grams, tongue, several),
    started: sheet.started.map(entryModel),
    steps: sheet.steps.map(entryModel),
    deviations: [...sheet.deviations, ...sheet.overrides, ...sheet.lotCorrections]
      .sort((a, b) => a.sequence - b.sequence)
      .map(entryModel),
    prints: sheet.prints.map(entryModel),
    whys: sheet.runs.flatMap(({ lines }) =>
      lines
        .filter(({ why }) => why !== "")
        .map((line) => say("layout.fact", { term: nameIn(locale, line), value: line.why })),
    ),
    closingNote: sheet.closed?.body.note ?? "",
    shortOrders: shortWords(sheet, tongue),
    noDeviation: say(beside ? "record.noneBeside" : "record.noneWritten"),
    samples: sheet.samples.map(entryModel),
    netContents: sheet.netContents.map((entry) => ({
      ...entryModel(entry),
      ...netContentWords(entry.body, tongue),
    })),
    notes: sheet.notes.map(entryModel),
    remarks: sheet.remarks.map(({ at, by, words }) => ({ when: when(at), by, words })),
    log: record.entries.map((entry) => ({
      ...told(entry),
      place: entry.sequence,
      what: summaryOf(entry, tongue),
    })),
    forms: formModels(shown, sheet, record.entries),
    faults: refused?.faults ?? [],
    seen: record.check.entries,
  };
}

/** Orders that came out short; empty where none did. */
function shortWords({ closed }: RecordSheet, { say }: Tongue): string {
  const references = closed?.body.shortOrders.join(", ") ?? "";
  return references === "" ? "" : say("record.short", { references });
}

function chainModel({ record, mismatches }: RecordShown, { say, locale }: Tongue) {
  const { check, unread } = record;
  const broken = [
    ...check.faults.map((fault) => faultWords(fault, locale)),
    ...unread
      .filter((place) => !check.faults.some(({ sequence }) => sequence === place))
      .map((place) => say("record.fault-unread", { place })),
    ...mismatches.map((mismatch) => mismatchWords(mismatch, locale)),
  ];
  const count = check.entries;
  return {
    broken,
    brokenWords: say("record.brokenWords", { count }),
    chain: say("record.unbroken", { count }),
    head: check.head,
  };
}

function decisionModel(
  batch: BatchRow,
  sheet: RecordSheet,
  when: (seconds: number) => string,
  { say }: Tongue,
) {
  const { decision, earlierDecisions, sinceDecision } = sheet;
  const model = ({ at, by, sequence, body }: NonNullable<typeof decision>) => ({
    place: sequence,
    words: decisionWords({ say }, body.decision),
    because: body.because,
    ...{ when: when(at), by },
  });
  return {
    decision: decision ? model(decision) : (false as const),
    earlier: earlierDecisions.map(model),
    since:
      sinceDecision.length === 0 ? "" : say("record.since", { places: sinceDecision.join(", ") }),
    undecided: say(batch.state === "made" ? "record.undecided" : "record.open"),
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

function identityOf(
  batch: BatchRow,
  sheet: RecordSheet,
  when: (seconds: number) => string,
  { say, list }: Tongue,
) {
  const { issued, closed, takenOver } = sheet;
  const fact = (key: string, value: string) => ({ what: say(`record.${key}`), value });
  const told = ({ at, by }: { readonly at: number; readonly by: string }) => `${when(at)}, ${by}`;
  const runs = say("record.runs", { count: sheet.runs.length });
  const due = sheet.runs.reduce((sum, { jarsDue }) => sum + jarsDue, 0);
  const [started] = sheet.started;
  return [
    fact("batch", batch.number),
    fact("madeFor", say(batch.kind === "trial" ? "record.trial" : "record.orders")),
    fact("holds", list([runs, say("record.jars", { count: due })])),
    ...(issued ? [fact("issued", told(issued))] : []),
    ...(started ? [fact("started", told(started))] : []),
    ...(closed
      ? [
          // Of an older batch only the time is stored; by whom it was is not known to the record.
          fact("closed", takenOver?.body.closed ? when(closed.at) : told(closed)),
        ]
      : []),
    ...(takenOver
      ? [fact("takenOver", say("record.takenOverWords", { when: when(takenOver.at) }))]
      : []),
  ];
}
