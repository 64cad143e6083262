/**
 * Whether the jars of a batch hold what their label says, by the average rule of the EU and UK or of the US.
 *
 * Both ask two things: the jars hold the labelled quantity on average, and none (or next to none) falls far below. A
 * batch of one jar has no average to hide behind: it must hold what its label says.
 */
import { allowableVariationMg, tolerableErrorMg } from "./net-content-tables.ts";

export type NetContentRule = "eu" | "us";

/** How many jars must be weighed, how sure the average must be, and how many may fall short. */
interface Sampling {
  readonly weigh: number;
  /** Times the sample's standard deviation: Student's t over the root of the sample's size; 0 when all are weighed. */
  readonly factor: number;
  /** Jars further below than the law's error. */
  readonly shortMost: number;
}

/** For the sum of floating weights: a batch filled to the milligram holds. */
export const SLACK_MG = 1e-6;

export type NetContentCheck =
  | { readonly verdict: "cannot-judge"; readonly because: "no-figure" | "not-a-weight" }
  | {
      readonly verdict: "cannot-judge";
      readonly because: "too-few";
      readonly weighed: number;
      readonly needed: number;
    }
  | NetContentJudged;

export interface NetContentJudged {
  readonly verdict: "holds" | "falls-short";
  readonly weighed: number;
  readonly meanMg: number;
  /** The mean must reach this [mg]: the label, less what so small a sample leaves open. */
  readonly meanLeastMg: number;
  /** Below this a jar counts as short: T1 of the Directive, label less the variation in the US [mg] */
  readonly shortBelowMg: number;
  readonly short: number;
  readonly shortMost: number;
  /** EU: below this no jar may be sold at all (T2) [mg] */
  readonly neverBelowMg?: number;
  /** Places of the jars that may not be sold, from 0. */
  readonly notForSale: readonly number[];
}

/**
 * Check the net contents of a batch.
 * @param nominalMg quantity on the label [mg]
 * @param contentsMg what the weighed jars hold, without the jar, each [mg]
 * @param batchJars jars of that label in the batch
 */
export function checkNetContent(
  rule: NetContentRule,
  nominalMg: number,
  contentsMg: readonly number[],
  batchJars: number,
): NetContentCheck {
  const error = rule === "eu" ? tolerableErrorMg(nominalMg) : allowableVariationMg(nominalMg);
  if (error === undefined) return { verdict: "cannot-judge", because: "no-figure" };
  if (contentsMg.some((mg) => !Number.isFinite(mg) || mg < 0)) {
    return { verdict: "cannot-judge", because: "not-a-weight" };
  }
  const weighed = contentsMg.length;
  const sampling = rule === "eu" ? samplingEu(batchJars) : samplingUs(batchJars);
  if (weighed < sampling.weigh) {
    return { verdict: "cannot-judge", because: "too-few", weighed, needed: sampling.weigh };
  }
  const meanMg = contentsMg.reduce((sum, mg) => sum + mg, 0) / weighed;
  const isWhole = weighed >= batchJars;
  const meanLeastMg = nominalMg - (isWhole ? 0 : sampling.factor * deviation(contentsMg, meanMg));
  const shortBelowMg = nominalMg - error;
  const short = contentsMg.filter((mg) => mg < shortBelowMg).length;
  const neverBelowMg = rule === "eu" ? nominalMg - 2 * error : undefined;
  const leastMg = neverBelowMg ?? shortBelowMg;
  const notForSale = contentsMg.flatMap((mg, at) => (mg < leastMg ? [at] : []));
  const holdsOnAverage = meanMg >= meanLeastMg - SLACK_MG;
  const shortMost = isWhole && rule === "eu" ? shortMostOfAll(batchJars) : sampling.shortMost;
  const holds = holdsOnAverage && short <= shortMost && notForSale.length === 0;
  return {
    verdict: holds ? "holds" : "falls-short",
    ...{ weighed, meanMg, meanLeastMg, shortBelowMg, short, shortMost },
    ...(neverBelowMg === undefined ? {} : { neverBelowMg }),
    notForSale,
  };
}

/** Of jars that were all weighed, at most 2.5 % may lie below T1 (common reading of Annex I 1.2, from memory). */
function shortMostOfAll(jars: number): number {
  return Math.floor(jars / 40);
}

/**
 * Directive 76/211/EEC, Annex II. Under 100 jars every one is weighed. Above: the second, larger samples of the
 * double plan with their acceptance numbers (2.2, from memory), and the mean against t(0.995) (2.3.1, text read).
 */
function samplingEu(batchJars: number): Sampling {
  if (batchJars < 100) {
    return { weigh: batchJars, factor: 0, shortMost: shortMostOfAll(batchJars) };
  }
  if (batchJars <= 500) return { weigh: 60, factor: 2.662 / Math.sqrt(60), shortMost: 4 };
  if (batchJars <= 3200) return { weigh: 100, factor: 2.626 / Math.sqrt(100), shortMost: 6 };
  return { weigh: 160, factor: 2.607 / Math.sqrt(160), shortMost: 8 };
}

/** Handbook 133, Table 2-1, category A (from memory); factors are t(0.975) over the root of the sample's size. */
function samplingUs(batchJars: number): Sampling {
  if (batchJars < 12) return { weigh: batchJars, factor: 0, shortMost: 0 };
  if (batchJars <= 250) return { weigh: 12, factor: 0.635, shortMost: 0 };
  if (batchJars <= 3200) return { weigh: 24, factor: 0.422, shortMost: 0 };
  return { weigh: 48, factor: 0.29, shortMost: 1 };
}

function deviation(values: readonly number[], mean: number): number {
  if (values.length < 2) return 0;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1));
}
