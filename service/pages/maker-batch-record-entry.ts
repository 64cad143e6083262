/**
 * One entry of a batch record in words.
 */
import type { Decision, RecordKind } from "#core/make/batch-record.ts";
import type { BodyOf, ReadEntry } from "../batches/record-shapes.ts";

const NO_BREAK = "\u00a0";

export const DECISION_WORDS: Readonly<Record<Decision, string>> = {
  released: "Released",
  held: "Held back",
  rejected: "Rejected",
};

const KIND_WORDS: Readonly<Record<RecordKind, string>> = {
  issued: "Work order issued",
  "taken-over": "Taken over from what was stored",
  "set-aside": "Set aside",
  "taken-up": "Taken up again",
  closed: "Closed, with weights, lots and yield",
  "closing-amended": "Note to the closing",
  started: "Started",
  step: "Step",
  deviation: "Deviation",
  "retained-sample": "Retained sample",
  note: "Note",
  "net-content": "Jars weighed",
  "label-override": "Printed although something is missing",
  "labels-printed": "Labels printed",
  "lot-correction": "Shares corrected for the lots",
  correction: "Correction",
  release: "Decision",
};

/** A line for the list of all entries. */
export function summaryOf(entry: ReadEntry): string {
  const { kind } = entry;
  const words = KIND_WORDS[kind];
  if (kind === "correction") return `${words} of entry ${entry.body.of}`;
  if (kind === "release") return `${words}: ${DECISION_WORDS[entry.body.decision].toLowerCase()}`;
  if (kind === "step") return `${words}: ${entry.body.title}`;
  if (kind === "net-content") {
    return `${words}: ${entry.body.jarName} ${entry.body.labelMg / 1000}${NO_BREAK}g`;
  }
  return words;
}

/** What an entry says, in paragraphs. */
export function wordsOf(entry: ReadEntry, grams: (mg: number) => string): string[] {
  const words = paragraphsOf(entry, grams);
  return words.filter((each) => each !== "");
}

function paragraphsOf(entry: ReadEntry, grams: (mg: number) => string): string[] {
  switch (entry.kind) {
    case "started": {
      const { checks, missing, words } = entry.body;
      return [
        checks.length > 0 ? `Looked at: ${checks.join("; ")}.` : "",
        missing.length > 0 ? `Not looked at: ${missing.join("; ")}.` : "",
        words,
      ];
    }
    case "step": {
      const { title, celsius, words } = entry.body;
      return [celsius === null ? title : `${title}: ${celsius}${NO_BREAK}°C`, words];
    }
    case "deviation": {
      const { words, done } = entry.body;
      return [words, done === "" ? "" : `What was done: ${done}`];
    }
    case "labels-printed": {
      const { what, labels } = entry.body;
      const counts = labels.map(
        ({ count, jarName, fillG, run }) =>
          `${count} × ${jarName} ${fillG}${NO_BREAK}g, run ${run + 1}`,
      );
      return [`${what}: ${counts.join("; ")}.`];
    }
    case "label-override": {
      const { what, missing, because } = entry.body;
      return [`${what}, printed without: ${missing.join("; ")}.`, `Because: ${because}`];
    }
    case "lot-correction": {
      const { what, because, run } = entry.body;
      const did = what === "corrected" ? "Shares corrected for the lots" : "Correction taken back";
      return [`${did}, run ${run + 1}.`, because];
    }
    case "retained-sample": {
      const { massMg, place, keepUntil, words } = entry.body;
      return [`${grams(massMg)}, kept at: ${place}, until ${keepUntil}.`, words];
    }
    case "note":
    case "closing-amended":
      return [entry.body.words];
    default:
      return [];
  }
}

const RULE_WORDS = {
  eu: "76/211/EEC (EU and UK)",
  us: "NIST Handbook 133 (US)",
} as const;

const VERDICT_WORDS = {
  holds: "Holds",
  "falls-short": "Falls short",
  "cannot-judge": "Cannot be judged",
} as const;

/** A check of filled jars, as it was found. */
export function netContentWords(body: BodyOf<"net-content">) {
  const { run, jarName, labelMg, jars, rule, tareMg, contentsMg, verdict, sentences } = body;
  const grams = (mg: number) => `${mg / 1000}`;
  return {
    title: `${jarName} ${labelMg / 1000}${NO_BREAK}g, run ${run + 1}`,
    verdict: VERDICT_WORDS[verdict],
    isShort: verdict !== "holds",
    rule: RULE_WORDS[rule],
    weighed: `${contentsMg.length} of ${jars}`,
    tare: `${grams(tareMg)}${NO_BREAK}g`,
    contents: contentsMg.map(grams).join(" · "),
    sentences,
  };
}
