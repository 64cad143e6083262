/**
 * What a check of net contents found, and what to do about each thing that falls short, in codes with their figures:
 * a paper puts them into the words of its language.
 */
import {
  type NetContentCheck,
  type NetContentJudged,
  type NetContentRule,
  SLACK_MG,
} from "./net-content.ts";
import { tolerableErrorMg } from "./net-content-tables.ts";

/** A scale may be off by this part of the law's error at most (WELMEC guide 6.9, text read). */
const SCALE_PART = 0.2;
const JARS_NAMED_MOST = 12;

export const ADVICE_CODES = [
  ...(["holds", "too-few", "not-a-weight", "no-figure", "scale"] as const),
  ...(["average", "fill-more", "fill-all", "not-for-sale", "too-many"] as const),
];
export type AdviceCode = (typeof ADVICE_CODES)[number];

/** One sentence for the bench, before it is put into a language. */
export interface Advice {
  readonly code: AdviceCode;
  /** To the hundredth of a gram; a least amount is rounded up, so that who keeps to it keeps the rule [mg] */
  readonly massesMg: Readonly<Record<string, number>>;
  readonly counts: Readonly<Record<string, number>>;
  /** Jars it is about, by their place from 1, with what they hold [mg] */
  readonly jars: readonly { readonly place: number; readonly mg: number }[];
  /** How many others it is about that are not named. */
  readonly more: number;
}

/**
 * State what was found.
 * @param check of `checkNetContent`, with the contents it was given [mg]
 * @param labelMg quantity on the label [mg]
 * @returns at least one; jars are named by their place, from 1
 */
export function adviseOn(
  check: NetContentCheck,
  contentsMg: readonly number[],
  labelMg: number,
): Advice[] {
  if (check.verdict !== "cannot-judge") {
    return check.verdict === "holds" ? [holds(check)] : short(check, contentsMg, labelMg);
  }
  if (check.because === "too-few") {
    const { weighed, needed } = check;
    return [advice("too-few", {}, { weighed, needed })];
  }
  if (check.because === "not-a-weight") return [advice("not-a-weight")];
  return [advice("no-figure", { label: rounded(labelMg) })];
}

/**
 * Whether the scale is fine enough for the check; only the EU and UK rule has a figure for it.
 * @returns what to do when it is not
 */
export function adviseOnScale(
  rule: NetContentRule,
  labelMg: number,
  scaleStepMg: number,
): Advice | undefined {
  const error = rule === "eu" ? tolerableErrorMg(labelMg) : undefined;
  if (error === undefined || scaleStepMg <= SCALE_PART * error) return undefined;
  const masses = { step: rounded(scaleStepMg), error: rounded(Math.floor(SCALE_PART * error)) };
  return advice("scale", masses);
}

function holds({ weighed, meanMg, shortBelowMg, short: below }: NetContentJudged): Advice {
  const masses = { mean: rounded(meanMg), below: rounded(shortBelowMg) };
  return advice("holds", masses, { weighed, short: below });
}

function short(check: NetContentJudged, contentsMg: readonly number[], labelMg: number): Advice[] {
  const { meanMg, meanLeastMg, shortBelowMg, shortMost, notForSale } = check;
  const found: Advice[] = [];
  if (meanMg < meanLeastMg - SLACK_MG) {
    const masses = { mean: rounded(meanMg), needed: roundedUp(meanLeastMg) };
    found.push(advice("average", masses), mendAverage(check, contentsMg.length, labelMg));
  }
  if (notForSale.length > 0) {
    const below = rounded(check.neverBelowMg ?? shortBelowMg);
    found.push({ ...advice("not-for-sale", { below }), ...named(notForSale, contentsMg) });
  }
  const below = contentsMg.flatMap((mg, at) => (mg < shortBelowMg ? [at] : []));
  // Those that may not be sold at all were named above, with the same to do.
  const others = below.filter((at) => !notForSale.includes(at));
  if (check.short > shortMost && others.length > 0) {
    const tooMany = advice("too-many", { below: rounded(shortBelowMg) }, { most: shortMost });
    found.push({ ...tooMany, ...named(others, contentsMg) });
  }
  return found;
}

function mendAverage(
  { meanMg, meanLeastMg }: NetContentJudged,
  weighed: number,
  labelMg: number,
): Advice {
  // With every jar weighed the mean must be the label itself, and what is missing can be said.
  if (meanLeastMg < labelMg) return advice("fill-all");
  return advice("fill-more", { missing: roundedUp((labelMg - meanMg) * weighed) });
}

function named(
  places: readonly number[],
  contentsMg: readonly number[],
): Pick<Advice, "jars" | "more"> {
  const some = places.slice(0, JARS_NAMED_MOST);
  return {
    jars: some.map((at) => ({ place: at + 1, mg: rounded(contentsMg[at]!) })),
    more: places.length - some.length,
  };
}

function advice(
  code: AdviceCode,
  massesMg: Advice["massesMg"] = {},
  counts: Advice["counts"] = {},
): Advice {
  return { code, massesMg, counts, jars: [], more: 0 };
}

function rounded(mg: number): number {
  return 10 * Math.round(mg / 10);
}

function roundedUp(mg: number): number {
  return 10 * Math.ceil(mg / 10 - 1e-6);
}
