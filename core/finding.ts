/**
 * Findings: what stands against a blend, a choice or a request, as values with stable codes.
 *
 * A code is chapter.subject.reason and never changes its meaning. The words live in `words/<language>.json`, those of
 * the bench in `finding-bench.ts`.
 */
import { BENCH_KINDS } from "./finding-bench.ts";
import { ENGLISH, type Speech, fill } from "./words/words.ts";

export type Mender = "customer" | "maker" | "nobody";

/** What a finding does to a verdict: refuse it, leave it undecided, or only tell. */
export type Weight = "refuses" | "cannot-judge" | "tells";

export interface Kind {
  readonly mend: Mender;
  readonly weight: Weight;
  /**
   * One sentence for the maker, where customers never meet the finding. {subject}, {measured}, {limit} and {unit} are
   * filled in.
   */
  readonly words?: string;
}

const PAGE_KINDS = {
  "compose.blend.too-many-parts": { mend: "customer", weight: "refuses" },
  "compose.blend.empty": { mend: "customer", weight: "refuses" },
  "compose.share.not-a-share": { mend: "customer", weight: "refuses" },
  "compose.shares.not-whole": { mend: "customer", weight: "refuses" },
  "compose.share.below-bound": { mend: "customer", weight: "refuses" },
  "compose.share.above-bound": { mend: "customer", weight: "refuses" },
  "compose.oil.not-allowed": { mend: "customer", weight: "refuses" },
  "compose.part.missing": { mend: "customer", weight: "refuses" },
  "compose.part.unexpected": { mend: "customer", weight: "refuses" },
  "compose.base.unknown": { mend: "customer", weight: "refuses" },
  "compose.ingredient.ran-out": { mend: "customer", weight: "refuses" },
  "compose.ingredient.unknown": { mend: "nobody", weight: "refuses" },
  "judge.composition.component-unknown": { mend: "maker", weight: "cannot-judge" },
  "judge.composition.not-whole": { mend: "maker", weight: "cannot-judge" },
  "judge.composition.not-a-number": { mend: "maker", weight: "cannot-judge" },
  "judge.temperature.out-of-range": { mend: "nobody", weight: "cannot-judge" },
  "judge.air.out-of-range": { mend: "nobody", weight: "cannot-judge" },
  "judge.solid-fat.figure-missing": { mend: "maker", weight: "cannot-judge" },
  "judge.solid-fat.no-fat": { mend: "customer", weight: "cannot-judge" },
  "judge.firmness.too-soft": { mend: "customer", weight: "refuses" },
  "judge.firmness.too-hard": { mend: "customer", weight: "refuses" },
  "judge.softens-above.too-low": { mend: "customer", weight: "refuses" },
  "judge.oil-phase.untold": { mend: "nobody", weight: "cannot-judge" },
  "judge.pore-rating.above-limit": { mend: "customer", weight: "refuses" },
  "judge.pore-rating.unrated": { mend: "maker", weight: "cannot-judge" },
  "judge.pore-rating.unrated-told": { mend: "nobody", weight: "tells" },
  "judge.dermal.ingredient-above-most": { mend: "customer", weight: "refuses" },
  "judge.dermal.substance-above-most": { mend: "customer", weight: "refuses" },
  "judge.dermal.sun-above-most": { mend: "customer", weight: "refuses" },
  "judge.dermal.most-missing": { mend: "maker", weight: "cannot-judge" },
  "judge.fragrance.composition-missing": { mend: "maker", weight: "cannot-judge" },
  "price.cost.unknown": { mend: "maker", weight: "cannot-judge" },
  "price.blend.above-most": { mend: "customer", weight: "refuses" },
} as const satisfies Record<string, Kind>;

const KINDS = { ...PAGE_KINDS, ...BENCH_KINDS };

export type FindingCode = keyof typeof KINDS;

export interface Finding {
  readonly code: FindingCode;
  /** Ingredient id, place, base or other thing the finding is about. */
  readonly subject: string;
  readonly measured?: number | string;
  readonly limit?: number | string;
  readonly unit?: string;
  readonly mend: Mender;
}

/**
 * State a finding.
 * @param code stable code
 * @param subject what it is about
 * @param figures measured value and limit, in the unit named
 */
export function finding(
  code: FindingCode,
  subject: string,
  figures: Pick<Finding, "measured" | "limit" | "unit"> = {},
): Finding {
  return { code, subject, ...figures, mend: KINDS[code].mend };
}

/** What a finding does to the verdict. */
export function weightOf({ code }: Finding): Weight {
  return KINDS[code].weight;
}

/**
 * One sentence for a person; a figure nobody gave is a question mark, never a guess.
 * @param nameOf turns an ingredient id into the name people use
 * @param speech the reader's language; what only the maker meets is English in every one
 * @throws RangeError for a code without words
 */
export function sayFinding(
  { code, subject, measured = "?", limit = "?", unit = "" }: Finding,
  nameOf: (subject: string) => string = (each) => each,
  speech: Speech<"findings"> = ENGLISH,
): string {
  const kind: Partial<Kind> | undefined = KINDS[code];
  const words = speech.core.findings[code] ?? kind?.words;
  if (words === undefined) throw new RangeError(`no words for ${code}`);
  const say = (figure: string | number) =>
    typeof figure === "number" ? speech.number(figure) : figure;
  const figures = { measured: say(measured), limit: say(limit), unit };
  return fill(words, { subject: nameOf(subject), ...figures });
}

/** Every stable code, for documents and tests. */
export const FINDING_CODES = Object.keys(KINDS) as readonly FindingCode[];
