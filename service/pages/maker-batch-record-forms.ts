/**
 * The forms of a batch record: what can be written now, and what was typed when it could not be taken.
 */
import { DECISIONS } from "#core/make/batch-record.ts";
import type { RecordSheet } from "../batches/record-sheet.ts";
import type { ReadEntry } from "../batches/record-shapes.ts";
import { START_CHECKS } from "../batches/record-recorded.ts";
import { type Writable, canBeCorrected } from "../batches/record-writing.ts";
import { daysAfter } from "../days.ts";
import { textOf, textsOf } from "../typed/text.ts";
import { tongueOf } from "../documents/tongue.ts";
import { decisionWords, summaryOf } from "./maker-batch-record-entry.ts";
import type { RecordShown } from "./maker-batch-record.ts";

/** A retained sample is kept for the life of the jar and a year: custom, from memory; a jar's life here is a year. */
const SAMPLE_KEPT_DAYS = 730;

export function formModels(
  { batch, isOwner, today, refused }: RecordShown,
  sheet: RecordSheet,
  entries: readonly ReadEntry[],
) {
  const typed = (kind: Writable) => {
    const form = refused?.kind === kind ? refused.form : undefined;
    return {
      open: form !== undefined,
      text: (name: string, first = "") => (form ? textOf(form, name) : first),
      all: (name: string) => (form ? textsOf(form, name) : []),
    };
  };
  const aside = batch.state === "set-aside";
  return {
    started:
      batch.state === "open" && sheet.started.length === 0 ? startForm(typed("started")) : NONE,
    step: aside ? NONE : stepForm(typed("step"), sheet),
    deviation: plainForm(typed("deviation"), ["words", "done"]),
    sample: sampleForm(typed("retained-sample"), today),
    note: plainForm(typed("note"), ["words"]),
    correction: correctionForm(typed("correction"), entries),
    release: batch.state === "made" && isOwner ? releaseForm(typed("release")) : NONE,
  };
}

const NONE = false as const;
/** The forms are of the screen, as the other pages of the maker, which speak English. */
const english = () => tongueOf("en");

interface Typed {
  readonly open: boolean;
  readonly text: (name: string, first?: string) => string;
  readonly all: (name: string) => readonly string[];
}

function startForm({ open, text, all }: Typed) {
  const ticked = new Set(all("check"));
  return {
    open,
    checks: START_CHECKS.map((check) => ({ check, ticked: ticked.has(check) })),
    words: text("words"),
  };
}

function stepForm({ open, text }: Typed, { runs }: RecordSheet) {
  const chosen = text("step");
  return {
    open,
    options: runs.flatMap(({ steps }, run) =>
      steps.map(({ title }) => {
        const value = `${run}:${title}`;
        const words = runs.length > 1 ? `Run ${run + 1}: ${title}` : title;
        return { value, words, chosen: value === chosen };
      }),
    ),
    celsius: text("celsius"),
    words: text("words"),
  };
}

function plainForm<Name extends string>({ open, text }: Typed, names: readonly Name[]) {
  const fields = Object.fromEntries(names.map((name) => [name, text(name)]));
  return { open, ...(fields as Record<Name, string>) };
}

function sampleForm({ open, text }: Typed, today: string) {
  return {
    open,
    massG: text("massG"),
    place: text("place"),
    keepUntil: text("keepUntil", daysAfter(today, SAMPLE_KEPT_DAYS)),
    words: text("words"),
  };
}

function correctionForm({ open, text }: Typed, entries: readonly ReadEntry[]) {
  const chosen = text("of");
  const options = entries.filter(canBeCorrected).map((entry) => ({
    value: String(entry.sequence),
    words: `${entry.sequence}: ${summaryOf(entry, english())}, ${entry.by}`,
    chosen: String(entry.sequence) === chosen,
  }));
  if (options.length === 0) return NONE;
  return { open, options, words: text("words"), because: text("because") };
}

function releaseForm({ open, text }: Typed) {
  const chosen = text("decision");
  return {
    open,
    decisions: DECISIONS.map((decision) => ({
      decision,
      words: decisionWords(english(), decision),
      chosen: decision === chosen,
    })),
    because: text("because"),
  };
}
