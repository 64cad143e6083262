/**
 * Findings: what stands against a blend, a choice or a request, as values with stable codes.
 *
 * A code is chapter.subject.reason and never changes its meaning. The words live only here and in `finding-bench.ts`.
 */
import { BENCH_KINDS } from "./finding-bench.ts";

export type Mender = "customer" | "maker" | "nobody";

/** What a finding does to a verdict: refuse it, leave it undecided, or only tell. */
export type Weight = "refuses" | "cannot-judge" | "tells";

export interface Kind {
  readonly mend: Mender;
  readonly weight: Weight;
  /** One sentence for a person. {subject}, {measured}, {limit} and {unit} are filled in. */
  readonly words: string;
}

const PAGE_KINDS = {
  "compose.blend.too-many-parts": {
    mend: "customer",
    weight: "refuses",
    words: "A blend can hold at most {limit} ingredients; this one has {measured}.",
  },
  "compose.blend.empty": {
    mend: "customer",
    weight: "refuses",
    words: "The blend has no ingredients yet.",
  },
  "compose.share.not-a-share": {
    mend: "customer",
    weight: "refuses",
    words: "The share of {subject} must lie between 0 and 100 %, in steps of 0.01 %.",
  },
  "compose.shares.not-whole": {
    mend: "customer",
    weight: "refuses",
    words: "The shares add up to {measured} %; they must add up to exactly {limit} %.",
  },
  "compose.share.below-bound": {
    mend: "customer",
    weight: "refuses",
    words: "{subject} is at {measured} %; this product needs at least {limit} %.",
  },
  "compose.share.above-bound": {
    mend: "customer",
    weight: "refuses",
    words: "{subject} is at {measured} %; this product allows at most {limit} %.",
  },
  "compose.oil.not-allowed": {
    mend: "customer",
    weight: "refuses",
    words: "{subject} is not one of the oils offered here.",
  },
  "compose.part.missing": {
    mend: "customer",
    weight: "refuses",
    words: "The choice does not say how much {subject} to use.",
  },
  "compose.part.unexpected": {
    mend: "customer",
    weight: "refuses",
    words: "{subject} does not belong to this base.",
  },
  "compose.base.unknown": {
    mend: "customer",
    weight: "refuses",
    words: "There is no base called {subject} in this product.",
  },
  "compose.ingredient.unknown": {
    mend: "nobody",
    weight: "refuses",
    words: "The ingredient {subject} is not known here.",
  },
  "judge.composition.component-unknown": {
    mend: "maker",
    weight: "cannot-judge",
    words: "{measured}, in the composition of {subject}, is not a fatty acid or fat known here.",
  },
  "judge.composition.not-whole": {
    mend: "maker",
    weight: "cannot-judge",
    words:
      "The composition of {subject} adds up to {measured} %; it must lie between 98 and 102 %.",
  },
  "judge.composition.not-a-number": {
    mend: "maker",
    weight: "cannot-judge",
    words: "The composition of {subject} holds a negative figure or none.",
  },
  "judge.temperature.out-of-range": {
    mend: "nobody",
    weight: "cannot-judge",
    words: "Temperatures from -10 to 60 °C can be judged; {measured} °C was asked for.",
  },
  "judge.air.out-of-range": {
    mend: "nobody",
    weight: "cannot-judge",
    words: "The air fraction must lie between 0 and {limit}; {measured} was given.",
  },
  "judge.solid-fat.figure-missing": {
    mend: "maker",
    weight: "cannot-judge",
    words:
      "The composition of {subject} is not known well enough to judge how firm this blend sets.",
  },
  "judge.solid-fat.no-fat": {
    mend: "customer",
    weight: "cannot-judge",
    words: "There is no fat or oil in this blend, so its firmness cannot be judged.",
  },
  "judge.firmness.too-soft": {
    mend: "customer",
    weight: "refuses",
    words: "It may not set: too soft at {limit} °C. More hard butter, or less oil, would help.",
  },
  "judge.firmness.too-hard": {
    mend: "customer",
    weight: "refuses",
    words: "It may set too hard at {limit} °C. Less hard butter, or more oil, would help.",
  },
  "judge.softens-above.too-low": {
    mend: "customer",
    weight: "refuses",
    words: "It may lose its body above {measured} °C; this product must hold to {limit} °C.",
  },
  "judge.oil-phase.untold": {
    mend: "nobody",
    weight: "cannot-judge",
    words: "How thick the oil phase of this blend is cannot be told.",
  },
  "judge.pore-rating.above-limit": {
    mend: "customer",
    weight: "refuses",
    words:
      "{subject} is listed at {measured} on the 0 to 5 pore scale; this product stops at {limit}.",
  },
  "judge.pore-rating.unrated": {
    mend: "maker",
    weight: "cannot-judge",
    words: "{subject} has no published pore rating that counts, and this product asks for one.",
  },
  "judge.pore-rating.unrated-told": {
    mend: "nobody",
    weight: "tells",
    words: "{subject} has no published pore rating that counts.",
  },
  "price.cost.unknown": {
    mend: "maker",
    weight: "cannot-judge",
    words: "The cost of {subject} is not on record, so this blend cannot be priced.",
  },
  "price.blend.above-most": {
    mend: "customer",
    weight: "refuses",
    words: "This blend would be dearer than the maker sells a jar. Try less of a costly oil.",
  },
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
 * One sentence for a person.
 * @param nameOf turns an ingredient id into the name people use
 */
export function sayFinding(
  found: Finding,
  nameOf: (subject: string) => string = (subject) => subject,
): string {
  const { code, subject, measured = "?", limit = "?", unit = "" } = found;
  const figures = { subject: nameOf(subject), measured, limit, unit };
  // One pass, so that a name with braces or dollar signs in it is printed as it is.
  return KINDS[code].words.replace(/\{(subject|measured|limit|unit)\}/g, (_, figure) =>
    String(figures[figure as keyof typeof figures]),
  );
}

/** Every stable code, for documents and tests. */
export const FINDING_CODES = Object.keys(KINDS) as readonly FindingCode[];
