/**
 * One entry of a batch record in words. What a person wrote stays as it was written; what was told by the service is
 * said in the language of the bench.
 */
import type { Decision } from "#core/make/batch-record.ts";
import { sayAdvice } from "../batches/net-content-words.ts";
import { sayCheck, sayTitle } from "../batches/record-recorded.ts";
import type { BodyOf, ReadEntry } from "../batches/record-shapes.ts";
import type { Tongue } from "../documents/tongue.ts";

const NO_BREAK = "\u00a0";

/** How masses are written on this paper. */
export type Grams = (mg: number) => string;

/** A decision in a word or two. */
export function decisionWords({ say }: Pick<Tongue, "say">, decision: Decision): string {
  return say(`record.decision-${decision}`);
}

/** A line for the list of all entries. */
export function summaryOf(entry: ReadEntry, { say, locale, number }: Tongue): string {
  const { kind } = entry;
  const of = kind === "correction" ? { of: entry.body.of } : {};
  const what = say(`record.kind-${kind}`, of);
  const fact = (value: string) => say("layout.fact", { term: what, value });
  if (kind === "release") return fact(decisionWords({ say }, entry.body.decision));
  if (kind === "step") return fact(sayTitle(entry.body.title, locale));
  if (kind === "net-content") {
    return fact(`${entry.body.jarName} ${number(entry.body.labelMg / 1000)}${NO_BREAK}g`);
  }
  return what;
}

/** What an entry says, in paragraphs. */
export function wordsOf(entry: ReadEntry, tongue: Tongue, grams: Grams): string[] {
  const words = paragraphsOf(entry, tongue, grams);
  return words.filter((each) => each !== "");
}

function paragraphsOf(entry: ReadEntry, tongue: Tongue, grams: Grams): string[] {
  const { say, locale, number } = tongue;
  const joined = (parts: readonly string[]) => parts.join(say("sheet.semicolon"));
  const checksOf = (message: string, recorded: readonly string[]) => {
    if (recorded.length === 0) return "";
    return say(message, { checks: joined(recorded.map((each) => sayCheck(each, locale))) });
  };
  switch (entry.kind) {
    case "started": {
      const { checks, missing, words } = entry.body;
      return [checksOf("record.lookedAt", checks), checksOf("record.notLookedAt", missing), words];
    }
    case "step": {
      const { celsius, words } = entry.body;
      const title = sayTitle(entry.body.title, locale);
      const value = celsius === null ? "" : `${number(celsius)}${NO_BREAK}°C`;
      return [value === "" ? title : say("layout.fact", { term: title, value }), words];
    }
    case "deviation": {
      const { words, done } = entry.body;
      return [words, done === "" ? "" : say("record.done", { done })];
    }
    case "labels-printed": {
      const { what, labels } = entry.body;
      const counts = labels.map(({ count, jarName, fillG, run }) =>
        say("record.printed", { count, jar: jarName, fill: number(fillG), run: run + 1 }),
      );
      return [say("layout.fact", { term: what, value: `${joined(counts)}.` })];
    }
    case "label-override": {
      const { what, missing, because } = entry.body;
      return [
        say("record.without", { what, missing: joined(missing) }),
        say("record.because", { because }),
      ];
    }
    case "lot-correction": {
      const { what, because, run } = entry.body;
      const did = what === "corrected" ? "record.sharesCorrected" : "record.takenBack";
      return [say(did, { run: run + 1 }), because];
    }
    case "retained-sample": {
      const { massMg, place, keepUntil, words } = entry.body;
      return [say("record.sampleWords", { mass: grams(massMg), place, until: keepUntil }), words];
    }
    case "note":
    case "closing-amended":
      return [entry.body.words];
    default:
      return [];
  }
}

/** A check of filled jars, as it was found. */
export function netContentWords(body: BodyOf<"net-content">, tongue: Tongue) {
  const { say, number } = tongue;
  const { run, jarName, labelMg, jars, rule, tareMg, contentsMg, verdict } = body;
  const grams = (mg: number) => number(mg / 1000);
  const kind = say("record.kindOfJar", { jar: jarName, label: grams(labelMg), run: run + 1 });
  return {
    title: say("layout.fact", { term: kind, value: say(`record.verdict-${verdict}`) }),
    isShort: verdict !== "holds",
    measured: say("record.measured", {
      ...{ rule: say(`record.rule-${rule}`), weighed: contentsMg.length, jars },
      tare: grams(tareMg),
    }),
    contents: say("record.contentsG", { contents: contentsMg.map(grams).join(" · ") }),
    sentences: body.found ? body.found.map((each) => sayAdvice(each, tongue)) : [...body.sentences],
  };
}
