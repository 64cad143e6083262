/**
 * What a check of net contents found, and what to do about each thing that falls short, in sentences for the bench.
 */
import type { NetContentCheck, NetContentJudged, NetContentRule } from "./net-content.ts";
import { tolerableErrorMg } from "./net-content-tables.ts";

/** A scale may be off by this part of the law's error at most (WELMEC guide 6.9, text read). */
const SCALE_PART = 0.2;
const JARS_NAMED_MOST = 12;

/**
 * Say what was found.
 * @param check of `checkNetContent`, with the contents it was given [mg]
 * @param labelMg quantity on the label [mg]
 * @returns at least one sentence; jars are named by their place, from 1
 */
export function adviseOn(
  check: NetContentCheck,
  contentsMg: readonly number[],
  labelMg: number,
): string[] {
  if (check.verdict !== "cannot-judge") {
    return check.verdict === "holds" ? [holdsWords(check)] : shortWords(check, contentsMg, labelMg);
  }
  if (check.because === "too-few") {
    const { weighed, needed } = check;
    return [
      `${jars(needed)} must be weighed, and ${weighed} ${weighed === 1 ? "is" : "are"} written. Weigh the others too.`,
    ];
  }
  if (check.because === "not-a-weight") return ["A weight is below nothing. Look at the tare."];
  return [
    `The rule has no figure for a label of ${grams(labelMg)}, so nothing can be judged by it.`,
  ];
}

/**
 * Whether the scale is fine enough for the check; only the EU and UK rule has a figure for it.
 * @returns a sentence when it is not
 */
export function adviseOnScale(
  rule: NetContentRule,
  labelMg: number,
  scaleStepMg: number,
): string | undefined {
  const error = rule === "eu" ? tolerableErrorMg(labelMg) : undefined;
  if (error === undefined || scaleStepMg <= SCALE_PART * error) return undefined;
  return (
    `The scale shows steps of ${grams(scaleStepMg)}, and inspectors may be off by ` +
    `${grams(Math.floor(SCALE_PART * error))} at most with this label: use a finer one.`
  );
}

function holdsWords({ weighed, meanMg, shortBelowMg, short }: NetContentJudged): string {
  const below = short === 0 ? "none holds" : `${short} ${short === 1 ? "holds" : "hold"}`;
  return (
    `The label is kept: ${jars(weighed)} ${weighed === 1 ? "holds" : "hold"} ${grams(meanMg)} on average, and ` +
    `${below} less than ${grams(shortBelowMg)}.`
  );
}

function shortWords(
  check: NetContentJudged,
  contentsMg: readonly number[],
  labelMg: number,
): string[] {
  const { meanMg, meanLeastMg, shortBelowMg, short, shortMost, notForSale } = check;
  const leastMg = check.neverBelowMg ?? shortBelowMg;
  const sentences: string[] = [];
  if (meanMg < meanLeastMg - 1e-6) {
    sentences.push(
      `On average they hold ${grams(meanMg)}, and ${grams(meanLeastMg, "up")} is needed. ` +
        averageMend(check, contentsMg.length, labelMg),
    );
  }
  if (notForSale.length > 0) {
    sentences.push(
      `Not for sale with this label, below ${grams(leastMg)}: ${named(notForSale, contentsMg)}. ` +
        "Keep back, fill up to the label, and weigh again.",
    );
  }
  const below = contentsMg.flatMap((mg, at) => (mg < shortBelowMg ? [at] : []));
  // Those that may not be sold at all were named above, with the same to do.
  const others = below.filter((at) => !notForSale.includes(at));
  if (short > shortMost && others.length > 0) {
    const may = shortMost === 0 ? "none may be" : `${shortMost} may be`;
    sentences.push(
      `Too many far below the label, under ${grams(shortBelowMg)}, where ${may}: ` +
        `${named(others, contentsMg)}. Fill them up to the label, and weigh again.`,
    );
  }
  return sentences;
}

function averageMend(
  { meanMg, meanLeastMg }: NetContentJudged,
  weighed: number,
  labelMg: number,
): string {
  // With every jar weighed the mean must be the label itself, and what is missing can be said.
  if (meanLeastMg >= labelMg) {
    const missing = grams((labelMg - meanMg) * weighed, "up");
    return `Fill in ${missing} more in all, into those that hold least, and weigh these again.`;
  }
  return "The whole batch is filled too low: fill up all jars, and weigh as many anew.";
}

function named(places: readonly number[], contentsMg: readonly number[]): string {
  const some = places
    .slice(0, JARS_NAMED_MOST)
    .map((at) => `jar ${at + 1} (${grams(contentsMg[at]!)})`);
  const more = places.length - some.length;
  return more > 0 ? `${some.join(", ")} and ${more} more` : some.join(", ");
}

function jars(count: number): string {
  return `${count} ${count === 1 ? "jar" : "jars"}`;
}

/** To the hundredth of a gram; a least amount is rounded up, so that who keeps to it keeps the rule. */
function grams(mg: number, rounding?: "up"): string {
  const hundredths = rounding ? Math.ceil(mg / 10 - 1e-6) : Math.round(mg / 10);
  return `${Number((hundredths / 100).toFixed(2))}\u00a0g`;
}
