/**
 * What can go wrong between the page and the shop's service, and what a person is told about it.
 */
import { sayFinding } from "#core/finding.ts";
import type { Problem } from "#core/wire.ts";
import type { Speech } from "#core/words/words.ts";
import type { FirstWords, Say, Words } from "./words.ts";

/** Whoever tells of it: before the words of a language are there, the first words have to do. */
export type Teller = FirstWords & {
  readonly words: Partial<Pick<Words, "problem">>;
} & Partial<Speech<"findings">>;

export interface Trouble {
  /** Stable code: the service's own where it answered, `widget.<...>` where it did not. */
  readonly code: string;
  /**
   * What happened, what is kept, what to do.
   * @param nameOf turns an ingredient id into the name people use
   */
  readonly say: (teller: Teller, nameOf: (subject: string) => string) => string;
  /**
   * Whether the service certainly did nothing, so that asking again with a fresh quote is right.
   */
  readonly certain: boolean;
}

/** What was being tried. */
export type Errand = "load" | "quote" | "order" | "link";

/** The service did not answer, or not usefully. */
export function noAnswer(errand: Errand, why: keyof Words["happened"]): Trouble {
  return {
    code: `widget.exchange.${why}`,
    say: ({ words }) => `${words.happened[why]()} ${words.next[errand]()}`,
    certain: false,
  };
}

/** The page does not say what to load. */
export function notSetUp(attribute: "product" | "service"): Trouble {
  const say = ({ words }: Teller) => words.next.notSetUp({ attribute });
  return { code: `widget.attribute.${attribute}`, say, certain: true };
}

/** A problem the service answered with (RFC 9457), or a bare status when it sent none. */
export function refused(errand: Errand, status: number, problem?: Problem): Trouble {
  if (status >= 500) return noAnswer(errand, "fault");
  if (status === 429) return noAnswer(errand, "busy");
  if (!problem) return noAnswer(errand, "unreadable");
  return {
    code: problem.code,
    say: (teller, nameOf) => {
      const { next } = teller.words;
      const why = sayProblem(problem, teller, nameOf);
      return `${why} ${errand === "load" ? next.lookElsewhere() : next.kept()}`;
    },
    certain: true,
  };
}

/** By finding or code in the reader's language where the teller knows it, else in the service's own words. */
function sayProblem(
  { code, findings = [], detail }: Problem,
  { words, core, number = String }: Teller,
  nameOf: (subject: string) => string,
): string {
  const sentences = findings.map((found) =>
    core && found.code in core.findings
      ? sayFinding(found, nameOf, { core, number })
      : found.sentence,
  );
  const known: Readonly<Record<string, Say>> = words.problem ?? {};
  return sentences.join(" ") || (known[code]?.() ?? detail);
}
