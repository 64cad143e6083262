/**
 * Entries that a person adds to a batch record, read from a form: what is to be written, or a sentence for everything
 * that stands against it.
 */
import { isDay } from "#core/day.ts";
import { DECISIONS, type RecordKind } from "#core/make/batch-record.ts";
import type { BatchRow } from "../storage/batches.ts";
import { hasDecimals, numberOf } from "../typed/figure.ts";
import { NOTE_LONGEST, lengthFault } from "../typed/length.ts";
import { textOf, textsOf } from "../typed/text.ts";
import { readAmount } from "./amounts.ts";
import { START_CHECKS } from "./record-recorded.ts";
import type { BodyOf, ReadEntry } from "./record-shapes.ts";

/** Entries with a form of their own on the record’s page. */
export const WRITABLE = [
  "started",
  "step",
  "deviation",
  "retained-sample",
  "note",
  "correction",
  "release",
] as const;
export type Writable = (typeof WRITABLE)[number];

/** Entries that a person wrote and that can be corrected. A decision is overtaken, a closing is amended. */
const CORRECTABLE: ReadonlySet<RecordKind> = new Set<RecordKind>([
  ...(["started", "step", "deviation", "retained-sample", "note", "net-content"] as const),
  "correction",
]);

const TITLE_LONGEST = 200;
const MG_MOST = 2_000_000_000;

export interface WritingGround {
  readonly batch: BatchRow;
  readonly entries: readonly ReadEntry[];
  /** Titles of the steps, run by run. */
  readonly steps: readonly (readonly string[])[];
  /** Today at the bench, ISO 8601. */
  readonly today: string;
}

type Read<Kind extends RecordKind> =
  { readonly kind: Kind; readonly body: BodyOf<Kind> } | { readonly faults: readonly string[] };

type Reader<Kind extends Writable> = (form: FormData, ground: WritingGround) => Read<Kind>;

/** Whether a person may write a correction to it. */
export function canBeCorrected({ kind }: Pick<ReadEntry, "kind">): boolean {
  return CORRECTABLE.has(kind);
}

/** Read what somebody wants to write. @throws nothing; whoever may not write it is turned away before */
export function readWriting(kind: Writable, form: FormData, ground: WritingGround): Read<Writable> {
  return READERS[kind](form, ground);
}

const READERS: { readonly [Kind in Writable]: Reader<Kind> } = {
  started: (form, { batch, entries }) => {
    const ticked = new Set(textsOf(form, "check"));
    const [checks, missing] = [true, false].map((has) =>
      START_CHECKS.filter((check) => ticked.has(check) === has),
    );
    const words = textOf(form, "words");
    const faults = wordsFaults(words, "what else is to be known");
    if (batch.state !== "open") faults.push(`Batch ${batch.number} is not on the bench.`);
    if (entries.some((entry) => entry.kind === "started")) {
      faults.push("The start is written down already. Add a note if there is more to say.");
    }
    if (missing!.length > 0 && words === "") {
      faults.push("Tick what was looked at, or write why it was begun without.");
    }
    return faults.length > 0
      ? { faults }
      : { kind: "started", body: { checks: [...checks!], missing: [...missing!], words } };
  },

  step: (form, { batch, steps }) => {
    const [, run = "0", title = ""] = /^(\d{1,3}):(.*)$/.exec(textOf(form, "step")) ?? [];
    const typed = textOf(form, "celsius");
    const celsius = typed === "" ? null : numberOf(typed);
    const words = textOf(form, "words");
    const faults = wordsFaults(words, "what was seen");
    if (!steps[Number(run)]?.includes(title)) faults.push("Choose a step of the work order.");
    if (batch.state === "set-aside") faults.push(`Batch ${batch.number} is set aside.`);
    if (celsius !== null && !(celsius >= -30 && celsius <= 150 && hasDecimals(celsius, 1))) {
      faults.push("Write the temperature in °C, from -30 to 150, such as 78.5, or leave it empty.");
    }
    return faults.length > 0
      ? { faults }
      : { kind: "step", body: { title, run: Number(run), celsius, words } };
  },

  deviation: (form) => {
    const [words, done] = [textOf(form, "words"), textOf(form, "done")];
    const faults = [
      ...needed(words, "Write down what was otherwise than it should be."),
      ...wordsFaults(done, "what was done about it"),
    ];
    return faults.length > 0 ? { faults } : { kind: "deviation", body: { words, done } };
  },

  "retained-sample": (form, { today }) => {
    const faults: string[] = [];
    const massMg = readAmount(
      textOf(form, "massG"),
      { what: "Retained sample", unit: "g", most: MG_MOST },
      faults,
    );
    const [place, keepUntil] = [textOf(form, "place"), textOf(form, "keepUntil")];
    const words = textOf(form, "words");
    if (massMg === 0) faults.push("A sample weighs more than nothing.");
    if (place === "" || place.length > TITLE_LONGEST) {
      faults.push(`Write where the sample is kept, in at most ${TITLE_LONGEST} characters.`);
    }
    if (!isDay(keepUntil) || keepUntil < today) {
      faults.push("Write until when it is kept: a day from today on.");
    }
    faults.push(...wordsFaults(words, "what else is to be known"));
    return faults.length > 0
      ? { faults }
      : { kind: "retained-sample", body: { massMg, place, keepUntil, words } };
  },

  note: (form) => {
    const words = textOf(form, "words");
    const faults = needed(words, "Write the note.");
    return faults.length > 0 ? { faults } : { kind: "note", body: { words } };
  },

  correction: (form, { entries }) => {
    const of = Number(textOf(form, "of"));
    const [words, because] = [textOf(form, "words"), textOf(form, "because")];
    const corrected = entries.find(({ sequence }) => sequence === of);
    const faults = [
      ...needed(words, "Write what is so instead."),
      ...needed(because, "Write why it is corrected."),
      ...(corrected && canBeCorrected(corrected) ? [] : ["Choose the entry that is corrected."]),
    ];
    return faults.length > 0 ? { faults } : { kind: "correction", body: { of, because, words } };
  },

  release: (form, { batch }) => {
    const decision = DECISIONS.find((each) => each === textOf(form, "decision"));
    const because = textOf(form, "because");
    const faults = [
      ...(batch.state === "made"
        ? []
        : [`Close batch ${batch.number} first: what was not made cannot be released.`]),
      ...(decision ? [] : ["Choose what is decided."]),
      ...needed(because, "Write what the decision rests on."),
    ];
    return faults.length > 0 || !decision
      ? { faults }
      : { kind: "release", body: { decision, because } };
  },
};

function needed(words: string, sentence: string): string[] {
  return words === "" ? [sentence] : wordsFaults(words, "each field");
}

function wordsFaults(words: string, what: string): string[] {
  const long = lengthFault(what, words, NOTE_LONGEST);
  return long ? [long] : [];
}
